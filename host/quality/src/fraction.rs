//! Fractions and chances, which percents are not taken for.

use serde::{Deserialize, Serialize};

/// A part of a whole, from 0 to 1, both of them as well.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Fraction(f64);

/// A risk or a confidence, above 0 and below 1.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Chance(f64);

/// Not a number, or out of range.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NotAFraction {
    /// Not from 0 to 1.
    #[error("{0} is not a fraction: it is from 0 to 1, or from 0 to 100 percent")]
    Fraction(f64),
    /// Not between 0 and 1.
    #[error(
        "{0} is not a risk or a confidence: it is above 0 and below 1, or between 0 and 100 percent"
    )]
    Chance(f64),
}

impl Fraction {
    /// Nothing of the whole.
    pub const NONE: Self = Self(0.0);

    /// # Errors
    ///
    /// [`NotAFraction::Fraction`] outside 0 to 1, and for what is no number.
    pub fn new(value: f64) -> Result<Self, NotAFraction> {
        if (0.0..=1.0).contains(&value) {
            Ok(Self(value))
        } else {
            Err(NotAFraction::Fraction(value))
        }
    }

    /// # Errors
    ///
    /// [`NotAFraction::Fraction`] outside 0 to 100, and for what is no number.
    pub fn from_percent(percent: f64) -> Result<Self, NotAFraction> {
        Self::new(percent / 100.0)
    }

    /// From 0 to 1.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }
}

impl Chance {
    /// 0.1 %.
    pub(crate) const ONE_IN_A_THOUSAND: Self = Self(0.001);
    /// 5 %.
    pub const ONE_IN_TWENTY: Self = Self(0.05);
    /// 10 %.
    pub const ONE_IN_TEN: Self = Self(0.1);
    /// 95 %.
    pub const NINETEEN_IN_TWENTY: Self = Self(0.95);

    /// # Errors
    ///
    /// [`NotAFraction::Chance`] for 0, 1, what is beyond them, and what is no number.
    pub fn new(value: f64) -> Result<Self, NotAFraction> {
        if value > 0.0 && value < 1.0 { Ok(Self(value)) } else { Err(NotAFraction::Chance(value)) }
    }

    /// # Errors
    ///
    /// [`NotAFraction::Chance`] for 0, 100, what is beyond them, and what is no number.
    pub fn from_percent(percent: f64) -> Result<Self, NotAFraction> {
        Self::new(percent / 100.0)
    }

    /// Above 0, below 1.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }

    /// The chance of the contrary.
    #[must_use]
    pub fn contrary(self) -> f64 {
        1.0 - self.0
    }
}

impl TryFrom<f64> for Fraction {
    type Error = NotAFraction;

    fn try_from(value: f64) -> Result<Self, NotAFraction> {
        Self::new(value)
    }
}

impl TryFrom<f64> for Chance {
    type Error = NotAFraction;

    fn try_from(value: f64) -> Result<Self, NotAFraction> {
        Self::new(value)
    }
}

impl From<Fraction> for f64 {
    fn from(fraction: Fraction) -> Self {
        fraction.0
    }
}

impl From<Chance> for f64 {
    fn from(chance: Chance) -> Self {
        chance.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_is_neither() {
        for value in [f64::NAN, f64::INFINITY, -1e-300, 1.0 + f64::EPSILON] {
            assert!(Fraction::new(value).is_err(), "{value}");
            assert!(Chance::new(value).is_err(), "{value}");
        }
        assert!(Fraction::new(0.0).is_ok() && Fraction::new(1.0).is_ok());
        assert!(Chance::new(0.0).is_err() && Chance::new(1.0).is_err());
    }
}
