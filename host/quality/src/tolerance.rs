//! Tolerance intervals of a normal characteristic (NIST/SEMATECH e-Handbook 7.2.6.3): what holds a part of all units with
//! some confidence, told from a sample.

use serde::Serialize;

use crate::distributions::{NoncentralT, chi_square, chi_square_quantile, normal, normal_quantile};
use crate::{Chance, Description, Interval, Limits, NoStatistic, root};

/// So many standard deviations from the mean, exactly and as it is approximated elsewhere.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Factor {
    /// As the distribution has it.
    pub exact: f64,
    /// By the handbook's approximation; `None` where the sample is too small for it.
    pub approximate: Option<f64>,
}

/// What holds `part` of all units with `confidence`, on one side: exact by the noncentral t, approximate by Natrella.
///
/// # Errors
///
/// [`NoStatistic`]: of at least two values.
pub fn one_sided_factor(
    count: usize,
    part: Chance,
    confidence: Chance,
) -> Result<Factor, NoStatistic> {
    crate::describe::enough(2, count)?;
    let n = count as f64;
    let z = normal_quantile(part);
    let t = NoncentralT::new(n - 1.0, z * n.sqrt())
        .quantile(confidence.value(), confidence.contrary())
        .ok_or(NoStatistic::NotNumbers)?;
    let z_confidence = normal_quantile(confidence);
    let a = 1.0 - z_confidence.powi(2) / (2.0 * (n - 1.0));
    let b = z.powi(2) - z_confidence.powi(2) / n;
    let approximate = (z + (z.powi(2) - a * b).sqrt()) / a;
    let approximate = (a > 0.0 && approximate.is_finite()).then_some(approximate);
    Ok(Factor { exact: t / n.sqrt(), approximate })
}

/// The same on both sides of the mean: exact by integration over where the mean of the sample may lie, approximate by Howe.
///
/// # Errors
///
/// [`NoStatistic`]: of at least two values.
pub fn two_sided_factor(
    count: usize,
    part: Chance,
    confidence: Chance,
) -> Result<Factor, NoStatistic> {
    crate::describe::enough(2, count)?;
    let n = count as f64;
    let degrees_of_freedom = n - 1.0;
    let z = two_sided_quantile(part);
    let chi_square_low = chi_square_quantile(degrees_of_freedom, confidence.contrary());
    let chi_square_low = chi_square_low.ok_or(NoStatistic::NotNumbers)?;
    let howe = z * (degrees_of_freedom * (1.0 + 1.0 / n) / chi_square_low).sqrt();

    // (half width that holds the part about a mean so far off, weight)
    let nodes = half_widths(n, part);
    let confidence_of = |factor: f64| -> f64 {
        let held = |(half_width, weight): &(f64, f64)| {
            weight
                * chi_square(degrees_of_freedom, degrees_of_freedom * (half_width / factor).powi(2))
                    .1
        };
        nodes.iter().map(held).sum()
    };
    let falling = |factor: f64| confidence.value() - confidence_of(factor);
    let high = root::beyond(1.0, falling).ok_or(NoStatistic::NotNumbers)?;
    let exact = root::of_falling(0.0, high, falling);
    Ok(Factor { exact, approximate: howe.is_finite().then_some(howe) })
}

/// Where `part` of all units lie with `confidence`, in the unit of the values: below the most, above the least, or between
/// both.
///
/// # Errors
///
/// [`NoStatistic`].
pub fn tolerance_interval(
    sample: &Description,
    side: Side,
    part: Chance,
    confidence: Chance,
) -> Result<Interval, NoStatistic> {
    let factor = match side {
        Side::Both => two_sided_factor(sample.count(), part, confidence)?,
        Side::Upper | Side::Lower => one_sided_factor(sample.count(), part, confidence)?,
    };
    let mut interval = Interval::around(sample.mean(), factor.exact * sample.standard_deviation());
    match side {
        Side::Upper => interval.least = f64::NEG_INFINITY,
        Side::Lower => interval.most = f64::INFINITY,
        Side::Both => {}
    }
    Ok(interval)
}

/// Which ends a tolerance interval has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// It has no least.
    Upper,
    /// It has no most.
    Lower,
    /// It has both.
    Both,
}

/// Whether a tolerance interval lies within limits: so much of all units does, with so much confidence.
///
/// # Errors
///
/// [`NoStatistic::NotNumbers`] of limits that are none.
pub fn lies_within(interval: Interval, limits: Limits) -> Result<bool, NoStatistic> {
    let (lower, upper) = limits.ends().ok_or(NoStatistic::NotNumbers)?;
    Ok(lower.is_none_or(|lower| lower <= interval.least)
        && upper.is_none_or(|upper| interval.most <= upper))
}

/// The z that holds `part` on both sides of nought.
fn two_sided_quantile(part: Chance) -> f64 {
    // Half of what is left is a chance as well.
    Chance::new(0.5 * part.contrary()).map_or(f64::INFINITY, |beyond| -normal_quantile(beyond))
}

/// Of each place where the mean of `n` may lie, in standard deviations of a unit: the half width about it that holds `part`,
/// and its weight. By the trapezoidal rule, which is as exact as the numbers are where all falls off like a normal density.
fn half_widths(n: f64, part: Chance) -> Vec<(f64, f64)> {
    const STEP: f64 = 0.125;
    const LAST: u8 = 75;
    let nodes = (0..=LAST).map(|node| {
        let sigmas = STEP * f64::from(node);
        let density = (-0.5 * sigmas * sigmas).exp();
        let weight = if node == 0 { density } else { 2.0 * density };
        (half_width(sigmas / n.sqrt(), part), weight)
    });
    let nodes: Vec<_> = nodes.collect();
    let whole: f64 = nodes.iter().map(|(_, weight)| weight).sum();
    nodes.into_iter().map(|(half_width, weight)| (half_width, weight / whole)).collect()
}

/// The half width about `middle` that holds `part` of a standard normal population.
fn half_width(middle: f64, part: Chance) -> f64 {
    // What is beyond on either side, which has more digits than what is within.
    let falling = |half: f64| normal(middle - half) + normal(-middle - half) - part.contrary();
    let high = root::beyond(1.0, falling).unwrap_or(f64::INFINITY);
    root::of_falling(0.0, high, falling)
}
