//! From least to most.

use serde::Serialize;

/// Where a value lies, or values lie, in its own unit; either end may be infinite, where only the other is bounded.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    /// The least.
    pub least: f64,
    /// The most.
    pub most: f64,
}

impl Interval {
    pub(crate) fn around(middle: f64, half_width: f64) -> Self {
        Self { least: middle - half_width, most: middle + half_width }
    }

    /// Whether `value` lies within, the ends as well.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        self.least <= value && value <= self.most
    }
}
