//! How a live zero served the readings.

use serde::{Deserialize, Serialize};

/// The live zero that came with the capture.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LiveZeroed {
    /// How it served.
    pub status: LiveZeroStatus,
    /// How old it was when the run was measured; absent where that was not kept.
    pub age_days: Option<f64>,
    /// How much warmer the jig was when the run was measured; absent where it could not tell.
    pub warmer_k: Option<f64>,
    /// It is time for another one.
    pub again: bool,
}

/// How it served.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LiveZeroStatus {
    /// There was none: all numbers stand on nominal parts.
    None,
    /// The numbers stand on it.
    Fresh,
    /// The numbers stand on it, and their uncertainty is as if there were none.
    Stale,
    /// It cannot be of this jig, or of anything that works: the numbers stand without.
    Refused,
}
