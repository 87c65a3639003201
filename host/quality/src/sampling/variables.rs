//! Lots by a measured value: mean and standard deviation of the sample decide, by the k-method, sigma unknown.
//!
//! The distance of the mean from a limit, in standard deviations of the sample and times √n, is noncentral t with n − 1
//! degrees of freedom and the noncentrality √n z, where z is the normal quantile of the fraction within: so the risks
//! are exact for a normal characteristic, and for no other. MIL-STD-414's tables are not in this crate: plans follow from
//! the two risks, not from a code letter.

use serde::{Deserialize, Serialize};

pub use crate::limits::Limits;

use crate::distributions::{NoncentralT, normal_quantile};
use crate::{Chance, Fraction};

/// What a plan must do.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Risks {
    /// p1, such as the AQL: nonconforming units of a lot that is good.
    pub good: Chance,
    /// α: the chance, at most, that such a lot is rejected.
    pub producers: Chance,
    /// p2, the LTPD or limiting quality: nonconforming units of a lot that is bad.
    pub bad: Chance,
    /// β: the chance, at most, that such a lot is accepted.
    pub consumers: Chance,
}

/// A plan by variables.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VariablesPlan {
    /// Units to measure, n.
    pub sample_size: u32,
    /// k: the mean must be so many standard deviations within each limit.
    pub acceptability_constant: f64,
}

/// What a measured sample says about its lot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VariablesDecision {
    /// Whether the lot is accepted.
    pub accepted: bool,
    /// How many standard deviations the mean is within the nearer limit; negative beyond it. Infinite where nothing
    /// varied.
    pub quality_index: f64,
    /// k, which it is held against.
    pub acceptability_constant: f64,
}

/// Why there is no plan or decision.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoVariables {
    /// The bad lot is not worse than the good one.
    #[error(
        "a bad lot has more nonconforming units than a good one; of two limits more than twice as many"
    )]
    NotWorse,
    /// A good lot may not be rejected more rarely than a bad one accepted.
    #[error("the two risks together are below 1")]
    RisksTooLarge,
    /// No sample of a hundred thousand holds both risks.
    #[error(
        "no sample of up to {LARGEST_SAMPLE} units holds both risks: the two qualities are too near"
    )]
    TooNear,
    /// Not as many as the plan tests.
    #[error("the plan measures {needed} units, not {measured}")]
    OtherSample {
        /// Those of the plan.
        needed: u32,
        /// Those measured.
        measured: u32,
    },
    /// Something is no number, the standard deviation is negative, or the limits are not in their order.
    #[error(
        "mean, standard deviation and limits are numbers, the deviation not negative, the lower limit below the upper"
    )]
    NotNumbers,
}

/// More than any bench measures. \[judgement\]
pub const LARGEST_SAMPLE: u32 = 100_000;

impl VariablesPlan {
    /// The smallest plan for one limit: the consumer's risk is just as asked for, the producer's at most.
    ///
    /// # Errors
    ///
    /// [`NoVariables`].
    pub fn one_limit(risks: &Risks) -> Result<Self, NoVariables> {
        if risks.bad.value() <= risks.good.value() {
            return Err(NoVariables::NotWorse);
        }
        if risks.producers.value() + risks.consumers.value() >= 1.0 {
            return Err(NoVariables::RisksTooLarge);
        }
        let holds = |sample_size: u32| {
            let plan = Self::for_consumer(risks, sample_size)?;
            (plan.chance_rejected_at(risks.good) <= risks.producers.value()).then_some(plan)
        };
        let (mut too_few, mut enough) = (1, 2);
        let mut plan = loop {
            if let Some(plan) = holds(enough) {
                break plan;
            }
            if enough >= LARGEST_SAMPLE {
                return Err(NoVariables::TooNear);
            }
            too_few = enough;
            enough = (2 * enough).min(LARGEST_SAMPLE);
        };
        while enough - too_few > 1 {
            let middle = too_few + (enough - too_few) / 2;
            match holds(middle) {
                Some(smaller) => (enough, plan) = (middle, smaller),
                None => too_few = middle,
            }
        }
        Ok(plan)
    }

    /// A plan for two limits of which either may be crossed. Both risks hold however the nonconforming units are shared
    /// between the two, at the price of a larger sample: of a bad lot half of them at least are on one side, and a good one
    /// is rejected on either with half the producer's risk. \[judgement\]
    ///
    /// # Errors
    ///
    /// [`NoVariables`].
    pub fn two_limits(risks: &Risks) -> Result<Self, NoVariables> {
        let half = |chance: Chance| Chance::new(0.5 * chance.value());
        match (half(risks.bad), half(risks.producers)) {
            (Ok(bad), Ok(producers)) => Self::one_limit(&Risks { bad, producers, ..*risks }),
            _ => Err(NoVariables::TooNear),
        }
    }

    /// The chance that a lot with `fraction` nonconforming units, all beyond one limit, is accepted.
    #[must_use]
    pub fn chance_accepted(self, fraction: Fraction) -> f64 {
        match Chance::new(fraction.value()) {
            Ok(fraction) => self.distribution(fraction).more_than(self.t()),
            // None beyond the limit, or all of them.
            Err(_) => 1.0 - fraction.value(),
        }
    }

    /// What a sample with this mean and standard deviation (n − 1) says about its lot.
    ///
    /// # Errors
    ///
    /// [`NoVariables::OtherSample`], [`NoVariables::NotNumbers`].
    pub fn decide(
        self,
        measured: u32,
        mean: f64,
        standard_deviation: f64,
        limits: Limits,
    ) -> Result<VariablesDecision, NoVariables> {
        if measured != self.sample_size {
            return Err(NoVariables::OtherSample { needed: self.sample_size, measured });
        }
        let (lower, upper) = limits.ends().ok_or(NoVariables::NotNumbers)?;
        let below_upper = upper.map_or(f64::INFINITY, |upper| upper - mean);
        let above_lower = lower.map_or(f64::INFINITY, |lower| mean - lower);
        let within = below_upper.min(above_lower);
        let numbers = mean.is_finite() && within.is_finite() && standard_deviation.is_finite();
        if !(numbers && standard_deviation >= 0.0) {
            return Err(NoVariables::NotNumbers);
        }
        // On the limit is within it.
        let quality_index = if standard_deviation > 0.0 {
            within / standard_deviation
        } else if within >= 0.0 {
            f64::INFINITY
        } else {
            f64::NEG_INFINITY
        };
        let acceptability_constant = self.acceptability_constant;
        let accepted = quality_index >= acceptability_constant;
        Ok(VariablesDecision { accepted, quality_index, acceptability_constant })
    }

    /// k such that a bad lot is accepted with just the consumer's risk.
    fn for_consumer(risks: &Risks, sample_size: u32) -> Option<Self> {
        let plan = Self { sample_size, acceptability_constant: 0.0 };
        let (contrary, chance) = (risks.consumers.value(), risks.consumers.contrary());
        let t = plan.distribution(risks.bad).quantile(chance, contrary)?;
        Some(Self { acceptability_constant: t / f64::from(sample_size).sqrt(), ..plan })
    }

    fn chance_rejected_at(self, fraction: Chance) -> f64 {
        self.distribution(fraction).at_most(self.t())
    }

    fn distribution(self, fraction: Chance) -> NoncentralT {
        let sample_size = f64::from(self.sample_size.max(2));
        NoncentralT::new(sample_size - 1.0, -sample_size.sqrt() * normal_quantile(fraction))
    }

    fn t(self) -> f64 {
        self.acceptability_constant * f64::from(self.sample_size).sqrt()
    }
}
