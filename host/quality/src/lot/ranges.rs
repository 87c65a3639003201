//! Units by number, as people write them: `17`, `1-400`, `1-12,15`.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// Units from one to another, both among them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Range(pub u32, pub u32);

/// Several of them.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Ranges(pub Vec<Range>);

/// Why a text is no units.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoRange {
    /// Not a number, nor two with a dash between.
    #[error("`{part}` is no unit: write 17, 1-400 or 1-12,15")]
    NotUnits {
        /// What was written.
        part: String,
    },
    /// It ends before it begins.
    #[error("{from}-{to} ends before it begins")]
    Backwards {
        /// Its first.
        from: u32,
        /// Its last.
        to: u32,
    },
    /// Units are numbered from 1.
    #[error("units are numbered from 1")]
    Nought,
}

impl Ranges {
    /// Each unit, in the order in which they are written.
    pub fn units(&self) -> impl Iterator<Item = u32> + '_ {
        self.0.iter().flat_map(|range| range.0..=range.1)
    }

    /// The largest.
    #[must_use]
    pub fn last(&self) -> Option<u32> {
        self.0.iter().map(|range| range.1).max()
    }

    /// Of units in ascending order.
    #[must_use]
    pub fn of(units: impl IntoIterator<Item = u32>) -> Self {
        let mut all: Vec<Range> = vec![];
        for unit in units {
            match all.last_mut() {
                Some(last) if unit == last.1.saturating_add(1) => last.1 = unit,
                _ => all.push(Range(unit, unit)),
            }
        }
        Self(all)
    }
}

impl FromStr for Ranges {
    type Err = NoRange;

    fn from_str(text: &str) -> Result<Self, NoRange> {
        text.split(',').map(str::trim).map(range).collect::<Result<_, _>>().map(Self)
    }
}

fn range(part: &str) -> Result<Range, NoRange> {
    let not = || NoRange::NotUnits { part: part.into() };
    let number = |text: &str| text.trim().parse::<u32>().map_err(|_| not());
    let range = match part.split_once(['-', '–']) {
        None => number(part).map(|unit| Range(unit, unit))?,
        Some((from, to)) => Range(number(from)?, number(to)?),
    };
    match range {
        Range(0, _) => Err(NoRange::Nought),
        Range(from, to) if to < from => Err(NoRange::Backwards { from, to }),
        range => Ok(range),
    }
}

impl fmt::Display for Ranges {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, Range(from, to)) in self.0.iter().enumerate() {
            let between = if n == 0 { "" } else { ", " };
            match to - from {
                0 => write!(f, "{between}{from}")?,
                1 => write!(f, "{between}{from}, {to}")?,
                _ => write!(f, "{between}{from}–{to}")?,
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_as_people_write_them() {
        let read = |text: &str| text.parse::<Ranges>().map(|all| all.to_string());
        assert_eq!(read("17"), Ok("17".into()));
        assert_eq!(read(" 1-3, 5 ,7–8"), Ok("1–3, 5, 7, 8".into()));
        assert_eq!(read("0-3"), Err(NoRange::Nought));
        assert_eq!(read("9-3"), Err(NoRange::Backwards { from: 9, to: 3 }));
        for bad in ["", "1,,2", "-3", "3-", "a", "1.5", "99999999999", "1-2-3"] {
            assert!(matches!(read(bad), Err(NoRange::NotUnits { .. })), "{bad}");
        }
    }

    #[test]
    fn neighbours_are_written_as_one() {
        assert_eq!(
            Ranges::of([1, 2, 3, 7, 9, 10, u32::MAX]).to_string(),
            "1–3, 7, 9, 10, 4294967295"
        );
        assert_eq!(Ranges::of([]).to_string(), "");
        let units: Vec<u32> = "1-3,9".parse::<Ranges>().unwrap().units().collect();
        assert_eq!(units, [1, 2, 3, 9]);
    }
}
