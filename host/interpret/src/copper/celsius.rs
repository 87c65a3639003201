//! How warm a run may be.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::{NotCopper, number_and_unit};

/// The copper is at least and at most so warm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "[f64; 2]", into = "[f64; 2]")]
pub struct CelsiusRange {
    least_c: f64,
    most_c: f64,
}

/// Change of copper's resistance per kelvin, as a fraction of that at 20 °C (IEC 60028:1925).
pub(crate) const PER_KELVIN_AT_20_C: f64 = 0.003_93;

/// Not known: from a cold winter's yard to a hot attic. [judgement]
const UNKNOWN: CelsiusRange = CelsiusRange { least_c: -20.0, most_c: 70.0 };

/// Beyond this no cable of the kind lives. [judgement]
const POSSIBLE_C: std::ops::RangeInclusive<f64> = -60.0..=120.0;

impl CelsiusRange {
    /// The coldest, in °C.
    #[must_use]
    pub fn least_c(self) -> f64 {
        self.least_c
    }

    /// The warmest, in °C.
    #[must_use]
    pub fn most_c(self) -> f64 {
        self.most_c
    }

    /// How many times its resistance at 20 °C copper has, coldest and warmest.
    pub(crate) fn factors(self) -> [f64; 2] {
        [self.least_c, self.most_c].map(|celsius| 1.0 + PER_KELVIN_AT_20_C * (celsius - 20.0))
    }
}

impl Default for CelsiusRange {
    fn default() -> Self {
        UNKNOWN
    }
}

impl FromStr for CelsiusRange {
    type Err = NotCopper;

    fn from_str(text: &str) -> Result<Self, NotCopper> {
        let (least, most) = text.split_once("..").unwrap_or((text, text));
        let (most, unit) = number_and_unit(most).ok_or(WRONG)?;
        let (least, least_unit) = number_and_unit(least).ok_or(WRONG)?;
        if !least_unit.is_empty() && least_unit != unit {
            return Err(WRONG);
        }
        let celsius = |degrees: f64| match unit.as_str() {
            "c" | "°c" => Ok(degrees),
            "f" | "°f" => Ok((degrees - 32.0) / 1.8),
            _ => Err(WRONG),
        };
        let (least_c, most_c) = (celsius(least)?, celsius(most)?);
        Self::try_from([least_c, most_c])
    }
}

const WRONG: NotCopper = NotCopper(
    "a temperature or a range with its unit, such as 20C, 60..70C or 140..160F; within \
     −60 and 120 °C, the colder first",
);

/// The coldest and the warmest, in °C.
impl TryFrom<[f64; 2]> for CelsiusRange {
    type Error = NotCopper;

    fn try_from([least_c, most_c]: [f64; 2]) -> Result<Self, NotCopper> {
        let possible = POSSIBLE_C.contains(&least_c) && POSSIBLE_C.contains(&most_c);
        if possible && least_c <= most_c { Ok(Self { least_c, most_c }) } else { Err(WRONG) }
    }
}

impl From<CelsiusRange> for [f64; 2] {
    fn from(range: CelsiusRange) -> Self {
        [range.least_c, range.most_c]
    }
}

#[test]
fn temperatures_are_read_in_both_scales() {
    let range = |text: &str| {
        text.parse::<CelsiusRange>().map(|range| (range.least_c.round(), range.most_c.round())).ok()
    };
    assert_eq!(range("20C"), Some((20.0, 20.0)));
    assert_eq!(range("60..70C"), Some((60.0, 70.0)));
    assert_eq!(range("-10 °C .. −5 °C"), Some((-10.0, -5.0)));
    assert_eq!(range("140..158F"), Some((60.0, 70.0)));
    for wrong in ["", "20", "C", "70..60C", "20C..70F", "20..", "..20C", "500C", "nanC", "20K"] {
        assert_eq!(range(wrong), None, "{wrong}");
    }
}
