//! Every cell of every sampling table, held against the published ones.

use crate::published::rows;
use runproof_quality::sampling::{Aql, CodeLetter, Inspection, Level, NoInspection, Severity};

/// As much of a lot as brings a letter at level II, or III.
fn lot_of(letter: &str) -> (u32, Level) {
    let lots = [2, 9, 16, 26, 51, 91, 151, 281, 501, 1201, 3201, 10_001, 35_001, 150_001, 500_001];
    for level in [Level::II, Level::III] {
        for lot_size in lots {
            if CodeLetter::of(lot_size, level).unwrap().to_string() == letter {
                return (lot_size, level);
            }
        }
    }
    panic!("no lot has the letter {letter}");
}

#[test]
fn table_i_has_every_published_letter_at_both_ends_of_each_row() {
    let mut compared = 0;
    for row in rows("code_letters.csv") {
        let least: u32 = row[0].parse().unwrap();
        let most = row[1].parse().unwrap_or(u32::MAX);
        for (level, letter) in Level::ALL.into_iter().zip(&row[2..]) {
            for lot_size in [least, most, least + (most - least) / 2] {
                let found = CodeLetter::of(lot_size, level).unwrap();
                assert_eq!(&found.to_string(), letter, "{lot_size} at {level}");
                compared += 1;
            }
        }
    }
    assert_eq!(compared, 15 * 7 * 3);
}

#[test]
fn tables_ii_have_every_published_cell() {
    for (name, severity) in [
        ("normal.csv", Severity::Normal),
        ("tightened.csv", Severity::Tightened),
        ("reduced.csv", Severity::Reduced),
    ] {
        let rows = rows(name);
        assert_eq!(rows.len(), 16 * 26);
        for row in rows {
            let number = |column: usize| row[column].parse::<u32>().unwrap();
            let (lot_size, level) = lot_of(&row[0]);
            let aql = Aql::from_percent(row[2].parse().unwrap()).unwrap();
            let found = Inspection::of(lot_size, level, aql, severity).unwrap();
            let plan = found.plan;
            assert_eq!(found.letter_of_lot.to_string(), row[0]);
            assert_eq!(
                (plan.sample_size(), plan.acceptance_number(), plan.rejection_number()),
                (number(4), number(5), number(6)),
                "{name} {row:?}"
            );
            let arrow = match row[3].as_str() {
                "plan" => {
                    found.letter_used == found.letter_of_lot && plan.sample_size() == number(1)
                }
                "down" => found.letter_used > found.letter_of_lot,
                "up" => found.letter_used < found.letter_of_lot,
                other => panic!("{other} is no cell"),
            };
            assert!(arrow, "{name} {row:?}");
        }
    }
}

#[test]
fn levels_are_read_as_they_are_written() {
    for level in Level::ALL {
        assert_eq!(level.to_string().parse(), Ok(level));
        assert_eq!(level.to_string().to_lowercase().parse(), Ok(level));
    }
    assert_eq!("IV".parse::<Level>(), Err(NoInspection::NoLevel));
    assert_eq!("".parse::<Level>(), Err(NoInspection::NoLevel));
}
