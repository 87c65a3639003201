//! Gauge studies, held against published ones.

use proptest::prelude::*;
use runproof_quality::Chance;
use runproof_quality::gauge::{
    Interaction, NoStudy, RangeSummary, Study, anova, average_and_range, by_ranges,
};

use crate::published::{self, close, number};

fn chance(value: f64) -> Chance {
    Chance::new(value).unwrap()
}

fn readings(table: &toml::Table) -> Vec<Vec<Vec<f64>>> {
    let list = |value: &toml::Value| value.as_array().unwrap().clone();
    let cell = |cell: &toml::Value| published::numbers(cell);
    let part = |part: &toml::Value| list(part).iter().map(cell).collect();
    list(&table["anova_pooled"]["data"]).iter().map(part).collect()
}

#[test]
fn a_published_study_from_its_readings() {
    let published = published::table("gauge.toml");
    let expected = |key: &str| number(&published["anova_pooled"][key]);
    let study = Study::of(&readings(&published)).unwrap();
    let found = anova(&study, chance(0.25)).unwrap();
    assert_eq!(found.model, Interaction::Pooled);
    close(found.interaction.f.unwrap(), expected("F_interaction"), 5.1e-11);
    close(found.interaction.p.unwrap(), expected("p_interaction"), 5.1e-11);
    let components = found.components;
    close(components.repeatability, expected("var_repeatability"), 5.1e-11);
    close(components.reproducibility, expected("var_operator"), 5.1e-11);
    close(components.part, expected("var_part"), 5.1e-11);
    close(components.gauge(), expected("var_grr"), 1.1e-10);
    close(components.total(), expected("var_total"), 1.1e-10);
    close(components.percent_contribution().unwrap(), expected("pct_contribution_grr"), 5.1e-5);
    close(components.percent_study_variation().unwrap(), expected("pct_study_var_grr"), 5.1e-5);
    assert_eq!(components.distinct_categories().map(f64::from), Some(expected("ndc")));
}

/// AIAG MSA-4's own sheet.
#[test]
fn the_foot_of_a_published_sheet() {
    let published = published::table("gauge.toml");
    let expected = |key: &str| number(&published["aiag_average_range"][key]);
    let found = average_and_range(&RangeSummary {
        mean_range: expected("Rbar"),
        operator_range: expected("Xdiff"),
        part_range: expected("Rp"),
        parts: 10,
        operators: 3,
        trials: 3,
    })
    .unwrap();
    close(found.repeatability.sqrt(), expected("EV"), 5e-4);
    close(found.reproducibility.sqrt(), expected("AV"), 5e-4);
    close(found.part.sqrt(), expected("PV"), 1.1e-3);
    close(found.gauge().sqrt(), expected("GRR"), 5e-4);
    close(found.total().sqrt(), expected("TV"), 1.1e-3);
    close(found.percent_study_variation().unwrap(), expected("pct_GRR"), 0.03);
}

#[test]
fn both_methods_tell_about_the_same() {
    let study = Study::of(&readings(&published::table("gauge.toml"))).unwrap();
    let ranges = average_and_range(&by_ranges(&study)).unwrap();
    let variances = anova(&study, chance(0.25)).unwrap().components;
    let ratio =
        ranges.percent_study_variation().unwrap() / variances.percent_study_variation().unwrap();
    assert!((0.8..1.25).contains(&ratio), "{ratio}");
}

#[test]
fn what_is_no_crossed_study_says_why() {
    let small = NoStudy::TooSmall { parts: 0, operators: 0, trials: 0 };
    assert_eq!(Study::of(&[]), Err(small));
    let cell = vec![1.0, 2.0];
    let whole = vec![cell.clone(), cell.clone()];
    assert!(Study::of(&[whole.clone(), whole.clone()]).is_ok());
    assert!(Study::of(std::slice::from_ref(&whole)).is_err());
    let lacks = Study::of(&[whole.clone(), vec![cell.clone()]]);
    assert_eq!(lacks, Err(NoStudy::NotCrossed { part: 2 }));
    let lacks = Study::of(&[whole.clone(), vec![cell, vec![1.0]]]);
    assert_eq!(lacks, Err(NoStudy::NotCrossed { part: 2 }));
    let nan = Study::of(&[whole, vec![vec![1.0, f64::NAN]; 2]]);
    assert_eq!(nan, Err(NoStudy::NotNumbers));
    let foot = RangeSummary {
        mean_range: 1.0,
        operator_range: 1.0,
        part_range: 1.0,
        parts: 11,
        operators: 3,
        trials: 3,
    };
    assert_eq!(average_and_range(&foot), Err(NoStudy::NoConstants));
    let foot = RangeSummary { parts: 0, ..foot };
    assert_eq!(average_and_range(&foot), Err(NoStudy::NoConstants));
    let foot = RangeSummary { parts: 10, mean_range: f64::NAN, ..foot };
    assert_eq!(average_and_range(&foot), Err(NoStudy::NotNumbers));
}

#[test]
fn readings_that_never_differ_are_no_gauge_to_judge() {
    let study = Study::of(&vec![vec![vec![5.0; 3]; 3]; 5]).unwrap();
    let found = anova(&study, chance(0.25)).unwrap();
    assert_eq!((found.interaction.f, found.interaction.p), (None, None));
    assert_eq!(found.components.percent_study_variation(), None);
    assert_eq!(found.components.distinct_categories(), None);
    assert_eq!(found.components.percent_tolerance(0.0), None);
    assert_eq!(found.components.percent_tolerance(f64::NAN), None);
}

proptest! {
    /// Nothing depends on the unit, on where its nought is, or on the order of trials.
    #[test]
    fn a_study_in_another_unit_says_the_same(
        readings in prop::collection::vec(
            prop::collection::vec(prop::collection::vec(-1.0..1.0_f64, 3), 2), 3..6),
        scale in 0.01..100.0_f64, nought in -10.0..10.0_f64,
    ) {
        let other: Vec<Vec<Vec<f64>>> = readings
            .iter()
            .map(|part| part.iter().map(|cell| {
                cell.iter().rev().map(|reading| nought + scale * reading).collect()
            }).collect())
            .collect();
        let [one, other] = [&readings, &other]
            .map(|readings| anova(&Study::of(readings).unwrap(), chance(0.25)).unwrap());
        prop_assert!((one.interaction.p.unwrap() - other.interaction.p.unwrap()).abs() < 1e-8);
        if one.model == other.model {
            let [one, other] = [one, other].map(|found| found.components.percent_contribution().unwrap());
            prop_assert!((one - other).abs() < 1e-6, "{one} {other}");
        }
    }
}
