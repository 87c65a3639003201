//! A run that is watched while it is flexed: as it happens, and what came of it.

pub(crate) mod face;
pub(crate) mod json;
mod lanes;
pub(crate) mod lines;
#[cfg(feature = "screen")]
pub(crate) mod screen;
pub(crate) mod sounding;
mod table;

use runproof_interpret::judgement::{FindingKind, FlexJudgement, Judgement, Severity, Verdict};
use runproof_interpret::{Capture, LimitSheet};
use runproof_records::Kept;

pub(crate) use self::lanes::merged;
use super::described::{Described, Row};
#[cfg(not(feature = "screen"))]
pub(crate) use super::words::flex::NO_SCREEN;
pub(crate) use super::words::flex::{FOUND_AGAIN, HOW_TO_END, LOST, Names, left_over};
use super::{records, words};
use crate::arguments::Units;

/// What came of a watch, and how the run was before it.
pub(crate) struct Seen {
    pub(crate) judgement: FlexJudgement,
    /// By the plug phase before it; none with the plug out.
    pub(crate) before: Option<Judgement>,
    /// By which lanes are called.
    pub(crate) sheet: LimitSheet,
}

impl Seen {
    pub(crate) fn names(&self) -> Names {
        Names::of(&self.sheet)
    }
}

pub(crate) fn described(
    capture: &Capture,
    seen: &Seen,
    units: Units,
    kept: Option<&Kept>,
) -> Described {
    let names = seen.names();
    let lanes = lanes::of_all(&seen.judgement.watches);
    let before = seen.before.iter().flat_map(|before| &before.findings);
    let came = super::broken_off_by_hazard(capture).then_some(words::flex::HAZARD);
    let dangers = before.filter_map(words::danger).chain(came);
    Described {
        verdict: seen.judgement.verdict,
        reason: reason(seen),
        alarms: dangers.map(|danger| Row::new("DANGER", danger)).collect(),
        table: table::table(&lanes, &names),
        rows: rows(capture, seen, &lanes, &names, (units, kept)),
    }
}

fn rows(
    capture: &Capture,
    seen: &Seen,
    lanes: &[runproof_interpret::flex::FlexLane],
    names: &Names,
    (units, kept): (Units, Option<&Kept>),
) -> Vec<Row> {
    let judgement = &seen.judgement;
    let mut rows = vec![];
    let mut tell = |label, text: String| rows.push(Row::new(label, text));
    for finding in words::flex::found(judgement) {
        tell("found", words::flex::finding(finding, names));
    }
    if let Some(reason) = super::broken_off(capture) {
        tell("broken off", format!("{reason}. What was seen until then is told."));
    }
    for told in seen.before.iter().flat_map(|before| at_rest(before, units)) {
        tell("at rest", told);
    }
    tell("next", words::flex::next_step(judgement));
    for told in judgement.watches.iter().flat_map(|watch| words::flex::marks(watch, names)) {
        tell("mark", told);
    }
    let notes = words::flex::notes(judgement, lanes, names);
    for (label, told) in notes.into_iter().filter(|_| !judgement.watches.is_empty()) {
        tell(label, told);
    }
    let sheet = runproof_interpret::judgement::SheetName {
        name: seen.sheet.name.clone(),
        version: seen.sheet.version.clone(),
    };
    tell("measured", words::made(&sheet, &capture.head.jig));
    if let Some(kept) = kept {
        tell("record", records::kept(kept));
    }
    tell("caution", words::flex::CAUTION.into());
    rows
}

/// What was wrong with it before it was flexed, by one short phase.
fn at_rest(before: &Judgement, units: Units) -> Vec<String> {
    let is_told = |kind| !matches!(kind, FindingKind::Incomplete | FindingKind::LimitUnknown);
    let grave = before.findings.iter().filter(|one| one.severity != Severity::Note);
    grave.filter(|one| is_told(one.kind)).map(|one| words::finding(one, before, units)).collect()
}

/// The verdict's reason, in a sentence.
pub(crate) fn reason(seen: &Seen) -> String {
    let was_watched = !seen.judgement.watches.is_empty();
    match seen.before.as_ref().filter(|_| !was_watched) {
        Some(before) => words::flex::not_watched(&words::headline(before)),
        None => words::flex::headline(&seen.judgement, &seen.names()),
    }
}

/// Why a run is not flexed at all: how it is at rest.
pub(crate) fn why_not(before: &Judgement) -> Option<FindingKind> {
    use FindingKind::{AllMoveTogether, Hazard, NoEndPlug};
    let stops = [Hazard, AllMoveTogether, NoEndPlug];
    let is_so = before.verdict != Verdict::Pass;
    before.findings.iter().map(|one| one.kind).find(|kind| is_so && stops.contains(kind))
}
