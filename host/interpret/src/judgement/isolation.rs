//! What is between two conductors that should have nothing between them.

use runproof_protocol::Post;
use serde::Serialize;

use super::post_number;

/// The path between two conductors with the end plug out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Isolation {
    /// The posts that the two are clipped to.
    #[serde(serialize_with = "post_number::pair")]
    pub posts: [Post; 2],
    /// Its resistance; or the least that it can have.
    pub resistance_ohm: f64,
    /// Nothing was found, and a path of less than this would have been.
    pub at_least: bool,
    /// Of the resistance, with the judgement's coverage factor; absent for a least one.
    pub expanded_uncertainty_ohm: Option<f64>,
}
