//! What plans are worth, held against published figures and exact ones.

use crate::published::{self, close, numbers, rows};
use proptest::prelude::*;
use runproof_quality::sampling::{Aql, Plan, chance_of_finding, draw, zero_acceptance};
use runproof_quality::{Chance, Fraction};

fn plan(sample_size: u32, acceptance_number: u32) -> Plan {
    Plan::new(sample_size, acceptance_number, acceptance_number + 1).unwrap()
}

fn fraction(value: f64) -> Fraction {
    Fraction::new(value).unwrap()
}

fn chance(value: f64) -> Chance {
    Chance::new(value).unwrap()
}

#[test]
fn eight_of_forty_find_one_bad_reel_in_five_sites_and_three_in_half() {
    close(chance_of_finding(40, 1, 8).unwrap(), 0.2, 1e-14);
    // 1 − (32 · 31 · 30) / (40 · 39 · 38)
    close(chance_of_finding(40, 3, 8).unwrap(), 1.0 - 29_760.0 / 59_280.0, 1e-14);
    assert_eq!(chance_of_finding(40, 0, 8), Ok(0.0));
    assert_eq!(chance_of_finding(40, 1, 40), Ok(1.0));
    assert!(chance_of_finding(40, 41, 8).is_err());
    assert!(chance_of_finding(40, 1, 41).is_err());
    assert_eq!(chance_of_finding(0, 0, 0), Ok(0.0));
}

/// NIST/SEMATECH e-Handbook 6.2.3.2.
#[test]
fn the_handbooks_plan_of_52_and_3() {
    let handbook = published::table("handbook.toml");
    let example = &handbook["sampling_52_3"];
    let (lot_size, plan) = (10_000, plan(52, 3));
    let qualities = numbers(&example["p"]);
    for (p, exact) in qualities.iter().zip(numbers(&example["Pa_exact"])) {
        close(plan.chance_accepted(fraction(*p)), exact, 5e-5);
    }
    // The handbook's AOQ is P p, without (N − n) / N, and its first entry is a misprint.
    for (p, aoq) in qualities.iter().zip(numbers(&example["AOQ_published"])).skip(1) {
        let not_tested = f64::from(lot_size - 52) / f64::from(lot_size);
        close(plan.outgoing_quality(fraction(*p), lot_size) / not_tested, aoq, 0.00051);
    }
    for (percent, ati) in (1..).zip(numbers(&example["ATI_exact"])) {
        let p = fraction(f64::from(percent) / 100.0);
        close(plan.units_tested_on_average(p, lot_size), ati, 0.0051);
    }
    let limit = plan.outgoing_quality_limit(lot_size);
    let exact = &example["AOQL_exact"];
    close(limit.fraction, exact["value"].as_float().unwrap(), 5.1e-7);
    close(limit.at_fraction, exact["at_p"].as_float().unwrap(), 5e-7);
}

#[test]
fn other_published_plans() {
    let handbook = published::table("handbook.toml");
    let others = &handbook["plans_other_published"];
    let value = |table: &str, key: &str| others[table][key].as_float().unwrap();
    let of_20 = "r_acceptancesampling_n20_c0";
    close(plan(20, 0).chance_accepted(fraction(0.05)), value(of_20, "Pa_0_05"), 5e-9);
    close(plan(20, 0).chance_accepted(fraction(0.15)), value(of_20, "Pa_0_15"), 5e-9);
    let of_144 = "r_accsamplingdesign";
    close(plan(144, 4).chance_rejected(fraction(0.01)), value(of_144, "prod_risk"), 5e-9);
    close(plan(144, 4).chance_accepted(fraction(0.05)), value(of_144, "cons_risk"), 5e-8);
    close(plan(144, 4).chance_accepted(fraction(0.03)), value(of_144, "Pa_0_03"), 5e-8);
    let of_134 = "n134_c3";
    close(plan(134, 3).chance_accepted(fraction(0.01)), value(of_134, "Pa_0_01"), 5e-5);
    close(plan(134, 3).chance_accepted(fraction(0.05)), value(of_134, "Pa_0_05"), 5e-5);
    close(plan(134, 3).chance_accepted(fraction(0.02)), value(of_134, "binom_p02"), 5e-4);
    close(
        plan(134, 3).chance_lot_accepted(500, 10).unwrap(),
        value(of_134, "hypergeom_N500_D10"),
        5e-4,
    );
    for (key, at) in [("p95_percent", 0.95), ("p50_percent", 0.5), ("p10_percent", 0.1)] {
        let found = plan(134, 3).quality_accepted_with(chance(at)).unwrap();
        close(100.0 * found, value(of_134, key), 0.0051);
    }
    let of_52 = "vendor_help_N5000_n52_c2";
    let outgoing = plan(52, 2).outgoing_quality(fraction(0.015), 5000);
    close(100.0 * outgoing, value(of_52, "AOQ_percent_at_1_5"), 5e-4);
    let limit = plan(52, 2).outgoing_quality_limit(5000);
    close(100.0 * limit.fraction, value(of_52, "AOQL_percent"), 5e-4);
    close(100.0 * limit.at_fraction, value(of_52, "at_percent"), 0.05);
}

#[test]
fn operating_characteristics_of_all_usual_plans() {
    let mut compared = 0;
    for row in rows("operating_characteristics.csv") {
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        let plan = plan(number(1) as u32, number(3) as u32);
        let aql = Aql::from_percent(number(2)).unwrap();
        close(1.0 - plan.producers_risk(aql).unwrap(), number(4), 5.1e-7);
        for (column, at) in (5..).zip([0.99, 0.95, 0.90, 0.50, 0.10, 0.05]) {
            let found = plan.quality_accepted_with(chance(at)).unwrap();
            close(100.0 * found, number(column), 5.1e-5);
            compared += 1;
        }
    }
    assert_eq!(compared, 39 * 6);
}

#[test]
fn a_plan_that_accepts_everything_says_so() {
    let loose = plan(2, 30);
    assert!(loose.quality_accepted_with(chance(0.1)).is_err());
    assert_eq!(loose.chance_accepted(fraction(1.0)), 1.0);
    assert_eq!(loose.lot_quality_accepted_with(100, chance(0.1)), None);
    close(loose.outgoing_quality_limit(100).fraction, 0.98, 1e-15);
    let aql = Aql::from_percent(15.0).unwrap();
    assert!(loose.producers_risk(aql).is_err());
}

#[test]
fn lots_of_nothing_and_samples_of_everything_are_no_accident() {
    let plan = plan(13, 0);
    assert_eq!(plan.outgoing_quality_limit(0).fraction, 0.0);
    assert_eq!(plan.outgoing_quality(fraction(0.1), 13), 0.0);
    assert_eq!(plan.units_tested_on_average(fraction(0.1), 5), 5.0);
    assert_eq!(plan.chance_lot_accepted(0, 0), Ok(1.0));
    assert_eq!(plan.chance_lot_accepted(5, 1), Ok(0.0));
    assert!(plan.chance_lot_accepted(5, 6).is_err());
    assert_eq!(plan.operating_characteristic(0).len(), 1);
}

proptest! {
    #[test]
    fn the_worse_the_lot_the_rarer_it_is_accepted(
        sample in 1_u32..3000, acceptance in 0_u32..60, low in 0.0..1.0_f64, high in 0.0..1.0_f64,
    ) {
        let plan = plan(sample, acceptance);
        let (low, high) = (low.min(high), low.max(high));
        let [better, worse] = [low, high].map(|p| plan.chance_accepted(fraction(p)));
        prop_assert!(better >= worse - 1e-14);
        prop_assert!((0.0..=1.0).contains(&better) && (0.0..=1.0).contains(&worse));
        let sum = worse + plan.chance_rejected(fraction(high));
        prop_assert!((sum - 1.0).abs() < 1e-14);
    }

    #[test]
    fn a_quality_is_accepted_as_often_as_was_asked(
        sample in 1_u32..3000, acceptance in 0_u32..60, at in 1e-6..0.999_999_f64,
    ) {
        let plan = plan(sample, acceptance);
        if let Ok(found) = plan.quality_accepted_with(chance(at)) {
            prop_assert!((plan.chance_accepted(fraction(found)) / at - 1.0).abs() < 1e-9);
        } else {
            prop_assert!(acceptance >= sample);
        }
    }

    #[test]
    fn no_quality_leaves_worse_than_the_limit(
        sample in 1_u32..500, acceptance in 0_u32..20, lot in 1_u32..100_000, p in 0.0..1.0_f64,
    ) {
        let plan = plan(sample, acceptance);
        let limit = plan.outgoing_quality_limit(lot);
        prop_assert!(plan.outgoing_quality(fraction(p), lot) <= limit.fraction * (1.0 + 1e-12));
        let there = plan.outgoing_quality(fraction(limit.at_fraction), lot);
        prop_assert!((there - limit.fraction).abs() <= 1e-12);
    }

    #[test]
    fn one_unit_less_would_not_find_it(
        lot in 1_u32..5000, limit in 1e-4..1.0_f64, risk in 0.001..0.5_f64,
    ) {
        let found = zero_acceptance(lot, fraction(limit), chance(risk)).unwrap();
        prop_assert!(found.consumers_risk <= risk);
        let bad = found.nonconforming_at_limit;
        prop_assert!(f64::from(bad) >= limit * f64::from(lot) - 1e-9);
        let sample = found.plan.sample_size();
        let one_less = 1.0 - chance_of_finding(lot, bad, sample - 1).unwrap();
        prop_assert!(one_less > risk - 1e-12);
        let by_plan = found.plan.chance_lot_accepted(lot, bad).unwrap();
        prop_assert!((by_plan - found.consumers_risk).abs() < 1e-12);
    }

    #[test]
    fn the_fewest_bad_units_that_are_found_are_the_fewest(
        lot in 2_u32..3000, sample in 1_u32..200, acceptance in 0_u32..8, at in 0.01..0.9_f64,
    ) {
        let plan = plan(sample, acceptance);
        match plan.lot_quality_accepted_with(lot, chance(at)) {
            Some(bad) => {
                prop_assert!(plan.chance_lot_accepted(lot, bad).unwrap() <= at);
                prop_assert!(plan.chance_lot_accepted(lot, bad - 1).unwrap() > at);
            }
            None => prop_assert!(plan.chance_lot_accepted(lot, lot).unwrap() > at),
        }
    }

    #[test]
    fn a_draw_is_the_beginning_of_every_larger_one(lot in 1_u32..2000, part in 0.0..1.0_f64, seed: u64) {
        let sample = (f64::from(lot) * part) as u32;
        let all = draw(lot, lot, seed).unwrap();
        let some = draw(lot, sample, seed).unwrap();
        prop_assert_eq!(&all[..sample as usize], &some[..]);
        let mut sorted = all;
        sorted.sort_unstable();
        prop_assert!(sorted.into_iter().eq(1..=lot));
    }
}
