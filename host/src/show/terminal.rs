//! A result on a terminal: verdict first, then the conductors, what was found, what to do.

use runproof_interpret::judgement::{Conductor, Loop};
use runproof_interpret::{Capture, Judgement, RunKnowledge};

use super::{to_earth, words};
use crate::arguments::Units;

/// Columns of the conductors' table; the last takes what is left.
const HEADINGS: [&str; 6] = ["conductor", "post", "arrives at", "resistance", "limit", "verdict"];
const WIDTHS: [usize; 6] = [11, 5, 11, 16, 10, 0];

pub(crate) fn result(
    capture: &Capture,
    judgement: &Judgement,
    known: &RunKnowledge,
    units: Units,
) -> String {
    let jig = &capture.head.jig;
    let mut lines = headline(judgement);
    for danger in judgement.findings.iter().filter_map(words::danger) {
        paragraph(&mut lines, "DANGER", danger);
    }
    for caution in judgement.findings.iter().filter_map(words::caution) {
        paragraph(&mut lines, "CAUTION", caution);
    }
    lines.push(String::new());
    match &judgement.to_earth {
        Some(told) => lines.extend(to_earth::rows(told, judgement)),
        None => lines.extend(table(judgement)),
    }
    lines.push(String::new());
    for finding in &judgement.findings {
        paragraph(&mut lines, "found", &words::finding(finding, judgement, units));
    }
    if let Some(reason) = super::broken_off(capture) {
        paragraph(&mut lines, "broken off", &format!("{reason}."));
    }
    paragraph(&mut lines, "next", words::next_step(judgement));
    if let Some(told) = words::isolation(&judgement.isolation, judgement) {
        paragraph(&mut lines, "isolation", &told);
    }
    if let Some(copper) = &judgement.copper {
        paragraph(&mut lines, "copper", &words::copper(copper, judgement, units));
        if let Some(told) = words::unbalance(copper, judgement) {
            paragraph(&mut lines, "data pair", &told);
        }
    }
    if let Some(told) = words::other_end(judgement, known) {
        paragraph(&mut lines, "other end", told);
    }
    if let Some(told) = words::landing(judgement, &known.landed) {
        paragraph(&mut lines, "landed", told);
    }
    if let Some(missed) = words::misses(judgement) {
        paragraph(&mut lines, "could miss", &missed);
    }
    paragraph(&mut lines, "not tested", &words::not_tested(&judgement.not_tested));
    paragraph(&mut lines, "read aloud", &super::read_aloud::code(capture, judgement));
    paragraph(&mut lines, "measured", &words::made(&judgement.sheet, jig));
    if let Some(zero) = words::zero(judgement, units) {
        paragraph(&mut lines, "zero", &zero);
    }
    if let Some(told) = words::told(known, judgement.calculated.as_ref(), units) {
        paragraph(&mut lines, "told", &told);
    }
    if known.lifted {
        paragraph(&mut lines, "told", words::LIFTED);
    }
    for (label, wires) in words::landing_again(judgement, &known.landed) {
        paragraph(&mut lines, label, &wires);
    }
    paragraph(&mut lines, "caution", words::CAUTION);
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

fn table(judgement: &Judgement) -> impl Iterator<Item = String> {
    let conductors = judgement.conductors.iter().map(|one| cells(one, judgement));
    let loops = judgement.loops.iter().map(|one| loop_cells(one, judgement));
    [HEADINGS.map(str::to_owned)].into_iter().chain(conductors).chain(loops).map(|one| row(&one))
}

/// The verdict and its reason.
pub(super) fn headline(judgement: &Judgement) -> Vec<String> {
    let verdict = format!("{}:", words::verdict(judgement.verdict));
    let mut lines = vec![];
    broken(&mut lines, verdict, 2, &words::headline(judgement));
    lines
}

fn cells(conductor: &Conductor, judgement: &Judgement) -> [String; 6] {
    [
        words::conductor(conductor.name).into(),
        conductor.post.to_string(),
        words::arrival(conductor, judgement).into(),
        words::resistance(conductor.resistance_ohm, conductor.expanded_uncertainty_ohm),
        conductor.limit_ohm.map_or("unknown".into(), words::at_most_ohm),
        format!("{}: {}", words::verdict(conductor.verdict), words::reason(conductor.reason)),
    ]
}

fn loop_cells(one: &Loop, judgement: &Judgement) -> [String; 6] {
    [
        words::loop_name(one, judgement).into(),
        format!("{}+{}", one.posts[0], one.posts[1]),
        String::new(),
        words::resistance(one.resistance_ohm, one.expanded_uncertainty_ohm),
        words::at_most_ohm(one.limit_ohm),
        format!("{}: {}", words::verdict(one.verdict), words::reason(one.reason)),
    ]
}

fn row(cells: &[String; 6]) -> String {
    let padded = cells.iter().zip(WIDTHS).map(|(cell, width)| format!("{cell:<width$}"));
    format!("  {}", padded.collect::<String>().trim_end())
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
fn unbroken(text: &str) -> Vec<String> {
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
