//! From the watches of a capture to what was seen.

use crate::Capture;
use crate::flex::{DURATION_U_PART, DURATION_U_US};
use crate::judgement::{FlexJudgement, Verdict};

/// What was seen while the run of `capture` was flexed.
#[must_use]
pub fn judge_flex(capture: &Capture) -> FlexJudgement {
    let watches = capture.flexes();
    FlexJudgement {
        verdict: Verdict::CannotTell,
        watched_s: watches.iter().map(|watch| watch.head.watched_us as f64 / 1e6).sum(),
        watches,
        findings: vec![],
        duration_u_us: DURATION_U_US,
        duration_u_part: DURATION_U_PART,
    }
}
