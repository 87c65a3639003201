//! How long a run looks that reaches nothing, from its capacitance.

use runproof_protocol::Phase;

use crate::capacitance::{Capacitance, capacitances};
use crate::capture::Capture;
use crate::completeness;
use crate::isolation::Isolation;
use crate::judgement::{self, COVERAGE_FACTOR, LooksLong};
use crate::limits::LimitSheet;

/// A path of less than this holds a post down while the pulls lift it. [judgement]
const LEAK_LEAST_OHM: f64 = 3e6;

/// What hangs on each conductor of the open run; empty where that is not known.
pub(crate) fn measured(capture: &Capture, sheet: &LimitSheet) -> Vec<Capacitance> {
    if completeness::check(capture, Phase::Open).is_err() {
        return vec![];
    }
    let posts = sheet.conductors.iter().map(|conductor| conductor.post);
    capacitances(capture, Phase::Open, posts).unwrap_or_default()
}

/// As long as all its conductors look, where nothing joins them and the sheet says what a metre has.
pub(crate) fn looks_long(
    measured: &[Capacitance],
    isolation: &Isolation,
    sheet: &LimitSheet,
) -> Option<LooksLong> {
    let per_m = sheet.capacitance.as_ref()?;
    if measured.is_empty() || isolation.paths.iter().any(|path| path.ohm < LEAK_LEAST_OHM) {
        return None;
    }
    let each = |picofarads: fn(&Capacitance) -> f64| measured.iter().map(picofarads);
    let least = each(|one| one.picofarads - COVERAGE_FACTOR * one.u_picofarads);
    let most = each(|one| one.picofarads + COVERAGE_FACTOR * one.u_picofarads);
    let mean = each(|one| one.picofarads).sum::<f64>() / measured.len() as f64;
    Some(LooksLong {
        metres: mean.max(0.0) / (per_m.least * per_m.most).sqrt(),
        least_m: least.fold(f64::INFINITY, f64::min).max(0.0) / per_m.most,
        most_m: most.fold(0.0, f64::max) / per_m.least,
    })
}

/// As a judgement states it.
pub(crate) fn stated(measured: &[Capacitance]) -> Vec<judgement::Capacitance> {
    let stated = measured.iter().map(|one| judgement::Capacitance {
        post: one.post,
        picofarads: one.picofarads,
        expanded_uncertainty_picofarads: COVERAGE_FACTOR * one.u_picofarads,
    });
    stated.collect()
}
