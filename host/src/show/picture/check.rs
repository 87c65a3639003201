//! A run from end to end, drawn as it was found.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{
    Conductor, Finding, FindingKind, Location, Reason, ReelJudgement, Verdict,
};
use runproof_protocol::Post;

use super::drawing::{Drawing, FAR, Part, Tie, x};
use crate::show::words;

/// Where what joins conductors is drawn, if nobody knows where it is; and how far apart several are.
const SOMEWHERE: f64 = 0.52;
const APART: f64 = 0.16;
/// So much of a line is missing where it is cut.
const GAP: f64 = 12.0;

/// A reel's cores, each with its own verdict.
pub(super) fn of_reel(reel: &ReelJudgement) -> Drawing {
    let mut run = reel.run.clone();
    for (one, core) in run.conductors.iter_mut().zip(&reel.conductors) {
        one.verdict = core.verdict;
    }
    Drawing { near: "outer end", far: "inner end", ..drawn(&run) }
}

pub(super) fn drawn(judgement: &Judgement) -> Drawing {
    let mut drawing = Drawing {
        rows: judgement.conductors.len(),
        near: "at the clips",
        far: "far end",
        about: "Conductors from the jig's clips to the far end.".into(),
        parts: vec![],
    };
    if judgement.conductors.is_empty() {
        two_wires(&mut drawing, judgement);
        return drawing;
    }
    for (row, one) in judgement.conductors.iter().enumerate() {
        conductor(&mut drawing.parts, row, one, judgement);
    }
    joins(&mut drawing.parts, judgement);
    drawing
}

fn conductor(parts: &mut Vec<Part>, row: usize, one: &Conductor, judgement: &Judgement) {
    let name = words::conductor(one.name);
    let post = format!("post {}", one.post);
    let verdict = Some(one.verdict);
    parts.push(Part::End { row, is_far: false, lines: [name.into(), post], verdict });
    parts.push(Part::End { row, is_far: true, lines: [name.into(), String::new()], verdict: None });
    let to = one.reaches.and_then(|terminal| {
        judgement.conductors.iter().position(|other| other.terminal == terminal)
    });
    let open = judgement
        .findings
        .iter()
        .find(|finding| finding.kind == FindingKind::Open && finding.posts.contains(&one.post));
    if let Some(open) = open.filter(|_| one.reason == Reason::Open) {
        cut(parts, row, open);
    } else {
        let until = if to.is_some() { FAR } else { x(SOMEWHERE) };
        parts.push(Part::Line { from: row, to, until, verdict: one.verdict });
        if to.is_none() {
            parts.push(Part::Ends { row, at: until, text: words::picture::NOT_KNOWN.into() });
        }
    }
    if judgement.findings.iter().any(|finding| is_joint(finding, one.post)) {
        parts.push(Part::Resistor { row, says: words::picture::TOO_MUCH });
    }
    if let Some(ohm) = one.resistance_ohm {
        let text = words::resistance(Some(ohm), one.expanded_uncertainty_ohm);
        parts.push(Part::Says { row, at: x(0.02), text });
    }
}

/// It has too much resistance: of all there is to say of it, only the place is not known.
fn is_joint(finding: &Finding, post: Post) -> bool {
    let kinds = [
        FindingKind::HighResistance,
        FindingKind::SiblingDifference,
        FindingKind::UnevenResistance,
    ];
    kinds.contains(&finding.kind) && finding.posts.contains(&post)
}

fn cut(parts: &mut Vec<Part>, row: usize, open: &Finding) {
    let at = open.location.map_or(x(SOMEWHERE), |place| x(place.fraction.value));
    let at = at.clamp(x(0.0) + GAP, FAR - GAP);
    parts.push(Part::Line { from: row, to: None, until: at - GAP, verdict: Verdict::Fail });
    parts.push(Part::Stub { row, from: at + GAP });
    let says = words::picture::open(open.location).to_owned();
    parts.push(Part::Cut { row, at, says });
    parts.extend(open.location.map(|place| between(row, &place)));
}

fn between(row: usize, place: &Location) -> Part {
    Part::Between { row, least: x(place.fraction.least), most: x(place.fraction.most) }
}

/// What is between conductors.
fn joins(parts: &mut Vec<Part>, judgement: &Judgement) {
    let row_of = |post: &Post| judgement.conductors.iter().position(|one| one.post == *post);
    let mut unknown = 0.0;
    for finding in &judgement.findings {
        let Some(says) = words::picture::join(finding) else { continue };
        let rows: Vec<usize> = finding.posts.iter().filter_map(row_of).collect();
        if rows.len() < 2 {
            continue;
        }
        let at = match finding.location {
            Some(place) => {
                parts.extend(rows.iter().map(|row| between(*row, &place)));
                x(place.fraction.value)
            }
            None => {
                unknown += 1.0;
                x(SOMEWHERE + APART * (unknown - 1.0))
            }
        };
        let as_a = if finding.kind == FindingKind::Short { Tie::Short } else { Tie::Path };
        parts.push(Part::Join { rows, at, says, as_a });
    }
}

/// Nothing tells them apart: what was measured is their loop.
fn two_wires(drawing: &mut Drawing, judgement: &Judgement) {
    drawing.rows = 2;
    drawing.about = "Two wires, measured as a loop.".into();
    let verdict = judgement.verdict;
    for (row, post) in judgement.loops.iter().flat_map(|one| one.posts).take(2).enumerate() {
        let lines = [format!("wire {}", row + 1), format!("post {post}")];
        drawing.parts.push(Part::End { row, is_far: false, lines, verdict: None });
        let lines = [words::picture::EITHER.to_owned(), String::new()];
        drawing.parts.push(Part::End { row, is_far: true, lines, verdict: None });
        drawing.parts.push(Part::Line { from: row, to: Some(row), until: FAR, verdict });
    }
    for one in judgement.loops.iter().take(1) {
        let ohm = words::resistance(one.resistance_ohm, one.expanded_uncertainty_ohm);
        let text = format!("{}: {ohm}", words::loop_name(one, judgement));
        drawing.parts.push(Part::Says { row: 0, at: x(0.02), text });
    }
}
