//! Whether check measurements still show what they should, and whether they creep.

use serde::Serialize;

use crate::describe::{Description, NoStatistic, deviations, enough, sum};
use crate::distributions::students_t_within;
use crate::{Chance, Interval};

/// A number with the interval that holds the true one with the confidence asked for, by Student's t.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Estimate {
    /// The most likely.
    pub value: f64,
    /// Where the true one lies.
    pub interval: Interval,
    /// What it is from: n less what was fitted.
    pub degrees_of_freedom: usize,
}

impl Estimate {
    /// Whether the true one is not nought, at that confidence. What is not shown may still be so.
    #[must_use]
    pub fn is_shown(&self) -> bool {
        !self.interval.holds(0.0)
    }

    fn of(
        value: f64,
        standard_error: f64,
        degrees_of_freedom: usize,
        confidence: Chance,
    ) -> Result<Self, NoStatistic> {
        let within = students_t_within(degrees_of_freedom as f64, confidence);
        let half_width = within.ok_or(NoStatistic::NotNumbers)? * standard_error;
        if !(value.is_finite() && half_width.is_finite()) {
            return Err(NoStatistic::NotNumbers);
        }
        Ok(Self { value, interval: Interval::around(value, half_width), degrees_of_freedom })
    }
}

/// By how much the mean of measurements is above `reference`, in their unit.
///
/// # Errors
///
/// [`NoStatistic`]: of at least two.
pub fn offset(values: &[f64], reference: f64, confidence: Chance) -> Result<Estimate, NoStatistic> {
    let description = Description::of(values)?;
    let standard_error = description.standard_deviation() / (values.len() as f64).sqrt();
    Estimate::of(description.mean() - reference, standard_error, values.len() - 1, confidence)
}

/// How fast measurements creep: the slope of the straight line through points of time and value, in the unit of the value
/// per unit of time.
///
/// # Errors
///
/// [`NoStatistic`]: of at least three, at times that are not all the same.
pub fn slope(points: &[(f64, f64)], confidence: Chance) -> Result<Estimate, NoStatistic> {
    enough(3, points.len())?;
    let [times, values] = [|point: &(f64, f64)| point.0, |point: &(f64, f64)| point.1]
        .map(|part| deviations(&points.iter().map(part).collect::<Vec<_>>()));
    let (times, values) = (times?.1, values?.1);
    let squares = sum(times.iter().map(|time| time * time));
    if squares == 0.0 {
        return Err(NoStatistic::NoVariation);
    }
    let slope = sum(times.iter().zip(&values).map(|(time, value)| time * value)) / squares;
    let rest = sum(times.iter().zip(&values).map(|(time, value)| (value - slope * time).powi(2)));
    let degrees_of_freedom = points.len() - 2;
    let standard_error = (rest / degrees_of_freedom as f64 / squares).sqrt();
    Estimate::of(slope, standard_error, degrees_of_freedom, confidence)
}
