//! The most that can be between any two posts: bounds, to be wrong only towards too much.

use runproof_protocol::Post;
use serde::Serialize;

use crate::judgement::post_number;

/// The most between any two posts, over all six pairs, uncertainty and all. Absent: not known, or beyond the range.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Largest {
    /// At any instant.
    pub peak_v: Option<AtMost>,
    /// Of what alternates.
    pub alternating_rms_v: Option<AtMost>,
    /// Of the mean, whatever its sign.
    pub direct_v: Option<AtMost>,
    /// Some reading was beyond its range: there is more than the jig can tell.
    pub beyond_range: bool,
}

/// No more than so much, between these posts.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AtMost {
    /// Between.
    #[serde(serialize_with = "post_number::pair")]
    pub posts: [Post; 2],
    /// In volts.
    pub most_v: f64,
}
