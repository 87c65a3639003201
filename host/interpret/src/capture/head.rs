//! The head of a capture: who measured, and the values that the readings are understood with.

/// The first line of a capture.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// The program that wrote it.
    pub made_by: String,
    /// When the test began, in seconds since 1970, UTC; nothing if that was not kept.
    pub taken_unix_s: Option<u64>,
    /// The jig.
    pub jig: JigConstants,
    /// The end plug.
    pub plug: Plug,
}

/// Who a jig is, and the values of its parts.
#[derive(Clone, Debug, PartialEq)]
pub struct JigConstants {
    /// Its serial; may be empty.
    pub serial: String,
    /// The kind of board; may be empty.
    pub board: String,
    /// The firmware's version; may be empty.
    pub firmware: String,
    /// The resistor in each post's drive that its current is read across, posts 1–4.
    pub series_ohm: [f64; 4],
    /// Tolerance of these, as a fraction.
    pub series_tolerance: f64,
    /// From each post to its sense node, both ways in parallel.
    pub sense_ohm: f64,
    /// From each sense node to the common point of the pulls.
    pub pull_ohm: f64,
    /// From each post to the live divider's mid voltage.
    pub divider_ohm: f64,
    /// What it can put across posts 3 and 4 of a live run, if it can.
    pub supply_load_ohm: Option<f64>,
}

/// What a jig has that does not say it: 4.7 kΩ to the sensing jaw beside 10 kΩ to the driving one.
pub(super) const SENSE_OHM: f64 = 4700.0 * 10_000.0 / (4700.0 + 10_000.0);

/// The end plug: a ring of four resistors.
#[derive(Clone, Debug, PartialEq)]
pub struct Plug {
    /// What is written on it; may be empty.
    pub id: String,
    /// In the order of the ring: 1–3, 3–4, 4–2, 2–1.
    pub ring_ohm: [f64; 4],
    /// Tolerance of these, as a fraction.
    pub tolerance: f64,
}
