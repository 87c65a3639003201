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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::copper::Surface;
    use crate::reel::Declared;

    fn of(ohm: f64, u: f64) -> Option<Interval> {
        let declared = Declared {
            gauge: "18awg-solid".parse().ok(),
            surface: Some(Surface::Plain),
            ..Declared::default()
        };
        let any = Material { told: None, by: vec![], or_copper_of: vec![], disagree: false };
        length(declared.wire().as_ref(), Some(At20C { ohm, u, warmth: 0.008 }), &any)
    }

    /// Wire tables of the National Bureau of Standards (Handbook 100): 1000 ft of 18 AWG have 6.385 Ω.
    #[test]
    fn a_thousand_feet_of_the_wire_tables() {
        let found = of(6.385, 0.003).expect("long enough");
        assert!((found.value - 304.8).abs() < 0.1, "{found:?}");
        // By hand: 2 % of wire beside 0.8 %/√3 and 0.3 % come to 2.1 % or so.
        let half_percent = 50.0 * found.width() / found.value;
        assert!((2.0..2.4).contains(&half_percent), "{half_percent}");
        // Wire of the standard's most, or least, is still in it.
        for factor in [0.981, 1.019] {
            let other = of(6.385 * factor, 0.003).expect("long enough");
            assert!((other.least..other.most).contains(&304.8), "{other:?}");
        }
    }

    #[test]
    fn too_little_is_no_length() {
        assert!(of(0.1, 0.2).is_some());
        assert_eq!(of(0.1, 0.3), None);
        assert_eq!(of(-0.01, 0.2), None);
        assert_eq!(of(f64::NAN, 0.2), None);
    }
}
