//! What the live divider read before anything was driven: is there voltage on the run?

use runproof_protocol::{DIVIDER_FOOT, HAZARD, Phase, Step};

use crate::capture::{Capture, Reading};
use crate::judgement::{FindingKind, Unit};
use crate::obstacle::Obstacle;

/// The largest voltages between two posts before a phase was driven.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Seen {
    /// By the high-impedance divider alone.
    pub(crate) alone_v: f64,
    /// Under the load.
    pub(crate) loaded_v: f64,
}

/// Whether the run was looked at before it was driven.
pub(crate) fn looked(capture: &Capture, phase: Phase) -> bool {
    [Step::Live, Step::LiveLoaded]
        .iter()
        .all(|step| readings(capture, phase, *step).next().is_some())
}

/// No reading under the load shows voltage, and none is beyond its range; what only couples in is
/// returned.
pub(crate) fn check(capture: &Capture, phase: Phase) -> Result<Seen, Obstacle> {
    let ratio = capture.head.jig.divider_ohm / DIVIDER_FOOT.ohms();
    let largest_v = |step| {
        let posts_v = readings(capture, phase, step).map(|reading| reading.volts.abs() * ratio);
        posts_v.fold(0.0, f64::max)
    };
    let seen = Seen { alone_v: largest_v(Step::Live), loaded_v: largest_v(Step::LiveLoaded) };
    let saturated = |step| readings(capture, phase, step).any(|reading| reading.saturated);
    let beyond = saturated(Step::Live) || saturated(Step::LiveLoaded);
    if beyond || !(seen.loaded_v <= HAZARD.0 as f64 / 1e6) {
        let largest_v = if beyond { seen.alone_v.max(seen.loaded_v) } else { seen.loaded_v };
        return Err(Obstacle::new(FindingKind::Hazard).value(largest_v, Unit::Volt));
    }
    Ok(seen)
}

fn readings(capture: &Capture, phase: Phase, step: Step) -> impl Iterator<Item = &Reading> {
    capture.readings(phase).filter(move |reading| reading.step == step)
}
