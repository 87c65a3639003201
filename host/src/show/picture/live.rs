//! A powered run where the jig is clipped on: what stands on each conductor.

use runproof_interpret::judgement::LiveJudgement;

use super::drawing::{Drawing, FAR, Part, Tie, x};
use crate::show::described::Table;
use crate::show::words;

pub(super) fn drawn(judgement: &LiveJudgement, table: &Table) -> Drawing {
    let mut drawing = Drawing {
        rows: judgement.conductors.len(),
        near: judgement.at.map_or("at the clips", words::live::place),
        far: words::picture::GOES_ON,
        about: "Conductors of a run that may be powered, and what was read on each.".into(),
        parts: vec![],
    };
    for (row, one) in judgement.conductors.iter().enumerate() {
        let name = words::conductor(one.name);
        let lines = [name.into(), format!("post {}", one.post)];
        drawing.parts.push(Part::End { row, is_far: false, lines, verdict: Some(one.verdict) });
        drawing.parts.push(Part::Line {
            from: row,
            to: Some(row),
            until: FAR,
            verdict: one.verdict,
        });
        // As the table has it: the reading of the row that bears its name.
        let told = table.rows.iter().find(|cells| cells.first().is_some_and(|cell| cell == name));
        if let Some(reading) = told.and_then(|cells| cells.get(1)) {
            drawing.parts.push(Part::Says { row, at: x(0.02), text: reading.clone() });
        }
    }
    let pair =
        table.rows.iter().find(|cells| cells.first().is_some_and(|cell| cell == "data pair"));
    let told = pair.and_then(|cells| cells.get(1)).zip(judgement.pair.as_ref());
    if let (Some((reading, pair)), true) = (told, drawing.rows >= 2) {
        let verdict = words::verdict(pair.verdict);
        let says = format!("{} {reading}: {verdict}", words::picture::BETWEEN_THEM);
        let as_a = Tie::Reading(pair.verdict);
        drawing.parts.push(Part::Join { rows: vec![0, 1], at: x(0.4), says, as_a });
    }
    drawing
}
