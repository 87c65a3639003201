//! How a reel's two readings differ.

use serde::Serialize;

/// The second reading against the first.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Warming {
    /// From the one to the other, by the jig's clock.
    pub apart_s: f64,
    /// How much more resistance the mean of the cores had then.
    pub drift_ohm: f64,
    /// What readings of a reel that stays as it is may differ by.
    pub repeatability_ohm: f64,
    /// The drift as a change of the copper's temperature, in K a minute.
    pub kelvin_per_minute: f64,
    /// A slower change than this would not have been seen.
    pub seen_from_kelvin_per_minute: f64,
    /// It drifted by more than it may.
    pub still_warming: bool,
}
