//! How warm the jig was.

use runproof_protocol::Phase;

/// The jig's own temperature as a phase began.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warmth {
    /// Which.
    pub phase: Phase,
    /// In °C. Each jig is off by something of its own; differences are what it is for.
    pub jig_c: f64,
}
