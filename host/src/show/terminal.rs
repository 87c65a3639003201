//! A result on a terminal: verdict first, then what was measured, what was found, what to do.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::Verdict;

use super::described::{Described, Row, Table};
use super::words;

pub(crate) fn text(told: &Described) -> String {
    let mut lines = headed(told.verdict, &told.reason);
    rows(&mut lines, &told.alarms);
    lines.push(String::new());
    lines.extend(table(&told.table));
    lines.push(String::new());
    rows(&mut lines, &told.rows);
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

/// The verdict and its reason.
pub(super) fn headline(judgement: &Judgement) -> Vec<String> {
    headed(judgement.verdict, &words::headline(judgement))
}

fn headed(verdict: Verdict, reason: &str) -> Vec<String> {
    let mut lines = vec![];
    broken(&mut lines, format!("{}:", words::verdict(verdict)), 2, reason);
    lines
}

fn rows(lines: &mut Vec<String>, rows: &[Row]) {
    rows.iter().for_each(|row| paragraph(lines, row.label, &row.text));
}

/// Its columns beside each other.
pub(super) fn table(table: &Table) -> Vec<String> {
    let row = |cells: Vec<&str>| {
        let padded = cells.iter().zip(table.columns).map(|(cell, column)| {
            let width = column.width;
            format!("{cell:<width$}")
        });
        format!("  {}", padded.collect::<String>().trim_end())
    };
    let headings = table.columns.iter().map(|column| column.heading).collect();
    let mut lines = vec![row(headings)];
    lines.extend(table.rows.iter().map(|cells| row(cells.iter().map(String::as_str).collect())));
    if let Some(below) = &table.below {
        lines.push(String::new());
        paragraph(&mut lines, below.label, &below.text);
    }
    lines
}

/// A labelled paragraph, broken to fit 80 columns.
pub(crate) fn paragraph(lines: &mut Vec<String>, label: &str, text: &str) {
    indented(lines, 17, label, text);
}

/// A labelled paragraph whose text begins at this column.
pub(crate) fn indented(lines: &mut Vec<String>, indent: usize, label: &str, text: &str) {
    let label = if label.is_empty() { String::new() } else { format!("  {label}") };
    broken(lines, format!("{label:<indent$}"), indent, text);
}

/// The words of a text, a number and its unit as one.
pub(super) fn unbroken(text: &str) -> Vec<String> {
    const UNITS: [&str; 13] =
        ["%", "Ω", "kΩ", "MΩ", "ft", "m", "V", "AWG", "mm²", "°C", "°F", "Hz", "s"];
    let is_unit = |word: &str| UNITS.contains(&word.trim_end_matches(['.', ',', ';', ':', ')']));
    let mut words: Vec<String> = vec![];
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(number) if is_unit(word) && number.ends_with(char::is_numeric) => {
                *number += &format!(" {word}");
            }
            _ => words.push(word.into()),
        }
    }
    words
}

/// A text behind what its first line begins with, broken to fit; the other lines begin at a column.
pub(super) fn broken(lines: &mut Vec<String>, first: String, indent: usize, text: &str) {
    const WIDTH: usize = 80;
    let mut line = first;
    let mut is_empty = line.chars().count() == indent;
    for word in unbroken(text) {
        if !is_empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
            lines.push(std::mem::replace(&mut line, " ".repeat(indent)));
            is_empty = true;
        }
        if !is_empty {
            line.push(' ');
        }
        line.push_str(&word);
        is_empty = false;
    }
    lines.push(line);
}

/// A labelled paragraph alone.
pub(crate) fn remark(label: &str, text: &str) -> String {
    let mut lines = vec![];
    paragraph(&mut lines, label, text);
    words::printable(&format!("{}\n", lines.join("\n")))
}

/// What went wrong and what to do, each behind its label; a text that has lines of its own keeps them.
pub(crate) fn complaint(told: &[(&str, &str)]) -> String {
    let mut lines = vec![];
    for (label, text) in told {
        match text.contains('\n') {
            true => lines.push(format!("{label}{text}")),
            false => broken(&mut lines, (*label).to_owned(), label.len(), text),
        }
    }
    lines.join("\n")
}

#[test]
fn a_number_keeps_its_unit() {
    let mut lines = vec![];
    let text = "so many words that the number at the end of this line is 100 ft) and more.";
    indented(&mut lines, 10, "label", text);
    assert_eq!(
        lines,
        [
            "  label   so many words that the number at the end of this line is 100 ft) and",
            "          more."
        ]
    );
    lines.clear();
    indented(&mut lines, 19, "label", text);
    assert_eq!(lines[1], "                   100 ft) and more.", "{lines:?}");
}
