//! The smallest faults that this measurement could miss: what a pass does not rule out.

use serde::Serialize;

use super::{COVERAGE_FACTOR, Conductor, Loop};
use crate::isolation::Isolation;
use crate::limits::LimitSheet;

/// A suspected joint must improve χ² by 8 to be worth supposing; 1.6 more standard deviations, and
/// 19 of 20 such joints do.
const SIGMAS: f64 = 2.9 + 1.6;

/// A conductor is compared with the mean of three siblings.
const AGAINST_SIBLINGS: f64 = 4.0 / 3.0;

/// No path beyond this is claimed to be seen. [judgement]
const LEAK_MAX_OHM: f64 = 9e6;

/// The smallest faults that could be missed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Misses {
    /// A joint in one conductor with less than this may look like the spread of its siblings;
    /// absent where a conductor was not measured.
    pub joint_ohm: Option<f64>,
    /// A path between two conductors with more than this may not be seen; absent where there is no
    /// open phase to judge.
    pub leak_ohm: Option<f64>,
}

impl Misses {
    /// What hangs on an end that was not lifted may hide anything.
    pub(crate) const UNKNOWN: Self = Self { joint_ohm: None, leak_ohm: None };

    pub(crate) fn of(
        conductors: &[Conductor],
        loops: &[Loop],
        isolation: Option<&Isolation>,
        sheet: &LimitSheet,
    ) -> Self {
        let mut joint_ohm: Option<f64> = Some(0.0);
        for one in conductors {
            let seen = one.resistance_ohm.zip(one.expanded_uncertainty_ohm);
            let least_ohm = seen.map(|(ohm, expanded_ohm)| {
                let u_ohm = expanded_ohm / COVERAGE_FACTOR;
                let spread_ohm = sheet.sibling_spread * ohm;
                SIGMAS * AGAINST_SIBLINGS.sqrt() * u_ohm.hypot(spread_ohm)
            });
            joint_ohm = joint_ohm.zip(least_ohm).map(|(most, ohm)| most.max(ohm));
        }
        let leak_ohm = isolation.map(|isolation| {
            let unseen = isolation.paths.iter().filter(|path| path.at_least);
            unseen.map(|path| path.ohm).fold(LEAK_MAX_OHM, f64::min)
        });
        if conductors.is_empty() {
            // Of two wires nothing tells a joint from wire.
            joint_ohm = loops
                .iter()
                .find_map(|one| Some(one.resistance_ohm? + one.expanded_uncertainty_ohm?));
        }
        Self { joint_ohm, leak_ohm }
    }
}
