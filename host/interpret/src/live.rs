//! What the live divider read before anything was driven: is there voltage on the run?

use runproof_protocol::{DIVIDER_FOOT, HAZARD, Phase, Step};

use crate::capture::{Capture, Reading};
use crate::judgement::{FindingKind, Unit};
use crate::obstacle::Obstacle;

/// Whether the run was looked at before it was driven.
pub(crate) fn looked(capture: &Capture) -> bool {
    [Phase::Plug, Phase::Open, Phase::Glance]
        .into_iter()
        .any(|phase| capture.readings(phase).any(|reading| reading.step == Step::Live))
}

/// No reading shows voltage; one that is beyond its range does.
pub(crate) fn check(capture: &Capture) -> Result<(), Obstacle> {
    let ratio = capture.head.jig.divider_ohm / DIVIDER_FOOT.ohms();
    let posts_v = |reading: &Reading| reading.volts.abs() * ratio;
    let largest_v = readings(capture).map(posts_v).fold(0.0, f64::max);
    if largest_v > HAZARD.0 as f64 / 1e6 || readings(capture).any(|reading| reading.saturated) {
        return Err(Obstacle::new(FindingKind::Hazard).value(largest_v, Unit::Volt));
    }
    Ok(())
}

fn readings(capture: &Capture) -> impl Iterator<Item = &Reading> {
    capture.readings(Phase::Plug).filter(|reading| reading.step == Step::Live)
}
