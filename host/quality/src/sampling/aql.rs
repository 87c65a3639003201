//! Acceptance quality limits: the 26 that the tables have.

use serde::{Deserialize, Serialize};

use super::NoInspection;

/// An acceptance quality limit of the tables. Up to 10 it may be percent nonconforming units or nonconformities per
/// 100 units, above only the latter (MIL-STD-105E 4.4).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Aql(u8);

impl Aql {
    pub(super) const COUNT: usize = 26;

    /// The AQLs that there are, in percent.
    pub const PERCENT: [f64; Self::COUNT] = [
        0.010, 0.015, 0.025, 0.040, 0.065, 0.10, 0.15, 0.25, 0.40, 0.65, 1.0, 1.5, 2.5, 4.0, 6.5,
        10.0, 15.0, 25.0, 40.0, 65.0, 100.0, 150.0, 250.0, 400.0, 650.0, 1000.0,
    ];

    /// The AQL of `percent`; one in a million off is taken for it.
    ///
    /// # Errors
    ///
    /// [`NoInspection::NotAnAql`], with the nearest that there are.
    pub fn from_percent(percent: f64) -> Result<Self, NoInspection> {
        let same = |one: &f64| (one - percent).abs() <= 1e-6 * one;
        let index = Self::PERCENT.iter().position(same);
        index.map(|index| Self(index as u8)).ok_or_else(|| NoInspection::NotAnAql {
            percent,
            below: Self::PERCENT.into_iter().rfind(|one| *one < percent),
            above: Self::PERCENT.into_iter().find(|one| *one > percent),
        })
    }

    /// In percent, or nonconformities per 100 units.
    #[must_use]
    pub const fn percent(self) -> f64 {
        Self::PERCENT[self.0 as usize]
    }

    /// All of them, the strictest first.
    pub fn all() -> impl Iterator<Item = Self> {
        (0..Self::COUNT as u8).map(Self)
    }

    /// The next stricter one; none of 0.010.
    #[must_use]
    pub fn one_step_tighter(self) -> Option<Self> {
        self.0.checked_sub(1).map(Self)
    }

    /// Whether it can be a fraction of units that do not conform: not above 10.
    #[must_use]
    pub fn may_be_of_units(self) -> bool {
        self.percent() <= 10.0
    }

    pub(super) const fn index(self) -> usize {
        self.0 as usize
    }
}

impl TryFrom<f64> for Aql {
    type Error = NoInspection;

    fn try_from(percent: f64) -> Result<Self, NoInspection> {
        Self::from_percent(percent)
    }
}

impl From<Aql> for f64 {
    fn from(aql: Aql) -> Self {
        aql.percent()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_none_names_its_neighbours() {
        assert_eq!(
            Aql::from_percent(2.0),
            Err(NoInspection::NotAnAql { percent: 2.0, below: Some(1.5), above: Some(2.5) })
        );
        for (percent, below, above) in
            [(0.0, None, Some(0.01)), (-1.0, None, Some(0.01)), (1e9, Some(1000.0), None)]
        {
            let error = Err(NoInspection::NotAnAql { percent, below, above });
            assert_eq!(Aql::from_percent(percent), error);
        }
        for percent in [f64::NAN, f64::INFINITY] {
            assert!(Aql::from_percent(percent).is_err());
        }
    }

    #[test]
    fn each_is_found_by_its_percent() {
        for aql in Aql::all() {
            assert_eq!(Aql::from_percent(aql.percent()), Ok(aql));
        }
        assert_eq!(Aql::from_percent(0.1 + 0.2 + 0.1), Aql::from_percent(0.4));
    }
}
