//! How a lot stands, and why.

use runproof_quality::lot::{Decision, Measured, Ranges, Stand};

use super::{are, listed, many, percent};
use crate::shop::lots::Closed;

pub(crate) fn decision(decision: Decision) -> &'static str {
    match decision {
        Decision::Accept | Decision::AcceptBackToNormal => "ACCEPT",
        Decision::Sorted => "SORTED",
        Decision::Reject => "REJECT",
        Decision::Hold => "HOLD",
        Decision::NotYet => "NOT YET",
    }
}

pub(crate) fn why(decision: Decision, stand: &Stand, units: u32) -> String {
    let failed = stand.sample.nonconforming.units().count();
    let plan = stand.drawn.plan;
    match decision {
        Decision::Sorted => format!(
            "every unit was tested: {} passed, {} failed and to be taken out: number {}",
            stand.sample.conforming,
            many(failed, "unit"),
            listed(&stand.sample.nonconforming)
        ),
        Decision::Accept if plan.is_none() => "every unit was tested and passes".into(),
        Decision::Accept | Decision::Reject if failed == 0 && stand.measured.is_some() => {
            stand.measured.as_ref().map_or_else(String::new, quality)
        }
        Decision::Accept => {
            let most = plan.map_or(0, |plan| plan.acceptance_number());
            let may = if most == 0 { "none may".into() } else { format!("up to {most} may") };
            format!("{} of the sample failed, and {may}{}", many(failed, "unit"), take_out(stand))
        }
        Decision::AcceptBackToNormal => format!(
            "{} of the sample failed: this lot is accepted, the next one is inspected normally{}",
            many(failed, "unit"),
            take_out(stand)
        ),
        Decision::Reject => {
            let least = plan.map_or(0, |plan| plan.rejection_number());
            format!("{} of the sample failed, and {least} reject the lot", many(failed, "unit"))
        }
        Decision::Hold if stand.identity.missed.is_empty() => format!(
            "{} known to fail, drawn or not; as many in the sample would reject it",
            are(failed + stand.beside.nonconforming.units().count(), "unit")
        ),
        Decision::Hold => {
            let left = if stand.identity.left.0.is_empty() {
                ""
            } else {
                ": look at every unit of it, as no sample says how many more there are"
            };
            format!("{} not what the lot should be{left}", are(stand.identity.missed.len(), "unit"))
        }
        Decision::NotYet => left(stand, units),
    }
}

/// Of a lot that is accepted, what is not good in it.
fn take_out(stand: &Stand) -> String {
    let units = stand.sample.nonconforming.units().chain(stand.beside.nonconforming.units());
    let mut units: Vec<u32> = units.collect();
    units.sort_unstable();
    match units.as_slice() {
        [] => String::new(),
        units => {
            format!("; take out what failed: number {}", listed(&Ranges::of(units.iter().copied())))
        }
    }
}

/// Of all that was measured.
fn quality(measured: &Measured) -> String {
    let [mean, deviation, index] =
        [measured.mean, measured.standard_deviation, measured.quality_index]
            .map(Option::unwrap_or_default);
    format!(
        "the sample has {} of its limit, standard deviation {}: {index:.3} standard deviations below it",
        percent(mean),
        percent(deviation)
    )
}

pub(crate) fn left(stand: &Stand, units: u32) -> String {
    let mut all = vec![];
    let looks = units - stand.identity.looked_at;
    if looks > 0 {
        all.push(format!("{} to look at", many(looks as usize, "unit")));
    }
    let tests: usize = [&stand.sample.left, &stand.sample.cannot_tell, &stand.sample.not_proved]
        .map(|units| units.units().count())
        .into_iter()
        .sum();
    if tests > 0 {
        all.push(format!("{} to test", many(tests, "unit")));
    }
    all.join(", ")
}

pub(crate) fn closed(closed: &Closed) -> String {
    let failed = closed.nonconforming.units().count();
    let found = match closed.decision {
        Decision::Hold => "held".into(),
        _ => format!("{} of those to test failed", many(failed, "unit")),
    };
    format!("{found}; decided for good: {}", closed.disposition)
}

pub(crate) fn in_doubt(now: Decision) -> String {
    format!("it was decided, and by all that is known today it is {}", decision(now))
}
