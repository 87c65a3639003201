//! Cumulative sums (NIST/SEMATECH e-Handbook 6.3.2.3, the tabular form).

use serde::Serialize;

use crate::describe::NoStatistic;

/// What a cumulative sum is held against, in the unit of the values.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Cusum {
    /// What the process should keep.
    pub target: f64,
    /// k: half the shift that is to be found.
    pub allowance: f64,
    /// h: what a sum stays within.
    pub decision_interval: f64,
}

/// The sums after a value.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CusumPoint {
    /// By how much the values were too high.
    pub high: f64,
    /// By how much they were too low.
    pub low: f64,
    /// Whether either is beyond the decision interval.
    pub signal: bool,
}

/// The sums of `values` in their order.
///
/// # Errors
///
/// [`NoStatistic::NotNumbers`]: of any of them; allowance and decision interval are not negative.
pub fn cusum(values: &[f64], of: &Cusum) -> Result<Vec<CusumPoint>, NoStatistic> {
    let given = [&of.target, &of.allowance, &of.decision_interval];
    let numbers = values.iter().chain(given).all(|value| value.is_finite());
    if !numbers || of.allowance < 0.0 || of.decision_interval < 0.0 {
        return Err(NoStatistic::NotNumbers);
    }
    let sums = values.iter().scan((0.0_f64, 0.0_f64), |(high, low), value| {
        *high = (*high + value - of.target - of.allowance).max(0.0);
        *low = (*low + of.target - of.allowance - value).max(0.0);
        let signal = *high > of.decision_interval || *low > of.decision_interval;
        Some(CusumPoint { high: *high, low: *low, signal })
    });
    Ok(sums.collect())
}
