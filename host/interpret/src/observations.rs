//! What was observed in the plug phase: means of the readings that a judgement needs.

mod input_load;
mod mean;
mod pair;
mod self_calibration;

pub(crate) use input_load::across_ohm;
pub(crate) use mean::Mean;
pub(crate) use pair::{Pair, Polarity};
pub(crate) use self_calibration::SelfCalibration;

use crate::capture::Capture;
use crate::obstacle::Obstacle;

/// The plug phase, averaged.
#[derive(Clone, Debug)]
pub(crate) struct Observations {
    pub(crate) self_calibration: SelfCalibration,
    /// In the order of [`Post::PAIRS`](runproof_protocol::Post::PAIRS).
    pub(crate) pairs: [Pair; 6],
}

impl Observations {
    pub(crate) fn of(capture: &Capture) -> Result<Self, Obstacle> {
        Ok(Self { self_calibration: SelfCalibration::of(capture)?, pairs: pair::all(capture)? })
    }
}
