//! A conductor's size: AWG or mm², solid or stranded.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::iec_60228::{IEC_60228, Row};
use super::{CelsiusRange, NotCopper, number_and_unit};

/// Size and make of a conductor.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Gauge {
    /// How large.
    pub size: Size,
    /// Of how many wires; absent where that is not known.
    pub strands: Option<Strands>,
}

/// Size of a conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    /// American wire gauge.
    Awg(u8),
    /// Nominal cross-section, one of IEC 60228.
    Mm2(f64),
}

/// Of how many wires a conductor is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Strands {
    /// One.
    Solid,
    /// Several.
    Stranded,
}

/// Resistivity of copper at 20 °C: 1/58 Ω mm²/m (IEC 60028:1925).
pub(crate) const OHM_MM2_PER_M: f64 = 1.0 / 58.0;

/// Thinner ones are not pulled between a control and its unit, thicker ones not clipped. [judgement]
const AWG: std::ops::RangeInclusive<u8> = 10..=30;

/// Cores of 14 AWG, 2.08 mm², and thicker carry mains. [judgement]
const MAINS_AWG: u8 = 14;

/// Control cable is seldom thicker than the one or thinner than the other, 0.2 mm². [judgement]
const USUAL: [Size; 2] = [Size::Mm2(1.5), Size::Awg(24)];

/// A solid wire's diameter may be 1 % off either way (ASTM B3), so its resistance 2 %.
const SOLID: [f64; 2] = [0.98, 1.02];

/// Thinner than the thinnest row: control cable is made of it as well. [judgement]
const BELOW_IEC_60228_MM2: f64 = 0.34;

/// Stranded against solid of the same gauge. At the least seven wires of 30 AWG sold as 22 AWG:
/// 642/703 circular mils (ASTM B258), and 2 % of lay. At the most tinned: 8.45/7.77 (NFPA 70, chapter
/// 9, table 8, 18 AWG), and its rounding.
const STRANDED: [f64; 2] = [0.93, 1.09];

impl Gauge {
    /// The sizes that control cable is sold in, the thickest first, of whatever make: each other gauge,
    /// and those of the table.
    pub(crate) fn sold() -> impl Iterator<Item = Self> {
        let of = |size| Self { size, strands: None };
        let awg = AWG.step_by(2).map(move |awg| of(Size::Awg(awg)));
        awg.chain(IEC_60228.iter().rev().map(move |row| of(Size::Mm2(row.mm2))))
    }

    /// Nominal cross-section of the metal.
    pub(crate) fn nominal_mm2(&self) -> f64 {
        match self.size {
            Size::Awg(awg) => area_mm2(awg),
            Size::Mm2(mm2) => mm2,
        }
    }

    /// The next thinner one that is made, of the same make: the next number, or the next row of IEC 60228.
    pub(crate) fn next_thinner_mm2(&self) -> f64 {
        match self.size {
            Size::Awg(awg) => area_mm2(awg.saturating_add(1)),
            Size::Mm2(mm2) => {
                let thinner = IEC_60228.iter().rev().find(|row| row.mm2 < mm2);
                thinner.map_or(BELOW_IEC_60228_MM2, |row| row.mm2)
            }
        }
    }

    /// As thick as the cores of mains cable: a control run's are thinner.
    #[must_use]
    pub fn may_be_mains(&self) -> bool {
        match self.size {
            Size::Awg(awg) => awg <= MAINS_AWG,
            Size::Mm2(mm2) => mm2 >= area_mm2(MAINS_AWG),
        }
    }

    /// The least and the most that a metre of any usual control cable may have.
    pub(crate) fn usual_ohm_per_m(temperature: CelsiusRange) -> [f64; 2] {
        let of = |size| Self { size, strands: None }.ohm_per_m(temperature);
        let [[least, _], [_, most]] = USUAL.map(of);
        [least, most]
    }

    /// The least and the most that a metre may have.
    pub(crate) fn ohm_per_m(&self, temperature: CelsiusRange) -> [f64; 2] {
        let [least, most] = self.ohm_per_m_at_20_c();
        let [coldest, warmest] = temperature.factors();
        [least * coldest, most * warmest]
    }

    /// The least and the most that a metre may have at 20 °C.
    fn ohm_per_m_at_20_c(&self) -> [f64; 2] {
        match self.size {
            Size::Awg(awg) => {
                let solid = OHM_MM2_PER_M / area_mm2(awg);
                let of_solid = match self.strands {
                    Some(Strands::Solid) => SOLID,
                    Some(Strands::Stranded) => STRANDED,
                    None => STRANDED,
                };
                of_solid.map(|factor| factor * solid)
            }
            Size::Mm2(mm2) => {
                let row = Row::of(mm2);
                let most_per_km = match self.strands {
                    Some(Strands::Solid) => row.solid_plain,
                    Some(Strands::Stranded) | None => row.fine_tinned,
                };
                // No maker gives away more copper than the nominal cross-section. [judgement]
                [OHM_MM2_PER_M / mm2, most_per_km / 1e3]
            }
        }
    }
}

/// The diameter is 0.005 in × 92^((36 − n)/39) (ASTM B258).
fn area_mm2(awg: u8) -> f64 {
    let diameter_mm = 0.127 * 92.0_f64.powf((36.0 - f64::from(awg)) / 39.0);
    std::f64::consts::PI / 4.0 * diameter_mm * diameter_mm
}

impl FromStr for Gauge {
    type Err = NotCopper;

    fn from_str(text: &str) -> Result<Self, NotCopper> {
        const WRONG: NotCopper = NotCopper(
            "a gauge: 10awg to 30awg, or 0.5, 0.75, 1, 1.5, 2.5 or 4 with mm2; with -solid or \
             -stranded behind it where that is known",
        );
        let (size, strands) = match text.trim().rsplit_once(['-', ' ']) {
            Some((size, "solid")) => (size, Some(Strands::Solid)),
            Some((size, "stranded")) => (size, Some(Strands::Stranded)),
            _ => (text, None),
        };
        let (number, unit) = number_and_unit(size).ok_or(WRONG)?;
        let size = match unit.as_str() {
            "awg" => {
                let awg = AWG.into_iter().find(|awg| f64::from(*awg) == number);
                Size::Awg(awg.ok_or(WRONG)?)
            }
            "mm2" | "mm²" if IEC_60228.iter().any(|row| row.mm2 == number) => Size::Mm2(number),
            _ => return Err(WRONG),
        };
        Ok(Self { size, strands })
    }
}

impl fmt::Display for Gauge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.size {
            Size::Awg(awg) => write!(f, "{awg} AWG")?,
            Size::Mm2(mm2) => write!(f, "{mm2} mm²")?,
        }
        match self.strands {
            Some(Strands::Solid) => f.write_str(" solid"),
            Some(Strands::Stranded) => f.write_str(" stranded"),
            None => Ok(()),
        }
    }
}

impl TryFrom<String> for Gauge {
    type Error = NotCopper;

    fn try_from(text: String) -> Result<Self, NotCopper> {
        text.parse()
    }
}

impl From<Gauge> for String {
    fn from(gauge: Gauge) -> Self {
        gauge.to_string()
    }
}

#[test]
fn gauges_are_read_and_written() {
    for (text, written) in [
        ("18awg", "18 AWG"),
        ("22 AWG-stranded", "22 AWG stranded"),
        ("0.75mm2", "0.75 mm²"),
        ("1.5 mm² solid", "1.5 mm² solid"),
    ] {
        assert_eq!(text.parse::<Gauge>().map(|gauge| gauge.to_string()).as_deref(), Ok(written));
    }
    for wrong in ["", "18", "awg", "5awg", "18.5awg", "0.8mm2", "nanawg", "18awg-tinned", "18swg"] {
        assert!(wrong.parse::<Gauge>().is_err(), "{wrong}");
    }
}

#[test]
fn what_may_be_mains_is_told_apart() {
    for (text, thick) in [
        ("14awg", true),
        ("10awg-solid", true),
        ("2.5mm2", true),
        ("15awg", false),
        ("18awg", false),
        ("1.5mm2", false),
    ] {
        let gauge: Gauge = text.parse().expect("a gauge");
        assert_eq!(gauge.may_be_mains(), thick, "{text}");
    }
}

/// ASTM B258, table 1: diameters in mil, rounded to 0.1.
#[test]
fn diameters_are_those_of_the_standard() {
    for (awg, mil) in [(14, 64.1), (16, 50.8), (18, 40.3), (20, 32.0), (22, 25.3), (24, 20.1)] {
        let diameter_mil = (area_mm2(awg) * 4.0 / std::f64::consts::PI).sqrt() / 0.0254;
        assert!((diameter_mil - mil).abs() <= 0.051, "{awg}: {diameter_mil}");
    }
}
