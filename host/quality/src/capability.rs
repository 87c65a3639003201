//! Whether a process is able to keep its limits (NIST/SEMATECH e-Handbook 6.1.6).

use serde::Serialize;

use crate::distributions::{NoncentralT, chi_square_quantile, normal_quantile};
use crate::{Chance, Description, Interval, Limits, NoStatistic, root};

/// An index, and where the true one lies with the confidence asked for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Index {
    /// From the sample.
    pub value: f64,
    /// Where the true one lies.
    pub interval: Interval,
}

/// What a process that is steady and normal can do; of any other these numbers say nothing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Capability {
    /// Cp, the width of the limits in six standard deviations, with an exact interval (chi-square). Only of two limits.
    pub cp: Option<Index>,
    /// The distance of the mean from the upper limit in three standard deviations, with an exact interval (noncentral t).
    pub cpu: Option<Index>,
    /// The same from the lower limit.
    pub cpl: Option<Index>,
    /// Cpk, the smaller of the two. With one limit its interval is exact, with two Bissell's approximation, ± z
    /// √(1 / 9n + Cpk² / 2(n − 1)).
    pub cpk: Index,
    /// Cpm, which counts the distance from the target as well; where there is one and two limits.
    pub cpm: Option<f64>,
}

/// What `sample` shows of the process that it is from. Intervals hold the true value with `confidence`, in the middle.
///
/// # Errors
///
/// [`NoStatistic::NoVariation`] of a sample that does not vary, [`NoStatistic::NotNumbers`] of limits or a target that are
/// none.
pub fn capability(
    sample: &Description,
    limits: Limits,
    target: Option<f64>,
    confidence: Chance,
) -> Result<Capability, NoStatistic> {
    let (lower, upper) = limits.ends().ok_or(NoStatistic::NotNumbers)?;
    let (mean, deviation) = (sample.mean(), sample.standard_deviation());
    if target.is_some_and(|target| !target.is_finite()) {
        return Err(NoStatistic::NotNumbers);
    }
    if deviation == 0.0 {
        return Err(NoStatistic::NoVariation);
    }
    let one = |distance: Option<f64>| {
        distance.map(|distance| one_sided(sample, distance / (3.0 * deviation), confidence))
    };
    let cpu = one(upper.map(|upper| upper - mean)).transpose()?;
    let cpl = one(lower.map(|lower| mean - lower)).transpose()?;
    let width = lower.zip(upper).map(|(lower, upper)| upper - lower);
    let cp = width.map(|width| two_sided(sample, width / (6.0 * deviation), confidence));
    let cpk = match (cpu, cpl) {
        (Some(cpu), Some(cpl)) => nearer(sample, cpu.value.min(cpl.value), confidence),
        (one, other) => one.or(other).ok_or(NoStatistic::NotNumbers)?,
    };
    let cpm =
        width.zip(target).map(|(width, target)| width / (6.0 * deviation.hypot(mean - target)));
    Ok(Capability { cp: cp.transpose()?, cpu, cpl, cpk, cpm })
}

fn two_sided(sample: &Description, value: f64, confidence: Chance) -> Result<Index, NoStatistic> {
    let degrees_of_freedom = sample.degrees_of_freedom();
    let beyond = 0.5 * confidence.contrary();
    let end = |chance: f64| {
        let quantile = chi_square_quantile(degrees_of_freedom, chance);
        finite(quantile.map(|quantile| value * (quantile / degrees_of_freedom).sqrt()))
    };
    Ok(Index { value, interval: Interval { least: end(beyond)?, most: end(1.0 - beyond)? } })
}

/// 3 √n times the index is noncentral t, with 3 √n times the true one as its noncentrality.
fn one_sided(sample: &Description, value: f64, confidence: Chance) -> Result<Index, NoStatistic> {
    let scale = 3.0 * (sample.count() as f64).sqrt();
    let t = scale * value;
    let beyond = 0.5 * confidence.contrary();
    let degrees_of_freedom = sample.degrees_of_freedom();
    let distribution = |true_one: f64| NoncentralT::new(degrees_of_freedom, scale * true_one);
    let end = |falling: &dyn Fn(f64) -> f64| {
        let high = root::beyond(value.abs().max(1.0), falling);
        let low = root::beyond(value.abs().max(1.0), |distance| -falling(-distance));
        finite(high.zip(low).map(|(high, low)| root::of_falling(-low, high, falling)))
    };
    let least = end(&|true_one| beyond - distribution(true_one).more_than(t))?;
    let most = end(&|true_one| distribution(true_one).at_most(t) - beyond)?;
    Ok(Index { value, interval: Interval { least, most } })
}

fn nearer(sample: &Description, value: f64, confidence: Chance) -> Index {
    let n = sample.count() as f64;
    let z = Chance::new(0.5 * confidence.contrary())
        .map_or(f64::INFINITY, |beyond| -normal_quantile(beyond));
    let deviation =
        (9.0 * n).sqrt().recip().hypot(value / (2.0 * sample.degrees_of_freedom()).sqrt());
    Index { value, interval: Interval::around(value, z * deviation) }
}

fn finite(value: Option<f64>) -> Result<f64, NoStatistic> {
    value.filter(|value| value.is_finite()).ok_or(NoStatistic::NotNumbers)
}
