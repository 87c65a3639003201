//! Plans by variables.

use proptest::prelude::*;
use runproof_quality::sampling::variables::{Limits, NoVariables, Risks, VariablesPlan};
use runproof_quality::{Chance, Fraction};

use crate::published::close;

fn risks(good: f64, producers: f64, bad: f64, consumers: f64) -> Risks {
    let [good, producers, bad, consumers] =
        [good, producers, bad, consumers].map(|value| Chance::new(value).unwrap());
    Risks { good, producers, bad, consumers }
}

#[test]
fn both_risks_hold_and_one_unit_less_does_not_hold_them() {
    let asked = risks(0.01, 0.05, 0.06, 0.10);
    let plan = VariablesPlan::one_limit(&asked).unwrap();
    let accepted = |plan: VariablesPlan, p| plan.chance_accepted(Fraction::new(p).unwrap());
    close(accepted(plan, 0.06), 0.10, 1e-12);
    assert!(1.0 - accepted(plan, 0.01) <= 0.05);
    // With one unit less, whichever k holds the one risk breaks the other.
    let sample_size = plan.sample_size - 1;
    for step in -100..=100 {
        let acceptability_constant = plan.acceptability_constant + 0.001 * f64::from(step);
        let less = VariablesPlan { sample_size, acceptability_constant };
        assert!(accepted(less, 0.06) > 0.10 || 1.0 - accepted(less, 0.01) > 0.05, "{less:?}");
    }
}

#[test]
fn two_limits_hold_the_risks_on_either_side() {
    let asked = risks(0.01, 0.05, 0.06, 0.10);
    let plan = VariablesPlan::two_limits(&asked).unwrap();
    let accepted = |p| plan.chance_accepted(Fraction::new(p).unwrap());
    close(accepted(0.03), 0.10, 1e-12);
    assert!(1.0 - accepted(0.01) <= 0.025);
    assert!(plan.sample_size > VariablesPlan::one_limit(&asked).unwrap().sample_size);
}

#[test]
fn the_nearer_limit_decides() {
    let plan = VariablesPlan { sample_size: 10, acceptability_constant: 2.0 };
    let accepted = |mean, deviation, limits| {
        plan.decide(10, mean, deviation, limits).map(|decision| decision.accepted)
    };
    assert_eq!(accepted(5.0, 1.0, Limits::Upper(7.0)), Ok(true));
    assert_eq!(accepted(5.1, 1.0, Limits::Upper(7.0)), Ok(false));
    assert_eq!(accepted(5.0, 1.0, Limits::Lower(3.0)), Ok(true));
    assert_eq!(accepted(5.0, 1.0, Limits::Both(2.0, 7.0)), Ok(true));
    assert_eq!(accepted(5.0, 1.0, Limits::Both(3.1, 9.0)), Ok(false));
    assert_eq!(accepted(5.0, 0.0, Limits::Upper(5.0)), Ok(true));
    assert_eq!(accepted(5.1, 0.0, Limits::Upper(5.0)), Ok(false));
}

#[test]
fn what_is_no_number_or_no_such_sample_is_not_judged() {
    let plan = VariablesPlan { sample_size: 10, acceptability_constant: 2.0 };
    let other = plan.decide(9, 5.0, 1.0, Limits::Upper(9.0));
    assert_eq!(other, Err(NoVariables::OtherSample { needed: 10, measured: 9 }));
    for (mean, deviation, limits) in [
        (f64::NAN, 1.0, Limits::Upper(9.0)),
        (5.0, f64::NAN, Limits::Upper(9.0)),
        (5.0, -1.0, Limits::Upper(9.0)),
        (5.0, f64::INFINITY, Limits::Upper(9.0)),
        (f64::NEG_INFINITY, 1.0, Limits::Upper(9.0)),
        (5.0, 1.0, Limits::Upper(f64::NAN)),
        (5.0, 1.0, Limits::Both(9.0, 1.0)),
        (5.0, 1.0, Limits::Both(f64::NAN, 9.0)),
        (5.0, 1.0, Limits::Both(1.0, f64::NAN)),
    ] {
        assert_eq!(plan.decide(10, mean, deviation, limits), Err(NoVariables::NotNumbers));
    }
}

#[test]
fn what_no_plan_can_hold_says_why() {
    let of = |good, producers, bad, consumers| {
        VariablesPlan::one_limit(&risks(good, producers, bad, consumers))
    };
    assert_eq!(of(0.05, 0.05, 0.05, 0.1), Err(NoVariables::NotWorse));
    assert_eq!(of(0.05, 0.05, 0.01, 0.1), Err(NoVariables::NotWorse));
    assert_eq!(of(0.01, 0.5, 0.05, 0.5), Err(NoVariables::RisksTooLarge));
    assert_eq!(of(0.01, 0.05, 0.010_001, 0.1), Err(NoVariables::TooNear));
    let twice = risks(0.01, 0.05, 0.02, 0.1);
    assert_eq!(VariablesPlan::two_limits(&twice), Err(NoVariables::NotWorse));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn the_smallest_plan_holds_both_risks(
        good in 0.001..0.05_f64, times in 1.5..10.0_f64,
        producers in 0.01..0.2_f64, consumers in 0.01..0.2_f64,
    ) {
        let asked = risks(good, producers, good * times, consumers);
        let plan = VariablesPlan::one_limit(&asked).unwrap();
        let accepted = |p| plan.chance_accepted(Fraction::new(p).unwrap());
        prop_assert!(1.0 - accepted(good) <= producers + 1e-12);
        prop_assert!((accepted(good * times) - consumers).abs() < 1e-11);
        prop_assert_eq!(accepted(0.0), 1.0);
        prop_assert_eq!(accepted(1.0), 0.0);
    }
}
