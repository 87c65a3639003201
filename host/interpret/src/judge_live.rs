//! The way from the live phase of a capture to a judgement.

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::completeness;
use crate::judgement::{
    LIVE_COVERAGE, Largest, LiveCause, LiveFinding, LiveJudgement, LiveNotTested, LiveZeroStatus,
    LiveZeroed, SheetName, Verdict,
};
use crate::limits::LimitSheet;

/// What the live phase of `capture` shows, by the live ranges of `sheet`, clipped on `at`.
#[must_use]
pub fn judge_live(capture: &Capture, sheet: &LimitSheet) -> LiveJudgement {
    let cause = match completeness::begun(capture, Phase::Live) {
        true => LiveCause::NotFinished,
        false => LiveCause::NotMeasured,
    };
    LiveJudgement {
        verdict: Verdict::CannotTell,
        at: capture.at(),
        supply: None,
        pair: None,
        conductors: vec![],
        largest: Largest {
            peak_v: None,
            alternating_rms_v: None,
            direct_v: None,
            beyond_range: false,
        },
        moves_together_v: None,
        findings: vec![LiveFinding::because(cause)],
        zero: LiveZeroed {
            status: LiveZeroStatus::None,
            age_days: None,
            warmer_k: None,
            again: true,
        },
        coverage: LIVE_COVERAGE,
        decision_rule: sheet.decision_rule,
        sheet: SheetName { name: sheet.name.clone(), version: sheet.version.clone() },
        not_tested: vec![
            LiveNotTested::AgainstEarth,
            LiveNotTested::UnderTheControlsLoad,
            LiveNotTested::ComesAndGoes,
            LiveNotTested::TheData,
            LiveNotTested::TheWiring,
        ],
    }
}
