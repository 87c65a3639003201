//! What was proved about two conductors in series.

use runproof_protocol::Post;
use serde::Serialize;

use super::{Reason, Verdict, post_number};

/// What was proved about two conductors in series, from the jig to the plug and back.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Loop {
    /// Of its conductors.
    #[serde(serialize_with = "post_number::pair")]
    pub posts: [Post; 2],
    /// Of this loop alone.
    pub verdict: Verdict,
    /// Why.
    pub reason: Reason,
    /// From post to plug and back, contacts and plug taken off; absent where it is not known.
    pub resistance_ohm: Option<f64>,
    /// Of the resistance, with the judgement's coverage factor.
    pub expanded_uncertainty_ohm: Option<f64>,
    /// The most resistance it may have.
    pub limit_ohm: f64,
    /// Of the limit, where it was calculated; else 0.
    pub limit_expanded_uncertainty_ohm: f64,
    /// How likely the resistance is within its limit.
    pub conformance: Option<f64>,
}
