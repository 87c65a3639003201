//! A lot by variables: what its sample has of its limit decides, by mean and standard deviation.

use serde::Serialize;

use super::{Outcome, Test};
use crate::Description;
use crate::sampling::variables::{Limits, VariablesPlan};

/// What was measured of a sample, as parts of the limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Measured {
    /// How many units have a value.
    pub units: u32,
    /// Of what they have; absent of fewer than two.
    pub mean: Option<f64>,
    /// Likewise.
    pub standard_deviation: Option<f64>,
    /// How many standard deviations the mean is below the limit.
    pub quality_index: Option<f64>,
    /// What follows; absent before all of the sample has a value.
    pub is_accepted: Option<bool>,
}

/// The limit itself.
const LIMIT: f64 = 1.0;

impl Measured {
    /// Of each unit the last test by a proved jig that has a value.
    pub(super) fn of(plan: VariablesPlan, sample: &[u32], tests: &[Test]) -> Self {
        let value = |unit: &u32| {
            let of_unit = tests.iter().filter(|test| test.unit == *unit && test.jig_is_proved);
            of_unit.filter_map(|test| test.of_limit).next_back()
        };
        let values: Vec<f64> = sample.iter().filter_map(value).collect();
        let units = values.len() as u32;
        let found = Description::of(&values).ok();
        let (mean, deviation) = (
            found.as_ref().map(Description::mean),
            found.as_ref().map(Description::standard_deviation),
        );
        let decided = mean.zip(deviation).and_then(|(mean, deviation)| {
            plan.decide(units, mean, deviation, Limits::Upper(LIMIT)).ok()
        });
        Self {
            units,
            mean,
            standard_deviation: deviation,
            quality_index: decided.map(|decided| decided.quality_index),
            is_accepted: decided.map(|decided| decided.accepted),
        }
    }
}

impl Test {
    /// One that has a value is measured, whatever its limit says of it; one without is as it is, and a pass without one
    /// decides nothing.
    pub(super) fn by_value(&self) -> Self {
        let outcome = match (self.of_limit, self.outcome) {
            (Some(_), _) => Outcome::Pass,
            (None, Outcome::Pass) => Outcome::CannotTell,
            (None, other) => other,
        };
        Self { outcome, ..*self }
    }
}

#[cfg(test)]
mod tests {
    use crate::Chance;
    use crate::lot::{Acceptance, Decision, Declared, Look, Outcome, Test, stand};
    use crate::sampling::variables::Risks;

    fn declared() -> Declared {
        let chance = |of| Chance::new(of).unwrap();
        let risks = Risks {
            good: chance(0.01),
            producers: chance(0.05),
            bad: chance(0.08),
            consumers: chance(0.10),
        };
        let acceptance = Acceptance::Variables(risks);
        Declared { series: String::new(), units: 400, acceptance, seed: 3, again: false }
    }

    /// Values around a mean, alternately a step above and below.
    fn tests(mean: f64, step: f64) -> Vec<Test> {
        let sample = declared().drawn().unwrap().sample;
        let each = sample.into_iter().enumerate();
        each.map(|(n, unit)| {
            let value = if n % 2 == 0 { mean + step } else { mean - step };
            let outcome = if value > 1.0 { Outcome::Fail } else { Outcome::Pass };
            Test { unit, outcome, jig_is_proved: true, of_limit: Some(value) }
        })
        .collect()
    }

    fn decision(tests: &[Test]) -> Decision {
        let looks = [Look { units: "1-400".parse().unwrap(), missed: vec![] }];
        stand(&declared(), &looks, tests).unwrap().decision
    }

    #[test]
    fn a_lot_by_its_mean_and_deviation() {
        let plan = declared().drawn().unwrap().variables.unwrap();
        let n = f64::from(plan.sample_size);
        // The deviation of values that alternate by a step.
        let even = (n / 2.0).ceil() / n;
        let deviation = 2.0 * (even * (1.0 - even) * n / (n - 1.0)).sqrt() * 0.01;
        let mean_at = |sigmas: f64| 1.0 - sigmas * deviation - (2.0 * even - 1.0) * 0.01;
        let k = plan.acceptability_constant;
        assert_eq!(decision(&tests(mean_at(k + 1e-6), 0.01)), Decision::Accept);
        assert_eq!(decision(&tests(mean_at(k - 1e-6), 0.01)), Decision::Reject);
        assert!(plan.sample_size < 80, "by attributes a plan of these risks tests 88: {plan:?}");
    }

    #[test]
    fn what_has_no_value_decides_nothing_and_another_fault_rejects() {
        let good = tests(0.5, 0.01);
        let with = |n: usize, change: fn(&mut Test)| {
            let mut all = good.clone();
            change(&mut all[n]);
            decision(&all)
        };
        assert_eq!(with(0, |_| {}), Decision::Accept);
        assert_eq!(with(3, |test| test.of_limit = None), Decision::NotYet);
        assert_eq!(with(3, |test| test.jig_is_proved = false), Decision::NotYet);
        let is_open = |test: &mut Test| {
            test.of_limit = None;
            test.outcome = Outcome::Fail;
        };
        assert_eq!(with(3, is_open), Decision::Reject);
        assert_eq!(decision(&good[1..]), Decision::NotYet);
    }

    #[test]
    fn a_lot_smaller_than_its_sample_is_tested_unit_by_unit() {
        let small = Declared { units: 20, ..declared() };
        assert!(small.drawn().is_err());
    }
}
