//! A reel's first reading as a run from end to end, by what a bench is.

use crate::capture::Capture;
use crate::judge::judge;
use crate::judgement::{Cause, Judgement, NotTested, Reason, Severity, Verdict};
use crate::known::RunKnowledge;
use crate::limits::LimitSheet;
use crate::settled;

/// Nothing is landed on a reel. Cores that arrive elsewhere were clipped otherwise at its other end: cable has no
/// crossing in it, so that nothing is wrong with it, and nothing passes.
pub(super) fn judged(capture: &Capture, sheet: &LimitSheet, buried: bool) -> Judgement {
    let known = RunKnowledge { lifted: true, ..RunKnowledge::default() };
    let mut run = judge(capture, sheet, &known);
    run.not_tested.retain(|one| *one != NotTested::HowItWasLanded);
    if buried {
        // That it is so is told by a finding of its own.
        run.findings.retain(|finding| finding.cause != Some(Cause::NotMeasured));
    }
    for finding in run.findings.iter_mut().filter(|finding| finding.kind.is_exchange()) {
        finding.severity = Severity::CannotTell;
    }
    for one in run.conductors.iter_mut().filter(|one| one.reason == Reason::ArrivesElsewhere) {
        one.verdict = Verdict::CannotTell;
    }
    settled::order(&mut run.findings);
    let verdicts = run.conductors.iter().map(|one| one.verdict);
    run.verdict =
        verdicts.chain(settled::verdicts(&run.findings)).fold(Verdict::Pass, Verdict::and);
    run
}
