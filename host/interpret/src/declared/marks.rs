//! The footage that is printed on a jacket, at both ends of a reel.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::copper::{NotCopper, number_and_unit};

/// The marks nearest to the two ends, in metres, the smaller first: what lies between them is the length.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "[f64; 2]", into = "[f64; 2]")]
pub struct Marks {
    from_m: f64,
    to_m: f64,
}

const METRES_PER_FOOT: f64 = 0.3048;

/// Marks are counted on from reel to reel; what lies between two is one reel. [judgement]
const MARK_M_MAX: f64 = 100_000.0;
const BETWEEN_M: std::ops::RangeInclusive<f64> = 0.5..=10_000.0;

impl Marks {
    /// From one mark to the other.
    #[must_use]
    pub fn metres(self) -> f64 {
        self.to_m - self.from_m
    }
}

/// Whichever end is which.
impl TryFrom<[f64; 2]> for Marks {
    type Error = NotCopper;

    fn try_from([a, b]: [f64; 2]) -> Result<Self, NotCopper> {
        let marks = Self { from_m: a.min(b), to_m: a.max(b) };
        let possible = marks.from_m >= 0.0 && marks.to_m <= MARK_M_MAX;
        if possible && BETWEEN_M.contains(&marks.metres()) { Ok(marks) } else { Err(WRONG) }
    }
}

impl From<Marks> for [f64; 2] {
    fn from(marks: Marks) -> Self {
        [marks.from_m, marks.to_m]
    }
}

impl FromStr for Marks {
    type Err = NotCopper;

    fn from_str(text: &str) -> Result<Self, NotCopper> {
        let (from, to) = text.split_once("..").ok_or(WRONG)?;
        let (to, unit) = number_and_unit(to).ok_or(WRONG)?;
        let (from, from_unit) = number_and_unit(from).ok_or(WRONG)?;
        if !from_unit.is_empty() && from_unit != unit {
            return Err(WRONG);
        }
        let per_unit = match unit.as_str() {
            "ft" => METRES_PER_FOOT,
            "m" => 1.0,
            _ => return Err(WRONG),
        };
        Self::try_from([from * per_unit, to * per_unit])
    }
}

const WRONG: NotCopper = NotCopper(
    "the marks at both ends with their unit, such as 102ft..348ft or 31..106m; 0.5 m to 10 km apart",
);

#[test]
fn marks_are_read_whichever_end_is_which() {
    let metres =
        |text: &str| text.parse::<Marks>().map(|marks| (marks.metres() * 1e4).round()).ok();
    assert_eq!(metres("102ft..348ft"), Some(749_808.0));
    assert_eq!(metres("348..102 ft"), Some(749_808.0));
    assert_eq!(metres("31..106.5m"), Some(755_000.0));
    for wrong in
        ["", "102ft", "102ft..348m", "5m..5m", "-1m..30m", "0m..nanm", "0..348", "0m..1e9m"]
    {
        assert_eq!(metres(wrong), None, "{wrong}");
    }
}
