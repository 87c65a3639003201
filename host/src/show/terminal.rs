//! A result on a terminal: verdict first, then the conductors, what was found, what to do.

use runproof_interpret::judgement::{Conductor, Loop};
use runproof_interpret::{Capture, Judgement, RunKnowledge};

use super::{to_earth, words};
use crate::arguments::Units;

/// Columns of the conductors' table; the last takes what is left.
const HEADINGS: [&str; 6] = ["conductor", "post", "arrives at", "resistance", "limit", "verdict"];
const WIDTHS: [usize; 6] = [11, 5, 11, 17, 11, 0];

pub(crate) fn result(
    capture: &Capture,
    judgement: &Judgement,
    known: &RunKnowledge,
    units: Units,
) -> String {
    let jig = &capture.head.jig;
    let mut lines =
        vec![format!("{}: {}", words::verdict(judgement.verdict), words::headline(judgement))];
    for danger in judgement.findings.iter().filter_map(words::danger) {
        paragraph(&mut lines, "DANGER", danger);
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
    if let Some(told) = words::landing(judgement) {
        paragraph(&mut lines, "landed", told);
    }
    if let Some(missed) = words::misses(judgement) {
        paragraph(&mut lines, "could miss", &missed);
    }
    paragraph(&mut lines, "not tested", &words::not_tested(&judgement.not_tested));
    let made = format!(
        "limits {} {}; jig {} ({}, firmware {}); ± is 95 % (k = {})",
        judgement.sheet.name,
        judgement.sheet.version,
        words::or_unnamed(&jig.serial),
        words::or_unnamed(&jig.board),
        words::or_unnamed(&jig.firmware),
        judgement.coverage_factor
    );
    paragraph(&mut lines, "measured", &made);
    if let Some(told) = words::told(known, judgement.calculated.as_ref(), units) {
        paragraph(&mut lines, "told", &told);
    }
    for (label, wires) in words::landing_again(judgement, &known.landed) {
        paragraph(&mut lines, label, &wires);
    }
    paragraph(&mut lines, "caution", words::CAUTION);
    lines.push(String::new());
    // What comes from a capture must not steer the terminal.
    lines.join("\n").replace(|c: char| c.is_control() && c != '\n', "?")
}

fn table(judgement: &Judgement) -> impl Iterator<Item = String> {
    let conductors = judgement.conductors.iter().map(|one| cells(one, judgement));
    let loops = judgement.loops.iter().map(|one| loop_cells(one, judgement));
    [HEADINGS.map(str::to_owned)].into_iter().chain(conductors).chain(loops).map(|one| row(&one))
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
    const WIDTH: usize = 80;
    let mut line = format!("  {label:<width$}", width = indent - 2);
    let mut is_empty = true;
    for word in text.split_whitespace() {
        if !is_empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
            lines.push(std::mem::replace(&mut line, " ".repeat(indent)));
            is_empty = true;
        }
        if !is_empty {
            line.push(' ');
        }
        line.push_str(word);
        is_empty = false;
    }
    lines.push(line);
}
