//! What a jig's live dividers make of voltages that it put on its own posts: what live readings are held against.

/// A live zero. Each list is by look: D1-D2 on ±0.256 V, D1-D2 on ±2.048 V, D3-D4 and D1-D4 on ±2.048 V.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LiveZero {
    /// What is read of a difference between the two posts, by the nominal divider; less than 1, as the input loads it.
    pub gain: [f64; 4],
    /// Standard uncertainty of these, from noise alone.
    pub u_gain: [f64; 4],
    /// What is read of nothing, at the converter, in volts.
    pub offset_v: [f64; 4],
    /// Standard uncertainty of these.
    pub u_offset_v: [f64; 4],
    /// What is read of a voltage that both posts have against the mid voltage, by the nominal divider.
    pub common: [f64; 4],
    /// Standard uncertainty of these.
    pub u_common: [f64; 4],
    /// How warm the jig was, in °C, if it could tell.
    pub jig_c: Option<f64>,
    /// When it was taken: seconds since 1970 began, UTC.
    pub taken_unix_s: u64,
}

/// What these can be; the capture's format says the same.
pub(super) const GAIN: std::ops::RangeInclusive<f64> = 0.5..=1.5;
pub(super) const OFFSET_V: std::ops::RangeInclusive<f64> = -0.01..=0.01;
pub(super) const COMMON: std::ops::RangeInclusive<f64> = -0.1..=0.1;
pub(super) const U: std::ops::RangeInclusive<f64> = 0.0..=0.01;
