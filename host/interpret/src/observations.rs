//! What was observed in a phase: means of the readings that a judgement needs.

mod input_load;
mod mean;
mod pair;
mod self_calibration;

pub(crate) use input_load::{across_ohm, ground_ohm};
pub(crate) use mean::{Mean, Readings, variance_v2};
pub(crate) use pair::{Pair, Polarity};
pub(crate) use self_calibration::SelfCalibration;

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::obstacle::Obstacle;

/// One phase, averaged.
#[derive(Clone, Debug)]
pub(crate) struct Observations {
    pub(crate) self_calibration: SelfCalibration,
    /// In the order of [`Post::PAIRS`](runproof_protocol::Post::PAIRS).
    pub(crate) pairs: [Pair; 6],
}

impl Observations {
    pub(crate) fn of(capture: &Capture, phase: Phase) -> Result<Self, Obstacle> {
        let readings = Readings::of(capture, phase);
        let self_calibration = SelfCalibration::of(&readings, &capture.head.jig)?;
        Ok(Self { self_calibration, pairs: pair::all(&readings)? })
    }
}
