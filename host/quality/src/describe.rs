//! A sample in a few numbers, which keep their digits where the values are large and nearly the same.

use serde::Serialize;

/// Why there is no number to tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoStatistic {
    /// Too few values.
    #[error("this takes at least {needed} values, not {given}")]
    TooFew {
        /// The fewest.
        needed: usize,
        /// Those that there are.
        given: usize,
    },
    /// A value is no finite number, or they are too large to be reckoned with.
    #[error("a value is no number, or too large to be reckoned with")]
    NotNumbers,
    /// All values are the same, where something is told by how they vary.
    #[error("all values are the same: what is told by how they vary cannot be told")]
    NoVariation,
}

/// Count, mean and standard deviation of a sample, in its own unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Description {
    count: usize,
    mean: f64,
    standard_deviation: f64,
}

impl Description {
    /// Of at least two values.
    ///
    /// # Errors
    ///
    /// [`NoStatistic::TooFew`], [`NoStatistic::NotNumbers`].
    pub fn of(values: &[f64]) -> Result<Self, NoStatistic> {
        let (mean, deviations) = deviations(values)?;
        let squares = sum(deviations.iter().map(|deviation| deviation * deviation));
        Self::from_summary(values.len(), mean, (squares / (values.len() - 1) as f64).sqrt())
    }

    /// Of a sample whose values are not at hand: its count, mean, and standard deviation over n − 1.
    ///
    /// # Errors
    ///
    /// [`NoStatistic::TooFew`], [`NoStatistic::NotNumbers`], also of a negative standard deviation.
    pub fn from_summary(
        count: usize,
        mean: f64,
        standard_deviation: f64,
    ) -> Result<Self, NoStatistic> {
        enough(2, count)?;
        if !(mean.is_finite() && standard_deviation.is_finite() && standard_deviation >= 0.0) {
            return Err(NoStatistic::NotNumbers);
        }
        Ok(Self { count, mean, standard_deviation })
    }

    /// How many values.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// Their mean.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// Their standard deviation, over n − 1.
    #[must_use]
    pub fn standard_deviation(&self) -> f64 {
        self.standard_deviation
    }

    pub(crate) fn degrees_of_freedom(&self) -> f64 {
        (self.count - 1) as f64
    }
}

/// How a value depends on the one before: the sum of products of neighbouring deviations over that of their squares, as
/// NIST's reference datasets define it.
///
/// # Errors
///
/// [`NoStatistic`].
pub fn lag_1_autocorrelation(values: &[f64]) -> Result<f64, NoStatistic> {
    let (_, deviations) = deviations(values)?;
    let squares = sum(deviations.iter().map(|deviation| deviation * deviation));
    if squares == 0.0 {
        return Err(NoStatistic::NoVariation);
    }
    let correlation = sum(deviations.windows(2).map(|pair| pair[0] * pair[1])) / squares;
    if correlation.is_finite() { Ok(correlation) } else { Err(NoStatistic::NotNumbers) }
}

/// The mean, and each value less it. What rounding the mean leaves is taken off each deviation.
pub(crate) fn deviations(values: &[f64]) -> Result<(f64, Vec<f64>), NoStatistic> {
    enough(2, values.len())?;
    if !values.iter().all(|value| value.is_finite()) {
        return Err(NoStatistic::NotNumbers);
    }
    let count = values.len() as f64;
    let near = sum(values.iter().copied()) / count;
    let rest = sum(values.iter().map(|value| value - near)) / count;
    let mean = near + rest;
    if !mean.is_finite() {
        return Err(NoStatistic::NotNumbers);
    }
    Ok((mean, values.iter().map(|value| (value - near) - rest).collect()))
}

pub(crate) fn enough(needed: usize, given: usize) -> Result<(), NoStatistic> {
    if given < needed { Err(NoStatistic::TooFew { needed, given }) } else { Ok(()) }
}

/// Neumaier's compensated sum: as if it were carried out with twice the digits.
pub(crate) fn sum(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, lost) = values.fold((0.0_f64, 0.0), |(sum, lost), value| {
        let next = sum + value;
        let (large, small) = if sum.abs() >= value.abs() { (sum, value) } else { (value, sum) };
        (next, lost + ((large - next) + small))
    });
    sum + lost
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_large_value_hides_is_not_lost() {
        assert_eq!(sum([1.0, 1e100, 1.0, -1e100].into_iter()), 2.0);
    }

    #[test]
    fn what_cannot_be_described_says_why() {
        assert_eq!(Description::of(&[]), Err(NoStatistic::TooFew { needed: 2, given: 0 }));
        assert_eq!(Description::of(&[1.0]), Err(NoStatistic::TooFew { needed: 2, given: 1 }));
        assert_eq!(Description::of(&[1.0, f64::NAN]), Err(NoStatistic::NotNumbers));
        assert_eq!(Description::of(&[f64::MAX, f64::MAX]), Err(NoStatistic::NotNumbers));
        assert_eq!(Description::of(&[f64::MAX, -f64::MAX]), Err(NoStatistic::NotNumbers));
        assert_eq!(lag_1_autocorrelation(&[2.0, 2.0]), Err(NoStatistic::NoVariation));
        assert!(Description::from_summary(9, 0.0, -1.0).is_err());
    }
}
