//! What a converter's own input takes from the node it reads.

use runproof_protocol::Range;

/// Between the two inputs of a difference (ADS1115, TI SBAS444E, electrical characteristics;
/// typical).
pub(crate) const fn across_ohm(range: Range) -> f64 {
    match range {
        Range::V4 => 15e6,
        Range::V2 => 4.9e6,
        Range::V1 => 2.4e6,
        Range::V0 => 0.71e6,
    }
}

/// From an input to ground (the same table).
pub(crate) const fn ground_ohm(range: Range) -> f64 {
    match range {
        Range::V4 | Range::V2 => 6e6,
        Range::V1 => 3e6,
        Range::V0 => 100e6,
    }
}
