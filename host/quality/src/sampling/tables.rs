//! The master tables as they are printed, read and proved when this is compiled.

mod normal;
mod reduced;
mod tightened;

use super::{Aql, CodeLetter, Plan, Severity};

/// What is printed for a letter and an AQL.
#[derive(Clone, Copy)]
enum Cell {
    /// Use the first plan below.
    Below,
    /// Use the first plan above.
    Above,
    Numbers {
        acceptance: u32,
        rejection: u32,
    },
}

#[derive(Clone, Copy)]
struct Row {
    sample_size: u32,
    cells: [Cell; Aql::COUNT],
}

/// A row for each letter.
struct Table<const LETTERS: usize>([Row; LETTERS]);

/// The plan for `letter` and `aql`, and the letter that it stands beside: an arrow leads to another letter,
/// and to that letter's sample size.
pub(super) fn plan(severity: Severity, letter: CodeLetter, aql: Aql) -> (CodeLetter, Plan) {
    let rows = rows(severity);
    let (row, acceptance, rejection) = follow(rows, letter.index(), aql.index());
    (CodeLetter::at(row), Plan::of_table(rows[row].sample_size, acceptance, rejection))
}

fn rows(severity: Severity) -> &'static [Row] {
    match severity {
        Severity::Normal => &normal::NORMAL.0,
        Severity::Tightened => &tightened::TIGHTENED.0,
        Severity::Reduced => &reduced::REDUCED.0,
    }
}

/// Follows the arrows of a column from `row` on: the row that they end in, and its two numbers.
const fn follow(rows: &[Row], mut row: usize, column: usize) -> (usize, u32, u32) {
    loop {
        match rows[row].cells[column] {
            Cell::Below => row += 1,
            Cell::Above => row -= 1,
            Cell::Numbers { acceptance, rejection } => return (row, acceptance, rejection),
        }
    }
}

/// Reads a table. What is no table, or has an arrow that leads out of it or in a circle, does not compile.
const fn printed<const LETTERS: usize>(text: &str) -> Table<LETTERS> {
    const NOTHING: Row = Row { sample_size: 0, cells: [Cell::Below; Aql::COUNT] };
    let bytes = text.as_bytes();
    let mut rows = [NOTHING; LETTERS];
    let mut at = 0;
    let mut row = 0;
    while row < LETTERS {
        assert!(bytes[at] == CodeLetter::at(row).letter() as u8, "the letters in their order");
        (rows[row].sample_size, at) = number(bytes, spaces(bytes, at + 1));
        let mut column = 0;
        while column < Aql::COUNT {
            (rows[row].cells[column], at) = cell(bytes, spaces(bytes, at));
            column += 1;
        }
        assert!(bytes[at] == b'\n', "as many columns as there are AQLs");
        at += 1;
        row += 1;
    }
    assert!(at == bytes.len(), "as many rows as there are letters");
    let mut start = 0;
    while start < LETTERS * Aql::COUNT {
        // Leaves the array, or goes on for ever, where an arrow has no end.
        follow(&rows, start / Aql::COUNT, start % Aql::COUNT);
        start += 1;
    }
    Table(rows)
}

const fn cell(bytes: &[u8], at: usize) -> (Cell, usize) {
    match bytes[at] {
        b'v' => (Cell::Below, at + 1),
        b'^' => (Cell::Above, at + 1),
        _ => {
            let (acceptance, mut at) = number(bytes, at);
            let mut rejection = acceptance + 1;
            if bytes[at] == b'/' {
                (rejection, at) = number(bytes, at + 1);
            }
            (Cell::Numbers { acceptance, rejection }, at)
        }
    }
}

const fn number(bytes: &[u8], mut at: usize) -> (u32, usize) {
    assert!(bytes[at].is_ascii_digit(), "a number");
    let mut number = 0;
    while bytes[at].is_ascii_digit() {
        number = 10 * number + (bytes[at] - b'0') as u32;
        at += 1;
    }
    (number, at)
}

const fn spaces(bytes: &[u8], mut at: usize) -> usize {
    while bytes[at] == b' ' {
        at += 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(severity: Severity) -> impl Iterator<Item = (CodeLetter, Aql, CodeLetter, Plan)> {
        CodeLetter::ALL.into_iter().flat_map(move |letter| {
            Aql::all().map(move |aql| {
                let (used, plan) = plan(severity, letter, aql);
                (letter, aql, used, plan)
            })
        })
    }

    /// A row is the row above, one column to the left: what makes it a table of the product of both.
    #[test]
    fn from_f_to_q_each_row_is_the_one_above_shifted_by_one_column() {
        for severity in [Severity::Normal, Severity::Tightened, Severity::Reduced] {
            let rows = rows(severity);
            for row in 6..15 {
                for column in 0..Aql::COUNT - 1 {
                    let [here, above] =
                        [(row, column), (row - 1, column + 1)].map(|(row, column)| {
                            match rows[row].cells[column] {
                                Cell::Below => (-1, 0),
                                Cell::Above => (-2, 0),
                                Cell::Numbers { acceptance, rejection } => {
                                    (i64::from(acceptance), i64::from(rejection))
                                }
                            }
                        });
                    assert_eq!(here, above, "{severity:?}, row {row}, column {column}");
                }
            }
        }
    }

    #[test]
    fn with_the_letter_samples_grow_and_accept_no_less() {
        for severity in [Severity::Normal, Severity::Tightened, Severity::Reduced] {
            for aql in Aql::all() {
                let plans = CodeLetter::ALL.map(|letter| plan(severity, letter, aql).1);
                for pair in plans.windows(2) {
                    assert!(pair[0].sample_size() <= pair[1].sample_size(), "{severity:?} {aql:?}");
                }
            }
        }
    }

    #[test]
    fn only_reduced_inspection_has_a_gap() {
        for severity in [Severity::Normal, Severity::Tightened] {
            for (letter, aql, _, plan) in cells(severity) {
                let gap = plan.rejection_number() - plan.acceptance_number();
                assert_eq!(gap, 1, "{severity:?} {letter:?} {aql:?}");
            }
        }
        assert!(
            cells(Severity::Reduced)
                .any(|(.., plan)| { plan.rejection_number() - plan.acceptance_number() > 1 })
        );
    }

    #[test]
    fn tightened_inspection_accepts_no_more_and_reduced_tests_no_more_than_normal() {
        for (letter, aql, used, normal) in cells(Severity::Normal) {
            let (tightened_used, tightened) = plan(Severity::Tightened, letter, aql);
            if used == tightened_used {
                assert!(
                    tightened.acceptance_number() <= normal.acceptance_number(),
                    "{letter:?} {aql:?}"
                );
            }
            let (_, reduced) = plan(Severity::Reduced, letter, aql);
            assert!(reduced.sample_size() <= normal.sample_size(), "{letter:?} {aql:?}");
        }
    }
}
