//! How a zero served the readings.

use serde::Serialize;

/// The zero that came with the capture.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Zeroed {
    /// The numbers stand on it; else it contradicts the readings, and they stand without.
    pub used: bool,
    /// How old it was when the run was measured; absent where that was not kept.
    pub age_days: Option<f64>,
    /// How much warmer the jig was when the run was measured; absent where it could not tell.
    pub warmer_k: Option<f64>,
    /// It is time for another one.
    pub again: bool,
}
