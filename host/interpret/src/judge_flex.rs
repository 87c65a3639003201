//! From the watches of a capture to what was seen.

mod findings;
mod whole;

use crate::Capture;
use crate::flex::{DURATION_U_PART, DURATION_U_US, STEP_U_US};
use crate::judgement::{FlexJudgement, Severity, Verdict};

/// What was seen while the run of `capture` was flexed.
#[must_use]
pub fn judge_flex(capture: &Capture) -> FlexJudgement {
    let watches = capture.flexes();
    let mut findings = findings::of_all(&watches);
    findings.sort_by_key(|finding| (finding.severity, finding.kind));
    let verdict = match findings.first().map(|gravest| gravest.severity) {
        Some(Severity::Fail) => Verdict::Fail,
        Some(Severity::CannotTell) => Verdict::CannotTell,
        Some(Severity::Note) | None => Verdict::Pass,
    };
    FlexJudgement {
        verdict,
        watched_s: watches.iter().map(|watch| watch.head.watched_us as f64 / 1e6).sum(),
        watches,
        findings,
        duration_u_us: DURATION_U_US,
        duration_u_part: DURATION_U_PART,
        step_u_us: STEP_U_US,
    }
}
