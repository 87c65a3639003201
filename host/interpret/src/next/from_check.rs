//! What the judgement of a check tells.

use super::{Reading, Readings, Source};
use crate::Judgement;
use crate::judgement::{FindingKind, NotTested, Verdict};
use crate::limits::Severity;

/// What a check tells, and which kind it was.
#[must_use]
pub fn of_check(judgement: &Judgement) -> (Source, Readings) {
    let verdict = Some(Reading::Word(match judgement.verdict {
        Verdict::Pass => "pass",
        Verdict::Fail => "fail",
        Verdict::CannotTell => "cannot-tell",
    }));
    if judgement.to_earth.is_some() {
        return (Source::ToEarth, vec![("verdict", verdict)]);
    }
    let has_hazard = judgement.findings.iter().any(|one| one.kind == FindingKind::Hazard);
    let looked = !judgement.not_tested.contains(&NotTested::VoltageOnTheRun);
    let hazard = match (has_hazard, looked) {
        (true, _) => Some(Reading::Word("yes")),
        (false, true) => Some(Reading::Word("no")),
        (false, false) => None,
    };
    let readings =
        vec![("verdict", verdict), ("found", Some(found(judgement))), ("hazard", hazard)];
    (Source::Check, readings)
}

/// What it fails by: the gravest, as its own next step is of that one.
fn found(judgement: &Judgement) -> Reading {
    let fails = judgement.findings.iter().find(|one| one.severity == Severity::Fail);
    Reading::Word(match fails.map(|one| one.kind) {
        None => "nothing",
        Some(FindingKind::ReversedPair) => "reversed-pair",
        Some(FindingKind::Crossed) => "crossed",
        Some(FindingKind::Open) => "open",
        Some(FindingKind::Short) => "short",
        Some(FindingKind::Leakage) => "leakage",
        Some(
            FindingKind::HighResistance
            | FindingKind::SiblingDifference
            | FindingKind::HighLoopResistance,
        ) => "resistance",
        Some(_) => "other",
    })
}
