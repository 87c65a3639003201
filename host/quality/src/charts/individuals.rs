//! Individuals and moving range (NIST/SEMATECH e-Handbook 6.3.2.2).

use serde::Serialize;

use super::{Signal, signals};
use crate::Interval;
use crate::describe::{NoStatistic, deviations, sum};

/// Limits for single measurements, and for how much each differs from the one before.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Individuals {
    /// The mean of the measurements that the limits are from.
    pub centre: f64,
    /// Their standard deviation within the short time between two, by the moving range.
    pub sigma: f64,
    /// Three sigma around the centre.
    pub limits: Interval,
    /// The mean difference between neighbours.
    pub mean_moving_range: f64,
    /// What a difference between neighbours stays below.
    pub moving_range_limit: f64,
}

/// d2 of two, what the mean range of two has in standard deviations; as the handbook rounds it.
const D2: f64 = 1.128;
/// D4 of two; as the handbook rounds it.
const D4: f64 = 3.267;

impl Individuals {
    /// From measurements, in their order, of a time in which all was well.
    ///
    /// # Errors
    ///
    /// [`NoStatistic`]: of at least two that are not all the same.
    pub fn of(values: &[f64]) -> Result<Self, NoStatistic> {
        let (centre, _) = deviations(values)?;
        let ranges = values.windows(2).map(|pair| (pair[1] - pair[0]).abs());
        let mean_moving_range = sum(ranges) / (values.len() - 1) as f64;
        if mean_moving_range == 0.0 {
            return Err(NoStatistic::NoVariation);
        }
        let sigma = mean_moving_range / D2;
        if !(centre.abs() + 3.0 * sigma).is_finite() {
            return Err(NoStatistic::NotNumbers);
        }
        Ok(Self {
            centre,
            sigma,
            limits: Interval::around(centre, 3.0 * sigma),
            mean_moving_range,
            moving_range_limit: D4 * mean_moving_range,
        })
    }

    /// Where `values`, in their order, break a rule.
    ///
    /// # Errors
    ///
    /// [`NoStatistic::NotNumbers`].
    pub fn signals(&self, values: &[f64]) -> Result<Vec<Signal>, NoStatistic> {
        signals(values, self.centre, self.sigma)
    }
}
