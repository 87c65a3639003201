//! How long a run is.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::{NotCopper, number_and_unit};

/// A length above 0.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Length {
    metres: f64,
}

/// The international foot, exactly.
const METRES_PER_FOOT: f64 = 0.3048;

/// No control run is longer. [judgement]
const METRES_MAX: f64 = 10_000.0;

impl Length {
    /// In metres.
    #[must_use]
    pub fn metres(self) -> f64 {
        self.metres
    }

    /// In feet.
    #[must_use]
    pub fn feet(self) -> f64 {
        self.metres / METRES_PER_FOOT
    }

    /// Of so many metres, if that is a length of a run.
    #[must_use]
    pub fn from_metres(metres: f64) -> Option<Self> {
        (metres > 0.0 && metres <= METRES_MAX).then_some(Self { metres })
    }
}

impl FromStr for Length {
    type Err = NotCopper;

    fn from_str(text: &str) -> Result<Self, NotCopper> {
        let metres = match number_and_unit(text) {
            Some((number, unit)) if unit == "ft" => Some(number * METRES_PER_FOOT),
            Some((number, unit)) if unit == "m" => Some(number),
            _ => None,
        };
        metres.and_then(Self::from_metres).ok_or(NOT_A_LENGTH)
    }
}

const NOT_A_LENGTH: NotCopper =
    NotCopper("a length with its unit, such as 100ft or 30m; 10 km at most");

/// Of so many metres.
impl TryFrom<f64> for Length {
    type Error = NotCopper;

    fn try_from(metres: f64) -> Result<Self, NotCopper> {
        Self::from_metres(metres).ok_or(NOT_A_LENGTH)
    }
}

/// In metres.
impl From<Length> for f64 {
    fn from(length: Length) -> Self {
        length.metres
    }
}

#[test]
fn lengths_need_their_unit() {
    let metres = |text: &str| text.parse::<Length>().map(Length::metres).ok();
    assert_eq!(metres("30m"), Some(30.0));
    assert_eq!(metres("100 ft"), Some(30.48));
    assert_eq!(metres("5.5FT").map(|m| (m * 1e6).round()), Some(1_676_400.0));
    for wrong in ["", "30", "m", "-1m", "0m", "infm", "nanft", "1e9m", "30mm", "30 m 2"] {
        assert_eq!(metres(wrong), None, "{wrong}");
    }
}
