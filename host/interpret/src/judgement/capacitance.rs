//! What hangs on a conductor with the end plug out, and how long that makes the run look.

use runproof_protocol::Post;
use serde::Serialize;

use super::post_number;

/// One conductor's capacitance to all the others, clip leads and all.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Capacitance {
    /// The post that it is clipped to.
    #[serde(serialize_with = "post_number::one")]
    pub post: Post,
    /// In picofarads.
    pub picofarads: f64,
    /// Of the capacitance, with the judgement's coverage factor.
    pub expanded_uncertainty_picofarads: f64,
}

/// How long the run looks from the jig: to its end, or to where it is cut through.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LooksLong {
    /// By the middle of what the sheet says a metre may have.
    pub metres: f64,
    /// By the most that a metre may have, and the uncertainty.
    pub least_m: f64,
    /// By the least.
    pub most_m: f64,
}
