//! Exponentially weighted moving averages (NIST/SEMATECH e-Handbook 6.3.2.4): small shifts add up in them.

use serde::Serialize;

use crate::describe::NoStatistic;
use crate::{Chance, Interval};

/// The averages, and what they stay within.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ewma {
    /// After each value.
    pub averages: Vec<f64>,
    /// Three standard deviations of an average around the target.
    pub limits: Interval,
    /// Which of them are beyond, from 0.
    pub beyond: Vec<usize>,
}

/// The averages of `values` in their order, of a process that should keep `target` with the standard deviation `sigma`.
/// `weight` is λ, what a new value weighs: the handbook has 0.2 to 0.3.
///
/// # Errors
///
/// [`NoStatistic::NotNumbers`]: of any of them; sigma is above nought.
pub fn ewma(values: &[f64], target: f64, sigma: f64, weight: Chance) -> Result<Ewma, NoStatistic> {
    let numbers = values.iter().chain([&target, &sigma]).all(|value| value.is_finite());
    if !numbers || sigma <= 0.0 {
        return Err(NoStatistic::NotNumbers);
    }
    let weight = weight.value();
    let averages: Vec<f64> = values
        .iter()
        .scan(target, |average, value| {
            *average = weight * value + (1.0 - weight) * *average;
            Some(*average)
        })
        .collect();
    let limits = Interval::around(target, 3.0 * sigma * (weight / (2.0 - weight)).sqrt());
    let beyond = (0..averages.len()).filter(|at| !limits.holds(averages[*at])).collect();
    Ok(Ewma { averages, limits, beyond })
}
