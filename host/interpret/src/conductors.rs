//! The verdict on each conductor: open, arrived elsewhere, or by its resistance.

use crate::held::Held;
use crate::judgement::{COVERAGE_FACTOR, Conductor, Finding, FindingKind, Reason, Verdict};
use crate::limits::ConductorLimits;
use crate::survey::Survey;

pub(crate) fn conductor(
    limits: &ConductorLimits,
    held: Option<Held>,
    survey: &Survey,
    between: &[Finding],
) -> Conductor {
    let post = limits.post;
    let open = survey.open.contains(&post);
    let reaches = survey.reaches[post.index()];
    let shorts = || between.iter().filter(|finding| finding.kind == FindingKind::Short);
    let shorted = shorts().any(|finding| finding.posts.contains(&post));
    let leg = survey.legs.iter().find(|leg| leg.post == post);
    let reason = match (reaches, leg, held) {
        _ if open => Reason::Open,
        _ if shorted => Reason::Shorted,
        (Some(terminal), ..) if terminal != limits.terminal => Reason::ArrivesElsewhere,
        (Some(_), Some(_), None) => Reason::LimitUnknown,
        (Some(_), Some(leg), Some(held)) => held.decide(leg.ohm, leg.budget.expanded_ohm()),
        (Some(_), None, _) => Reason::Disturbed,
        _ if disturbed(survey) => Reason::Disturbed,
        _ if measured(survey, between) => Reason::MapUnknown,
        _ => Reason::NotMeasured,
    };
    Conductor {
        name: limits.name,
        terminal: limits.terminal,
        post,
        reaches,
        verdict: verdict(reason, held),
        reason,
        resistance_ohm: leg.map(|leg| leg.ohm),
        expanded_uncertainty_ohm: leg.map(|leg| leg.budget.expanded_ohm()),
        coverage_factor: leg.map(|leg| leg.budget.coverage_factor()),
        budget: leg.map(|leg| leg.budget),
        limit_ohm: held.map(|held| held.ohm),
        limit_expanded_uncertainty_ohm: held.map(|held| COVERAGE_FACTOR * held.u_ohm),
        conformance: leg
            .zip(held)
            .and_then(|(leg, held)| held.conformance(leg.ohm, leg.budget.combined_ohm())),
    }
}

fn verdict(reason: Reason, held: Option<Held>) -> Verdict {
    match (reason, held) {
        (Reason::Open | Reason::Shorted | Reason::ArrivesElsewhere, _) => Verdict::Fail,
        (_, Some(held)) => held.verdict(reason),
        (_, None) => Verdict::CannotTell,
    }
}

/// The readings were there; it is the map that they do not tell.
fn measured(survey: &Survey, between: &[Finding]) -> bool {
    use FindingKind::{AmbiguousMap, NoEndPlug, Short, SomethingConnected, Unexplained};
    let joined = |finding: &Finding| matches!(finding.kind, Short | SomethingConnected);
    between.iter().any(joined)
        || hindered(survey, |kind| matches!(kind, AmbiguousMap | NoEndPlug | Unexplained))
}

/// The readings were there; something else is in them beside the run.
fn disturbed(survey: &Survey) -> bool {
    use FindingKind::{ForeignVoltage, SomethingConnected, Unsteady};
    hindered(survey, |kind| matches!(kind, ForeignVoltage | SomethingConnected | Unsteady))
}

fn hindered(survey: &Survey, by: impl Fn(FindingKind) -> bool) -> bool {
    survey.obstacles.iter().any(|finding| by(finding.kind))
}
