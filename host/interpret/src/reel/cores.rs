//! The verdict on each core: whole, like its siblings, and as thick as declared.

use super::findings::Seen;
use super::known_length::KnownLength;
use super::mean::{At20C, Both, factor};
use crate::copper::CelsiusRange;
use crate::judgement::budget::coverage::NORMAL;
use crate::judgement::{
    Conductor, Finding, FindingKind, GaugeReason, Reason, ReelConductor, ReelReason, Severity,
    Verdict,
};
use crate::run::Leg;

pub(super) fn cores(
    seen: &Seen<'_>,
    readings: Option<Both>,
    known: Option<KnownLength>,
) -> Vec<ReelConductor> {
    let each = seen.run.conductors.iter().map(|one| {
        let leg = readings.and_then(|both| both.legs[one.post.index()]);
        core(one, leg, seen, known)
    });
    each.collect()
}

fn core(
    one: &Conductor,
    leg: Option<Leg>,
    seen: &Seen<'_>,
    known: Option<KnownLength>,
) -> ReelConductor {
    let at_20_c = leg.zip(seen.declared.copper_c).map(|(leg, warmth)| at_20_c(&leg, warmth));
    let steady = at_20_c.filter(|_| seen.told.is_some());
    let per_length = steady.zip(known).map(|(at_20_c, known)| known.per_length(at_20_c));
    let thin = per_length
        .zip(seen.gauge.passes_to_ohm_per_km)
        .is_some_and(|(one, most)| one.least() > most);
    let reason = reason(one, seen, thin);
    ReelConductor {
        name: one.name,
        post: one.post,
        verdict: verdict(reason),
        reason,
        ohm: leg.map(|leg| leg.ohm),
        expanded_uncertainty_ohm: leg.map(|leg| leg.budget.expanded_ohm()),
        ohm_at_20_c: at_20_c.map(|one| one.ohm),
        expanded_uncertainty_ohm_at_20_c: at_20_c.map(|one| one.expanded_ohm()),
        ohm_per_km: per_length.map(|one| one.ohm_per_km),
        expanded_uncertainty_ohm_per_km: per_length.map(|one| one.expanded),
    }
}

/// By what holds 95 % of its contact and the rest, as if that were normal.
fn at_20_c(leg: &Leg, warmth: CelsiusRange) -> At20C {
    let (factor, warmth) = factor(warmth);
    let u_ohm = leg.budget.expanded_ohm() / NORMAL;
    At20C { ohm: leg.ohm / factor, u: u_ohm / leg.ohm.abs(), warmth }
}

fn reason(one: &Conductor, seen: &Seen<'_>, thin: bool) -> ReelReason {
    let uneven = |finding: &Finding| {
        finding.kind == FindingKind::SiblingDifference
            && finding.severity == Severity::Fail
            && finding.posts.contains(&one.post)
    };
    match one.reason {
        Reason::Open => return ReelReason::Open,
        Reason::Shorted => return ReelReason::Shorted,
        Reason::ArrivesElsewhere => return ReelReason::ClippedOtherwise,
        _ if seen.declared.buried => return ReelReason::Buried,
        Reason::WithinLimit => {}
        _ => return ReelReason::NotMeasured,
    }
    if seen.run.findings.iter().any(uneven) {
        return ReelReason::Uneven;
    }
    if thin {
        return ReelReason::MoreThanDeclared;
    }
    match seen.gauge.reason {
        _ if seen.material.contradicts_copper() => ReelReason::MoreThanDeclared,
        GaugeReason::MoreThanDeclared => ReelReason::MoreThanDeclared,
        GaugeReason::AsDeclared if seen.material.told.is_some() => ReelReason::AsDeclared,
        GaugeReason::AsDeclared | GaugeReason::NotDeclared => ReelReason::NotDecided,
        GaugeReason::LessThanDeclared => ReelReason::LessThanDeclared,
        GaugeReason::TooClose => ReelReason::TooCloseToLimit,
        GaugeReason::LengthNotKnown => ReelReason::LengthNotKnown,
        GaugeReason::NotMeasured if seen.warming.is_some_and(|one| one.still_warming) => {
            ReelReason::StillWarming
        }
        GaugeReason::NotMeasured if seen.declared.copper_c.is_none() => {
            ReelReason::TemperatureNotTold
        }
        GaugeReason::NotMeasured => ReelReason::NotMeasured,
    }
}

fn verdict(reason: ReelReason) -> Verdict {
    match reason {
        ReelReason::AsDeclared => Verdict::Pass,
        ReelReason::Open
        | ReelReason::Shorted
        | ReelReason::Uneven
        | ReelReason::MoreThanDeclared => Verdict::Fail,
        _ => Verdict::CannotTell,
    }
}
