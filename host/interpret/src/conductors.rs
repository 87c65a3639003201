//! The verdict on each conductor: open, arrived elsewhere, or by its resistance.

use crate::decision::by_limit;
use crate::judgement::{COVERAGE_FACTOR, Conductor, FindingKind, Reason, Severity, Verdict};
use crate::limits::ConductorLimits;
use crate::survey::Survey;

pub(crate) fn conductor(limits: &ConductorLimits, survey: &Survey) -> Conductor {
    let post = limits.post;
    let open = survey.open.contains(&post);
    let reaches = survey.map.filter(|_| !open).map(|map| map.reaches(post));
    let leg = survey.legs.iter().find(|leg| leg.post == post);
    let limit_ohm = limits.resistance.value_ohm;
    let reason = match (reaches, leg) {
        _ if open => Reason::Open,
        (Some(terminal), _) if terminal != post => Reason::ArrivesElsewhere,
        (Some(_), Some(leg)) => by_limit(leg.ohm, leg.budget.combined_ohm(), limit_ohm),
        _ if measured(survey) => Reason::MapUnknown,
        _ if disturbed(survey) => Reason::Disturbed,
        _ => Reason::NotMeasured,
    };
    Conductor {
        name: limits.name,
        post,
        reaches,
        verdict: verdict(reason, limits.resistance.severity),
        reason,
        resistance_ohm: leg.map(|leg| leg.ohm),
        expanded_uncertainty_ohm: leg.map(|leg| COVERAGE_FACTOR * leg.budget.combined_ohm()),
        budget: leg.map(|leg| leg.budget),
        limit_ohm,
    }
}

fn verdict(reason: Reason, severity: Severity) -> Verdict {
    match reason {
        Reason::WithinLimit => Verdict::Pass,
        Reason::Open | Reason::ArrivesElsewhere => Verdict::Fail,
        Reason::BeyondLimit | Reason::TooCloseToLimit if severity == Severity::Note => {
            Verdict::Pass
        }
        Reason::BeyondLimit => Verdict::Fail,
        Reason::TooCloseToLimit | Reason::MapUnknown | Reason::Disturbed | Reason::NotMeasured => {
            Verdict::CannotTell
        }
    }
}

/// The readings were there; it is the map that they do not tell.
fn measured(survey: &Survey) -> bool {
    use FindingKind::{AmbiguousMap, NoEndPlug, Unexplained};
    hindered(survey, |kind| matches!(kind, AmbiguousMap | NoEndPlug | Unexplained))
}

/// The readings were there; something else is in them beside the run.
fn disturbed(survey: &Survey) -> bool {
    use FindingKind::{ForeignVoltage, SomethingConnected, Unsteady};
    hindered(survey, |kind| matches!(kind, ForeignVoltage | SomethingConnected | Unsteady))
}

fn hindered(survey: &Survey, by: impl Fn(FindingKind) -> bool) -> bool {
    survey.obstacles.iter().any(|finding| by(finding.kind))
}
