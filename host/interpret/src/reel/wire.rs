//! What a metre of one core must have at 20 °C, by what was declared of it.

use super::{Declared, limit_text};
use crate::copper::{Gauge, OHM_MM2_PER_M, Row, Size, Strands, Surface};
use crate::judgement::{Wire, WireBasis};

/// A solid wire's diameter may be 1 % off either way (ASTM B3, from memory), so its resistance 2 %.
const SOLID: [f64; 2] = [0.98, 1.02];
/// A tinned one has at the most 8.08/7.77 of a plain one (NFPA 70, chapter 9, table 8, 18 AWG solid).
const SOLID_TINNED: [f64; 2] = [0.98, 1.02 * 8.08 / 7.77];
/// Seven wires of 30 AWG are sold as 22 AWG: 642/703 circular mils (ASTM B258), and 2 % of lay; at the most
/// 7.95/7.77 (table 8, uncoated), and the diameter's 2 %.
const STRANDED: [f64; 2] = [0.93, 1.02 * 7.95 / 7.77];
/// At the most 8.45/7.77 (table 8, coated), and 2 %.
const STRANDED_TINNED: [f64; 2] = [0.93, 1.02 * 8.45 / 7.77];

/// A maker's own number, where no tolerance of it is told. [judgement]
const TOLD_PERCENT: f64 = 2.0;

impl Declared {
    /// What a metre of one core must have by it; absent where neither gauge nor resistance was declared.
    #[must_use]
    pub fn wire(&self) -> Option<Wire> {
        wire(self)
    }
}

/// Absent where neither a gauge nor a number was declared.
pub(super) fn wire(declared: &Declared) -> Option<Wire> {
    let (least, most, basis) = match (declared.ohm_per_km, declared.gauge) {
        (Some(ohm_per_km), _) => {
            let off = declared.wire_tolerance_percent.unwrap_or(TOLD_PERCENT) / 100.0;
            (ohm_per_km * (1.0 - off), ohm_per_km * (1.0 + off), WireBasis::Told)
        }
        (None, Some(gauge)) => {
            let ([least, most], basis) = standard(gauge, declared.surface);
            match declared.wire_tolerance_percent {
                None => (least, most, basis),
                Some(percent) => {
                    let (middle, off) = (nominal(gauge, [least, most]), percent / 100.0);
                    (middle * (1.0 - off), middle * (1.0 + off), basis)
                }
            }
        }
        (None, None) => return None,
    };
    let tolerance_told = declared.wire_tolerance_percent.is_some();
    // A told tolerance is of the mean, and narrows lengths; it forbids nothing that the standard allows.
    let [allowed_least, allowed_most] =
        declared.gauge.map_or([least, most], |gauge| standard(gauge, declared.surface).0);
    Some(Wire {
        least_ohm_per_km: least,
        most_ohm_per_km: most,
        allowed_ohm_per_km: most.max(allowed_most),
        plausible_ohm_per_km: least.min(allowed_least),
        basis,
        tolerance_told,
        source: limit_text(basis, declared.gauge),
    })
}

/// Where the next thinner size begins: nearer to it than to the declared one a core is taken for it.
pub(super) fn halfway_to_thinner_ohm_per_km(wire: &Wire, gauge: Gauge) -> f64 {
    let thinner = wire.plausible_ohm_per_km * gauge.nominal_mm2() / gauge.next_thinner_mm2();
    (wire.allowed_ohm_per_km * thinner).sqrt()
}

/// Of a solid one the nominal; of strands, whose make is not known, the middle.
fn nominal(gauge: Gauge, [least, most]: [f64; 2]) -> f64 {
    match (gauge.size, gauge.strands) {
        (Size::Awg(_), Some(Strands::Solid)) => 1e3 * OHM_MM2_PER_M / gauge.nominal_mm2(),
        _ => f64::midpoint(least, most),
    }
}

/// In Ω/km.
pub(super) fn standard(gauge: Gauge, surface: Option<Surface>) -> ([f64; 2], WireBasis) {
    let solid_per_km = 1e3 * OHM_MM2_PER_M / gauge.nominal_mm2();
    let may_be_stranded = gauge.strands != Some(Strands::Solid);
    let may_be_tinned = surface != Some(Surface::Plain);
    match gauge.size {
        Size::Awg(_) => {
            let factors = match (may_be_stranded, may_be_tinned) {
                (false, false) => SOLID,
                (false, true) => SOLID_TINNED,
                (true, false) => STRANDED,
                (true, true) => STRANDED_TINNED,
            };
            (factors.map(|factor| factor * solid_per_km), WireBasis::AstmB258)
        }
        Size::Mm2(mm2) => {
            let row = Row::of(mm2);
            let most = match (may_be_stranded, may_be_tinned) {
                (false, false) => row.solid_plain,
                (false, true) => row.solid_tinned,
                (true, false) => row.fine_plain,
                (true, true) => row.fine_tinned,
            };
            // No maker gives away more copper than the nominal cross-section. [judgement]
            ([solid_per_km, most], WireBasis::Iec60228)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(gauge: &str, surface: Surface) -> Wire {
        let declared =
            Declared { gauge: gauge.parse().ok(), surface: Some(surface), ..Declared::default() };
        wire(&declared).expect("a gauge")
    }

    /// NFPA 70 (NEC), chapter 9, table 8, as two independent pages print it: hundredths of Ω/kft at 75 °C, brought to 20 °C by
    /// the table's own note, R₂ = R₁ (1 + 0.00323 (T₂ − 75)).
    #[test]
    fn nec_chapter_9_table_8_lies_within() {
        let rows =
            [(18, [777, 808, 795, 845]), (16, [489, 508, 499, 529]), (14, [307, 319, 314, 326])];
        for (awg, printed) in rows {
            let make = |strands, surface| of(&format!("{awg}awg-{strands}"), surface);
            let makes = [
                make("solid", Surface::Plain),
                make("solid", Surface::Tinned),
                make("stranded", Surface::Plain),
                make("stranded", Surface::Tinned),
            ];
            for (hundredths, wire) in printed.into_iter().zip(makes) {
                let per_km =
                    f64::from(hundredths) / 100.0 / 0.3048 * (1.0 + 0.00323 * (20.0 - 75.0));
                let within = wire.least_ohm_per_km..=wire.most_ohm_per_km;
                assert!(within.contains(&per_km), "{awg}: {per_km} in {wire:?}");
            }
        }
    }

    /// ASTM B258's geometry with 1/58 Ω mm²/m, and the National Bureau of Standards' wire table (Ω/kft at 20 °C).
    #[test]
    fn astm_b258_is_the_middle_of_solid_plain() {
        for (awg, per_kft) in
            [(14, 2.525), (16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14), (24, 25.67)]
        {
            let wire = of(&format!("{awg}awg-solid"), Surface::Plain);
            let middle = f64::midpoint(wire.least_ohm_per_km, wire.most_ohm_per_km) * 0.3048;
            assert!((middle / per_kft - 1.0).abs() < 4e-4, "{awg}: {middle}");
        }
    }

    /// IEC 60228:2004, tables 1 and 3: the most of classes 1 and 5, plain and metal-coated.
    #[test]
    fn iec_60228_is_the_most_of_the_metric_sizes() {
        for (mm2, most) in [
            (0.5, [36.0, 36.7, 39.0, 40.1]),
            (0.75, [24.5, 24.8, 26.0, 26.7]),
            (1.5, [12.1, 12.2, 13.3, 13.7]),
        ] {
            let make =
                |strands, surface| of(&format!("{mm2}mm2-{strands}"), surface).most_ohm_per_km;
            let [plain, tinned] = [Surface::Plain, Surface::Tinned];
            let found = [
                make("solid", plain),
                make("solid", tinned),
                make("stranded", plain),
                make("stranded", tinned),
            ];
            assert_eq!(found, most, "{mm2}");
        }
    }

    #[test]
    fn what_is_told_narrows_and_what_is_not_widens() {
        let told = Declared {
            gauge: "18awg-solid".parse().ok(),
            surface: Some(Surface::Plain),
            wire_tolerance_percent: Some(1.0),
            ..Declared::default()
        };
        let told = wire(&told).expect("a gauge");
        let any = of("18awg", Surface::Plain);
        let solid = of("18awg-solid", Surface::Plain);
        assert!(told.most_ohm_per_km < solid.most_ohm_per_km);
        assert!(solid.most_ohm_per_km < any.most_ohm_per_km);
        let own = Declared { ohm_per_km: Some(20.34), ..Declared::default() };
        let own = wire(&own).expect("a number");
        assert!((own.most_ohm_per_km / 20.34 - 1.02).abs() < 1e-9);
        assert_eq!(wire(&Declared::default()), None);
    }

    #[test]
    fn the_next_size_begins_halfway() {
        let wire = of("18awg-solid", Surface::Plain);
        let gauge = "18awg-solid".parse().expect("a gauge");
        let factor = halfway_to_thinner_ohm_per_km(&wire, gauge) / 20.948;
        assert!((1.10..1.14).contains(&factor), "{factor}");
    }
}
