//! What a copper conductor must have by its gauge, length and temperature.

mod celsius;
mod gauge;
mod iec_60228;
mod length;
mod surface;

pub use celsius::CelsiusRange;
pub(crate) use celsius::PER_KELVIN_AT_20_C;
pub(crate) use gauge::OHM_MM2_PER_M;
pub use gauge::{Gauge, Size, Strands};
pub(crate) use iec_60228::Row;
pub use length::Length;
use serde::Serialize;
pub use surface::Surface;

/// A text is not a gauge, a length or a temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("must be {0}")]
pub struct NotCopper(pub(crate) &'static str);

/// The resistance of one conductor, as it is calculated.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Calculated {
    /// The middle of the interval.
    pub ohm: f64,
    /// The least that gauge and temperature allow.
    pub least_ohm: f64,
    /// The most.
    pub most_ohm: f64,
}

impl Calculated {
    /// Standard uncertainty of what may lie anywhere in the interval (JCGM 100:2008, 4.3.7).
    pub(crate) fn u_ohm(&self) -> f64 {
        (self.most_ohm - self.least_ohm) / 2.0 / 3.0_f64.sqrt()
    }
}

/// One conductor of this gauge and length, at this temperature.
#[must_use]
pub fn expected_ohm(gauge: Gauge, length: Length, temperature: CelsiusRange) -> Calculated {
    let [least_ohm, most_ohm] = gauge.ohm_per_m(temperature).map(|per_m| per_m * length.metres());
    Calculated { ohm: f64::midpoint(least_ohm, most_ohm), least_ohm, most_ohm }
}

/// A number and the unit behind it, in small letters and without spaces.
pub(crate) fn number_and_unit(text: &str) -> Option<(f64, String)> {
    let text: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let unit_at = text.find(|c: char| c.is_alphabetic() || c == '°').unwrap_or(text.len());
    let (number, unit) = text.split_at(unit_at);
    let number: f64 = number.replace('−', "-").parse().ok()?;
    number.is_finite().then(|| (number, unit.to_lowercase()))
}

#[cfg(test)]
mod tests {
    use super::{Calculated, expected_ohm};

    fn calculated(gauge: &str, length: &str, temperature: &str) -> Calculated {
        let parsed = (gauge.parse(), length.parse(), temperature.parse());
        let (Ok(gauge), Ok(length), Ok(temperature)) = parsed else {
            panic!("{parsed:?}");
        };
        expected_ohm(gauge, length, temperature)
    }

    /// NFPA 70 (NEC), chapter 9, table 8: DC resistance at 75 °C in Ω/kft, copper, by gauge: solid
    /// uncoated; seven strands uncoated and coated.
    #[test]
    fn nec_chapter_9_table_8() {
        for (awg, solid, uncoated, coated) in
            [(18, 7.77, 7.95, 8.45), (16, 4.89, 4.99, 5.29), (12, 1.93, 1.98, 2.05)]
        {
            let one = calculated(&format!("{awg}awg-solid"), "1000ft", "75C");
            assert!((one.ohm / solid - 1.0).abs() < 1.5e-3, "{awg}: {one:?}");
            let many = calculated(&format!("{awg}awg-stranded"), "1000ft", "75C");
            for printed in [uncoated, coated] {
                assert!((many.least_ohm..=many.most_ohm).contains(&printed), "{awg}: {many:?}");
            }
        }
    }

    /// Wire table of the National Bureau of Standards (Handbook 100, copper wire tables): Ω/kft at
    /// 20 °C.
    #[test]
    fn nbs_copper_wire_tables() {
        for (awg, printed) in [(14, 2.525), (18, 6.385), (20, 10.15), (22, 16.14), (24, 25.67)] {
            let one = calculated(&format!("{awg}awg-solid"), "1000ft", "20C");
            assert!((one.ohm / printed - 1.0).abs() < 4e-4, "{awg}: {one:?}");
        }
    }

    /// IEC 60228:2004, table 1 (class 1) and table 3 (class 5), plain copper: the most at 20 °C, in
    /// Ω/km; and its temperature factor, annex B: R₂₀ = R 254.5/(234.5 + t).
    #[test]
    fn iec_60228() {
        for (mm2, solid, fine) in [(0.5, 36.0, 39.0), (0.75, 24.5, 26.0), (1.5, 12.1, 13.3)] {
            let one = calculated(&format!("{mm2}mm2-solid"), "1000m", "20C");
            let many = calculated(&format!("{mm2}mm2-stranded"), "1000m", "20C");
            assert!((one.most_ohm - solid).abs() < 1e-9, "{mm2}: {one:?}");
            assert!((fine..fine * 1.035).contains(&many.most_ohm), "{mm2}: {many:?}");
            let warm = calculated(&format!("{mm2}mm2-solid"), "1000m", "60C");
            assert!((warm.most_ohm * 254.5 / (234.5 + 60.0) - solid).abs() < 0.01, "{mm2}");
        }
    }

    #[test]
    fn an_unknown_temperature_or_make_only_widens_the_interval() {
        let known = calculated("18awg-solid", "100ft", "20C");
        for (gauge, temperature) in [("18awg", "20C"), ("18awg-solid", "-20..70C")] {
            let wide = calculated(gauge, "100ft", temperature);
            assert!(wide.least_ohm <= known.least_ohm && wide.most_ohm > known.most_ohm);
            assert!(wide.u_ohm() > known.u_ohm());
        }
    }
}
