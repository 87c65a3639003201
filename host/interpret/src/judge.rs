//! The way from capture to judgement, on one page.

use runproof_protocol::Post;

use crate::capture::Capture;
use crate::judgement::{
    COVERAGE_FACTOR, Cause, Conductor, ExplainsComplaint, Finding, FindingKind, Judgement,
    NotTested, Reason, Severity, SheetName, Verdict,
};
use crate::limits::LimitSheet;

pub(crate) fn judge(_capture: &Capture, sheet: &LimitSheet) -> Judgement {
    let conductors = sheet.conductors.each_ref().map(|limits| Conductor {
        name: limits.name,
        post: limits.post,
        reaches: None,
        verdict: Verdict::CannotTell,
        reason: Reason::NotMeasured,
        resistance_ohm: None,
        expanded_uncertainty_ohm: None,
        budget: None,
        limit_ohm: limits.resistance.value_ohm,
    });
    let finding = Finding {
        kind: FindingKind::Incomplete,
        cause: Some(Cause::NotMeasured),
        posts: Vec::<Post>::new(),
        value: None,
        unit: None,
        expanded_uncertainty: None,
        severity: Severity::CannotTell,
        explains_complaint: ExplainsComplaint::Possibly,
        supply_reaches_data: false,
        location: None,
        alternatives: Vec::new(),
    };
    Judgement {
        verdict: Verdict::CannotTell,
        conductors,
        findings: vec![finding],
        coverage_factor: COVERAGE_FACTOR,
        sheet: SheetName {
            name: sheet.name.clone(),
            version: sheet.version.clone(),
        },
        not_tested: vec![NotTested::ShortsAndLeakage],
        fit: None,
    }
}
