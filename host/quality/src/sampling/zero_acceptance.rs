//! The smallest sample that finds a lot which is not to be accepted, where one nonconforming unit rejects the lot.

use serde::Serialize;

use super::Plan;
use crate::{Chance, Fraction, counts};

/// A plan with the acceptance number nought, made for one lot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ZeroAcceptance {
    /// Units in the lot.
    pub lot_size: u32,
    /// The fewest nonconforming units with which the lot is as bad as the limit.
    pub nonconforming_at_limit: u32,
    /// The sample, and nought and one.
    pub plan: Plan,
    /// The chance that a lot with just so many is accepted: not above the risk asked for.
    pub consumers_risk: f64,
}

/// Why there is no such plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoZeroAcceptance {
    /// A lot without a unit.
    #[error("a lot has at least one unit")]
    NoUnits,
    /// Any lot would be as bad as the limit.
    #[error("the limiting quality is above nought: every lot has at least no nonconforming unit")]
    NoLimit,
}

/// The smallest sample with which a lot of `lot_size` units, of which `limit` (LTPD, RQL) or more do not conform, is
/// accepted with no more than `risk`: by the hypergeometric distribution, exact. A limit that is no whole number of units
/// is the next larger one, the best lot that is as bad as the limit.
///
/// # Errors
///
/// [`NoZeroAcceptance`].
pub fn zero_acceptance(
    lot_size: u32,
    limit: Fraction,
    risk: Chance,
) -> Result<ZeroAcceptance, NoZeroAcceptance> {
    if lot_size == 0 {
        return Err(NoZeroAcceptance::NoUnits);
    }
    if limit == Fraction::NONE {
        return Err(NoZeroAcceptance::NoLimit);
    }
    let units = limit.value() * f64::from(lot_size);
    // 5 % of 40 are 2, whatever the last digit of the product says.
    let nonconforming = ((units * (1.0 - 4.0 * f64::EPSILON)).ceil() as u32).clamp(1, lot_size);
    // All of them tested, one is found.
    let (mut too_few, mut enough) = (0, lot_size);
    while enough - too_few > 1 {
        let middle = too_few + (enough - too_few) / 2;
        if counts::none_found(lot_size, nonconforming, middle, risk.value()) <= risk.value() {
            enough = middle;
        } else {
            too_few = middle;
        }
    }
    Ok(ZeroAcceptance {
        lot_size,
        nonconforming_at_limit: nonconforming,
        plan: Plan::of_table(enough, 0, 1),
        consumers_risk: counts::none_found(lot_size, nonconforming, enough, 0.0),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan(lot_size: u32, limit: f64, risk: f64) -> ZeroAcceptance {
        let (limit, risk) = (Fraction::new(limit).unwrap(), Chance::new(risk).unwrap());
        zero_acceptance(lot_size, limit, risk).unwrap()
    }

    #[test]
    fn of_forty_units_with_one_bad_all_but_the_risk_are_tested() {
        // One of 40 is missed by 36 with 4 / 40.
        let found = plan(40, 0.025, 0.10);
        assert_eq!((found.nonconforming_at_limit, found.plan.sample_size()), (1, 36));
        assert!((found.consumers_risk - 0.1).abs() < 1e-15);
        // Of 2, by 27 of 40 with (13 · 12) / (40 · 39) = 0.1; by 26 with more.
        let found = plan(40, 0.05, 0.10);
        assert_eq!((found.nonconforming_at_limit, found.plan.sample_size()), (2, 27));
    }

    #[test]
    fn a_limit_between_two_counts_is_the_larger() {
        assert_eq!(plan(40, 0.051, 0.1).nonconforming_at_limit, 3);
        assert_eq!(plan(10, 0.3, 0.1).nonconforming_at_limit, 3);
        assert_eq!(plan(7, 1e-9, 0.1).nonconforming_at_limit, 1);
    }

    #[test]
    fn extremes_have_a_plan_or_a_reason() {
        let risk = Chance::new(0.1).unwrap();
        let half = Fraction::new(0.5).unwrap();
        assert_eq!(zero_acceptance(0, half, risk), Err(NoZeroAcceptance::NoUnits));
        assert_eq!(zero_acceptance(9, Fraction::NONE, risk), Err(NoZeroAcceptance::NoLimit));
        assert_eq!(plan(1, 1.0, 0.1).plan.sample_size(), 1);
        assert_eq!(plan(u32::MAX, 1.0, 0.1).plan.sample_size(), 1);
        // As of a lot without end: ln 0.1 / ln 0.9.
        assert_eq!(plan(u32::MAX, 0.1, 0.1).plan.sample_size(), 22);
        assert_eq!(plan(u32::MAX, 1e-12, 0.1).plan.sample_size(), 3_865_470_566);
    }
}
