//! A powered run where the jig is clipped on: what stands on each conductor.

use runproof_interpret::judgement::{LiveFindingKind, LiveJudgement, Verdict};
use runproof_protocol::Post;

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
        let verdict = verdict(one.post, one.verdict, judgement);
        drawing.parts.push(Part::End { row, is_far: false, lines, verdict: Some(verdict) });
        drawing.parts.push(Part::Line { from: row, to: Some(row), until: FAR, verdict });
        // As the table has it: the reading of the row that bears its name.
        let is_its = |cells: &Vec<String>| cells.first().is_some_and(|cell| cell == name);
        let its = table.rows.iter().position(is_its);
        let reading = |at: Option<usize>| Some(table.rows.get(at?)?.get(1)?.as_str());
        if let Some(mean) = reading(its) {
            // What alternates stands in the row below; there is room for one, the worse.
            let is_worse = |mean: Verdict, other: Verdict| mean.and(other) != mean;
            let both = one.direct.zip(one.alternating);
            let alternates = both.filter(|(mean, other)| is_worse(mean.verdict, other.verdict));
            let alternating = alternates.and_then(|_| reading(its.map(|row| row + 1)));
            let text = match alternating {
                Some(alternating) => words::picture::alternates(alternating),
                None => mean.to_owned(),
            };
            drawing.parts.push(Part::Says { row, at: x(0.02), text });
        }
    }
    let pair =
        table.rows.iter().find(|cells| cells.first().is_some_and(|cell| cell == "data pair"));
    let told = pair.and_then(|cells| cells.get(1)).zip(judgement.pair.as_ref());
    if let (Some((reading, pair)), true) = (told, drawing.rows >= 2) {
        let verdict = words::verdict(pair.verdict);
        let says = format!("{} {reading}: {verdict}", words::picture::BETWEEN_THEM);
        let as_a = Tie::Reading(pair.verdict);
        drawing.parts.push(Part::Join { rows: vec![0, 1], at: x(0.28), says, as_a });
    }
    for hazard in judgement.findings.iter().filter(|one| one.kind == LiveFindingKind::Hazard) {
        let row_of = |post: &Post| judgement.conductors.iter().position(|one| one.post == *post);
        let rows: Vec<usize> = hazard.posts.iter().filter_map(row_of).collect();
        let says = words::picture::HAZARD.to_owned();
        if rows.len() == 2 {
            drawing.parts.push(Part::Join { rows, at: x(0.86), says, as_a: Tie::Short });
        }
    }
    drawing
}

/// Where there may be more than extra-low voltage nothing is drawn as if it were right.
fn verdict(post: Post, alone: Verdict, judgement: &LiveJudgement) -> Verdict {
    let dangers = [LiveFindingKind::Hazard, LiveFindingKind::AllMoveTogether];
    let dangers = judgement.findings.iter().filter(|one| dangers.contains(&one.kind));
    let posts: Vec<&[Post]> = dangers.map(|one| one.posts.as_slice()).collect();
    match alone {
        _ if posts.iter().any(|posts| posts.contains(&post)) => Verdict::Fail,
        Verdict::Pass if !posts.is_empty() => Verdict::CannotTell,
        alone => alone,
    }
}
