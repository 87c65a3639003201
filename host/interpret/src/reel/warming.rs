//! Is the reel as warm as it was? What changes is not yet as warm as the room, and nobody knows how warm its copper is.

use super::Halves;
use super::drift::drift;
use crate::capture::{Capture, Entry};
use crate::copper::PER_KELVIN_AT_20_C;
use crate::judgement::Warming;

/// Beyond so many standard uncertainties no two readings of a steady reel are: one in 370 of a normal distribution.
const SIGMAS: f64 = 3.0;

/// The air of a shop moves by so much in between, and the outermost turns with it. [judgement]
const ROOM_K: f64 = 0.1;

/// In less no reel warms by what two readings can show. [judgement]
const LEAST_APART_S: f64 = 100.0;

/// The second reading came too soon to show anything.
pub(super) fn is_too_soon(halves: &Halves) -> bool {
    apart_s(halves).is_some_and(|apart_s| apart_s < LEAST_APART_S)
}

/// Between the ends of both readings.
fn apart_s(halves: &Halves) -> Option<f64> {
    Some(last_s(halves.second.as_ref()?)? - last_s(&halves.first)?)
}

/// Of a reel whose cores have so many ohms. Absent where there is no second reading, or too soon.
pub(super) fn warming(halves: &Halves, ohm: f64) -> Option<Warming> {
    let second = halves.second.as_ref()?;
    let apart_s = apart_s(halves)?;
    let (drift_ohm, u_ohm) = drift(&halves.first, second)?;
    let room_ohm = ROOM_K * PER_KELVIN_AT_20_C * ohm.abs();
    let repeatability_ohm = SIGMAS * u_ohm + room_ohm;
    let kelvin = |drift_ohm: f64| drift_ohm / ohm / PER_KELVIN_AT_20_C;
    let minutes = apart_s / 60.0;
    (apart_s >= LEAST_APART_S).then(|| Warming {
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
