//! How long a reel was when it was told last.

use serde::{Deserialize, Serialize};

use crate::judgement::Interval;

/// An earlier length of the same reel, by resistance and copper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reeled {
    /// In seconds since 1970, UTC; nothing if that was not kept.
    pub taken_unix_s: Option<u64>,
    /// Most likely.
    pub metres: f64,
    /// Not less, 95 %.
    pub least_m: f64,
    /// Not more.
    pub most_m: f64,
}

impl Reeled {
    /// Of an interval.
    #[must_use]
    pub fn new(taken_unix_s: Option<u64>, metres: Interval) -> Self {
        let Interval { value, least, most } = metres;
        Self { taken_unix_s, metres: value, least_m: least, most_m: most }
    }
}
