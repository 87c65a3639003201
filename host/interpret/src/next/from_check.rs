//! What the judgement of a check tells.

use super::{Reading, Readings, Source};
use crate::Judgement;
use crate::judgement::{FindingKind, NotTested, Verdict};

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
    let found = judgement.findings.iter().any(|one| one.kind == FindingKind::Hazard);
    let looked = !judgement.not_tested.contains(&NotTested::VoltageOnTheRun);
    let hazard = match (found, looked) {
        (true, _) => Some(Reading::Word("yes")),
        (false, true) => Some(Reading::Word("no")),
        (false, false) => None,
    };
    (Source::Check, vec![("verdict", verdict), ("hazard", hazard)])
}
