//! Is the reel as warm as it was? What changes is not yet as warm as the room, and nobody knows how warm its copper is.

use super::Halves;
use super::mean::Both;
use crate::capture::{Capture, Entry};
use crate::copper::PER_KELVIN_AT_20_C;
use crate::judgement::Warming;

/// Beyond so many standard uncertainties no two readings of a steady reel are: one in 370 of a normal distribution.
const SIGMAS: f64 = 3.0;

/// The air of a shop moves by so much in between, and the outermost turns with it. [judgement]
const ROOM_K: f64 = 0.1;

/// Absent where there is no second reading.
pub(super) fn warming(halves: &Halves, both: &Both) -> Option<Warming> {
    let (first, second) = (both.first, both.second?);
    let apart_s = last_s(halves.second.as_ref()?)? - last_s(&halves.first)?;
    let drift_ohm = second.ohm - first.ohm;
    let room_ohm = ROOM_K * PER_KELVIN_AT_20_C * first.ohm.abs();
    let noise_ohm = SIGMAS * first.u_noise_ohm.hypot(second.u_noise_ohm);
    let repeatability_ohm = noise_ohm + room_ohm;
    let kelvin = |ohm: f64| ohm / first.ohm / PER_KELVIN_AT_20_C;
    let minutes = apart_s / 60.0;
    (minutes > 0.0).then(|| Warming {
        apart_s,
        drift_ohm,
        repeatability_ohm,
        kelvin_per_minute: kelvin(drift_ohm) / minutes,
        seen_from_kelvin_per_minute: kelvin(repeatability_ohm) / minutes,
        still_warming: !(drift_ohm.abs() <= repeatability_ohm),
    })
}

/// When its last reading was taken, by the jig's clock.
fn last_s(half: &Capture) -> Option<f64> {
    let times = half.entries.iter().filter_map(|entry| match entry {
        Entry::Reading(reading) => Some(reading.at),
        _ => None,
    });
    times.max().map(|at| at.0 as f64 / 1e6)
}
