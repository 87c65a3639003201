//! What is lost between two ends of a live run.

use serde::Serialize;

use super::{At, Measured};

/// From the end that the supply comes from, to the other.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LostBetween {
    /// Which ends, where that was told.
    pub places: [Option<At>; 2],
    /// Supply against common at either, rms.
    pub supply_v: [Option<Measured>; 2],
    /// The first less the second.
    pub supply_lost_v: Option<Measured>,
    /// Data+ against data− at either.
    pub bias_v: [Option<Measured>; 2],
    /// The first less the second.
    pub bias_lost_v: Option<Measured>,
    /// The pair is the right way round at one end and reversed at the other.
    pub exchanged: bool,
}
