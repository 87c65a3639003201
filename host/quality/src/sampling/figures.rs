//! What a plan is worth: how likely lots of any quality are accepted, and what that leaves.

use serde::Serialize;

use super::{Aql, Plan};
use crate::{Chance, Fraction, counts, root};

/// A point of an operating characteristic.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OperatingPoint {
    /// Nonconforming units, of all.
    pub fraction: f64,
    /// The chance that the lot is accepted.
    pub chance_accepted: f64,
}

/// The worst quality on average that leaves inspection.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OutgoingLimit {
    /// AOQL: nonconforming units, of all that leave.
    pub fraction: f64,
    /// Where it comes from: nonconforming units, of all that are submitted.
    pub at_fraction: f64,
}

/// More units than the lot has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("a lot of {lot_size} does not have {units} units")]
pub struct NotSoMany {
    /// N.
    pub lot_size: u32,
    /// Those asked for.
    pub units: u32,
}

/// The plan accepts whatever is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("this plan accepts every lot: its acceptance number is not below its sample size")]
pub struct AlwaysAccepted;

/// Above 10 an AQL counts nonconformities, of which a unit may have several.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error(
    "an AQL of {percent} counts nonconformities per 100 units, not nonconforming units, so there is no risk by units"
)]
pub struct NoProducersRisk {
    /// The AQL.
    pub percent: f64,
}

impl Plan {
    /// The chance that a lot is accepted, which comes from a process with `fraction` nonconforming units: type B,
    /// binomial. A lot that is accepted between the two numbers is accepted.
    #[must_use]
    pub fn chance_accepted(self, fraction: Fraction) -> f64 {
        counts::binomial(self.sample_size(), fraction.value(), self.most_accepted()).0
    }

    /// The chance that it is rejected, precise where it is small as well.
    #[must_use]
    pub fn chance_rejected(self, fraction: Fraction) -> f64 {
        counts::binomial(self.sample_size(), fraction.value(), self.most_accepted()).1
    }

    /// The chance that a lot of `lot_size` is accepted, of which just `nonconforming` units are so: type A,
    /// hypergeometric. A sample larger than the lot is the lot.
    ///
    /// # Errors
    ///
    /// [`NotSoMany`]: more nonconforming units than units.
    pub fn chance_lot_accepted(self, lot_size: u32, nonconforming: u32) -> Result<f64, NotSoMany> {
        if nonconforming > lot_size {
            return Err(NotSoMany { lot_size, units: nonconforming });
        }
        let sample = self.sample_size().min(lot_size);
        Ok(counts::hypergeometric(lot_size, nonconforming, sample, self.most_accepted()).0)
    }

    /// The operating characteristic of type B: `points` and one more, evenly from no nonconforming units to where one
    /// lot in a thousand is accepted, or to all.
    #[must_use]
    pub fn operating_characteristic(self, points: u16) -> Vec<OperatingPoint> {
        let last = self.quality_accepted_with(Chance::ONE_IN_A_THOUSAND).unwrap_or(1.0);
        (0..=points)
            .map(|point| {
                let fraction = last * f64::from(point) / f64::from(points.max(1));
                let (chance_accepted, _) =
                    counts::binomial(self.sample_size(), fraction, self.most_accepted());
                OperatingPoint { fraction, chance_accepted }
            })
            .collect()
    }

    /// The fraction of nonconforming units with which a lot is accepted with `chance`: at 0.95 about the AQL, at 0.10
    /// the LTPD or limiting quality.
    ///
    /// # Errors
    ///
    /// [`AlwaysAccepted`].
    pub fn quality_accepted_with(self, chance: Chance) -> Result<f64, AlwaysAccepted> {
        let (sample, most) = (self.sample_size(), self.most_accepted());
        if most >= sample {
            return Err(AlwaysAccepted);
        }
        Ok(root::of_falling(0.0, 1.0, |fraction| {
            let (accepted, rejected) = counts::binomial(sample, fraction, most);
            // The smaller of the two has the digits.
            if accepted < 0.5 { accepted - chance.value() } else { chance.contrary() - rejected }
        }))
    }

    /// The fewest nonconforming units in a lot of `lot_size` with which it is accepted with no more than `chance`;
    /// `None` where even a lot without a conforming unit is accepted more often.
    #[must_use]
    pub fn lot_quality_accepted_with(self, lot_size: u32, chance: Chance) -> Option<u32> {
        let sample = self.sample_size().min(lot_size);
        let found = |nonconforming: u32| {
            counts::hypergeometric(lot_size, nonconforming, sample, self.most_accepted()).0
                <= chance.value()
        };
        if !found(lot_size) {
            return None;
        }
        let (mut more_often, mut found_at) = (0, lot_size);
        while found_at - more_often > 1 {
            let middle = more_often + (found_at - more_often) / 2;
            if found(middle) { found_at = middle } else { more_often = middle }
        }
        Some(found_at)
    }

    /// The producer's risk: the chance that a lot is rejected which is as good as the AQL.
    ///
    /// # Errors
    ///
    /// [`NoProducersRisk`] for an AQL above 10.
    pub fn producers_risk(self, aql: Aql) -> Result<f64, NoProducersRisk> {
        if !aql.may_be_of_units() {
            return Err(NoProducersRisk { percent: aql.percent() });
        }
        let fraction = aql.percent() / 100.0;
        Ok(counts::binomial(self.sample_size(), fraction, self.most_accepted()).1)
    }

    /// AOQ: nonconforming units among all that leave, when rejected lots are tested unit by unit and what is
    /// nonconforming is exchanged, P(accept) p (N − n) / N (NIST/SEMATECH e-Handbook 6.2.3.2). Nought of a lot
    /// that is all tested.
    #[must_use]
    pub fn outgoing_quality(self, fraction: Fraction, lot_size: u32) -> f64 {
        self.chance_accepted(fraction) * fraction.value() * self.part_not_tested(lot_size)
    }

    /// AOQL: the largest of all average outgoing qualities.
    #[must_use]
    pub fn outgoing_quality_limit(self, lot_size: u32) -> OutgoingLimit {
        let (sample, most) = (self.sample_size(), self.most_accepted());
        let not_tested = self.part_not_tested(lot_size);
        if most >= sample {
            return OutgoingLimit { fraction: not_tested, at_fraction: 1.0 };
        }
        // d(p P)/dp = P − n p b(Ac; n − 1, p), which falls through nought once.
        let at_fraction = root::of_falling(0.0, 1.0, |p| {
            let (accepted, _) = counts::binomial(sample, p, most);
            let at_limit = counts::binomial(sample - 1, p, most).0
                - if most == 0 { 0.0 } else { counts::binomial(sample - 1, p, most - 1).0 };
            accepted - f64::from(sample) * p * at_limit
        });
        let (accepted, _) = counts::binomial(sample, at_fraction, most);
        OutgoingLimit { fraction: accepted * at_fraction * not_tested, at_fraction }
    }

    /// ATI: units tested of a lot on average, when rejected ones are tested unit by unit, n + (1 − P(accept)) (N − n)
    /// (NIST/SEMATECH e-Handbook 6.2.3.2).
    #[must_use]
    pub fn units_tested_on_average(self, fraction: Fraction, lot_size: u32) -> f64 {
        let sample = self.sample_size().min(lot_size);
        f64::from(sample) + self.chance_rejected(fraction) * f64::from(lot_size - sample)
    }

    fn part_not_tested(self, lot_size: u32) -> f64 {
        if lot_size == 0 {
            return 0.0;
        }
        f64::from(lot_size.saturating_sub(self.sample_size())) / f64::from(lot_size)
    }
}

/// The chance that a sample of `sample` units from a lot of `lot_size` has at least one of its `nonconforming` ones: what
/// a sample of a site finds, whatever the plan.
///
/// # Errors
///
/// [`NotSoMany`]: more units in the sample, or more nonconforming ones, than in the lot.
pub fn chance_of_finding(lot_size: u32, nonconforming: u32, sample: u32) -> Result<f64, NotSoMany> {
    let units = nonconforming.max(sample);
    if units > lot_size {
        return Err(NotSoMany { lot_size, units });
    }
    Ok(counts::hypergeometric(lot_size, nonconforming, sample, 0).1)
}
