//! How long a reel is by its resistance, if its cores are the copper that was declared.

use super::interval::half_width;
use super::mean::At20C;
use crate::judgement::{Interval, Material, Wire};

/// A length that is known no better than this part of it is none. [judgement]
const HALF_WIDTH_MAX: f64 = 0.5;

/// Absent without a wire, and where it is too short to tell.
pub(super) fn length(
    wire: Option<&Wire>,
    at_20_c: Option<At20C>,
    material: &Material,
) -> Option<Interval> {
    let (wire, at_20_c) = wire.zip(at_20_c)?;
    if material.disagree {
        return None;
    }
    let metres = 1e3 * at_20_c.ohm / wire.middle_ohm_per_km();
    let off = half_width(&[wire.half_width(), at_20_c.warmth], &[at_20_c.u]);
    // Wire and warmth divide: 1/(1 ± d) is 1 ∓ d + d².
    let divides = half_width(&[wire.half_width(), at_20_c.warmth], &[]).powi(2);
    let [least, most] = [1.0 - off, 1.0 + off].map(|factor| (factor + divides) * metres);
    let interval = Interval { value: metres, least, most };
    (metres > 0.0 && off <= HALF_WIDTH_MAX).then_some(interval)
}
