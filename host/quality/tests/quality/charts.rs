//! Control charts, held against the handbook's examples.

use runproof_quality::charts::{Cusum, Individuals, Rule, cusum, ewma, offset, slope};
use runproof_quality::{Chance, NoStatistic};

use crate::published::{self, close, digits, number, numbers, rows};

fn chance(value: f64) -> Chance {
    Chance::new(value).unwrap()
}

/// NIST/SEMATECH e-Handbook 6.3.2.2.
#[test]
fn individuals_and_their_moving_range() {
    let handbook = published::table("handbook.toml");
    let example = &handbook["individuals"];
    let values = numbers(&example["x"]);
    let chart = Individuals::of(&values).unwrap();
    close(chart.centre, number(&example["xbar"]), 1e-12);
    close(chart.mean_moving_range, number(&example["MRbar"]), 5e-5);
    close(chart.limits.most, number(&example["UCL"]), 1.5e-4);
    close(chart.limits.least, number(&example["LCL"]), 1.5e-4);
    // 3.267 of 1.8778 are 6.13477; the one source that prints 6.1349 is off in its last digit.
    close(chart.moving_range_limit, number(&example["MR_UCL"]), 2.5e-4);
    assert_eq!(chart.signals(&values), Ok(vec![]));
    let signals = chart.signals(&[50.0, 56.0]).unwrap();
    assert_eq!(signals.len(), 1);
    assert_eq!((signals[0].at, signals[0].rule), (1, Rule::OneBeyondThreeSigma));
}

#[test]
fn a_chart_of_nothing_that_varies_says_so() {
    assert_eq!(Individuals::of(&[5.0; 9]), Err(NoStatistic::NoVariation));
    assert_eq!(Individuals::of(&[5.0]), Err(NoStatistic::TooFew { needed: 2, given: 1 }));
    assert_eq!(Individuals::of(&[5.0, f64::NAN]), Err(NoStatistic::NotNumbers));
}

/// NIST/SEMATECH e-Handbook 6.3.2.4.
#[test]
fn moving_averages() {
    let handbook = published::table("handbook.toml");
    let example = &handbook["ewma"];
    let [start, s, lambda] = ["start", "s", "lambda"].map(|key| number(&example[key]));
    let chart = ewma(&numbers(&example["x"]), start, s, chance(lambda)).unwrap();
    // The handbook goes on with what it has rounded to two digits, so it is up to two of them off.
    let published = numbers(&example["z"]);
    assert_eq!(chart.averages.len(), published.len());
    for (found, published) in chart.averages.iter().zip(published) {
        close(*found, published, 0.0151);
    }
    close(chart.limits.most, number(&example["UCL"]), 1e-4);
    close(chart.limits.least, number(&example["LCL"]), 1e-4);
    assert_eq!(chart.beyond, Vec::<usize>::new());
    let far = ewma(&[50.0, 70.0, 50.0], start, s, chance(lambda)).unwrap();
    assert_eq!(far.beyond, [1, 2]);
    assert!(ewma(&[f64::NAN], start, s, chance(lambda)).is_err());
    assert!(ewma(&[1.0], start, 0.0, chance(lambda)).is_err());
}

/// NIST/SEMATECH e-Handbook 6.3.2.3.
#[test]
fn cumulative_sums() {
    let handbook = published::table("handbook.toml");
    let example = &handbook["cusum"];
    let [target, allowance, decision_interval] =
        ["target", "k", "h"].map(|key| number(&example[key]));
    let of = Cusum { target, allowance, decision_interval };
    let points = cusum(&numbers(&example["x"]), &of).unwrap();
    let signals: Vec<f64> =
        (1_u8..).zip(&points).filter(|(_, point)| point.signal).map(|(n, _)| n.into()).collect();
    assert_eq!(signals, numbers(&example["signals"]));
    assert!(points.iter().all(|point| point.high >= 0.0 && point.low >= 0.0));
    assert!(cusum(&[f64::INFINITY], &of).is_err());
    assert!(cusum(&[1.0], &Cusum { allowance: -1.0, ..of }).is_err());
}

/// NIST StRD, Norris: the certified slope, and its standard deviation by an interval of one of them.
#[test]
fn a_slope_and_its_uncertainty() {
    let points: Vec<(f64, f64)> = rows("Norris.csv")
        .iter()
        .map(|row| (row[1].parse().unwrap(), row[0].parse().unwrap()))
        .collect();
    let found = slope(&points, chance(0.95)).unwrap();
    assert!(digits(found.value, 1.002_116_818_020_45) > 12.0);
    // Student's t of 34 degrees of freedom at 97.5 %: 2.0322 445 093 (SciPy 1.17).
    let deviation = (found.interval.most - found.value) / 2.032_244_509_317_719;
    assert!(digits(deviation, 0.000_429_796_848_199_937) > 11.0);
    assert!(found.is_shown());
}

#[test]
fn what_creeps_is_told_from_what_only_varies() {
    let steady: Vec<(f64, f64)> =
        (0..20).map(|n| (f64::from(n), if n % 2 == 0 { 0.1 } else { -0.1 })).collect();
    assert!(!slope(&steady, chance(0.95)).unwrap().is_shown());
    let creeping: Vec<(f64, f64)> = steady.iter().map(|(t, v)| (*t, v + 0.05 * t)).collect();
    assert!(slope(&creeping, chance(0.95)).unwrap().is_shown());
    let found = offset(&[10.1, 9.9, 10.0, 10.2, 9.8], 10.0, chance(0.95)).unwrap();
    assert!(!found.is_shown() && found.value.abs() < 1e-12);
    assert!(offset(&[10.1, 9.9, 10.0, 10.2, 9.8], 9.5, chance(0.95)).unwrap().is_shown());
}

#[test]
fn too_little_to_tell_a_drift_is_said() {
    assert_eq!(offset(&[1.0], 1.0, chance(0.9)), Err(NoStatistic::TooFew { needed: 2, given: 1 }));
    let two = [(0.0, 1.0), (1.0, 2.0)];
    assert_eq!(slope(&two, chance(0.9)), Err(NoStatistic::TooFew { needed: 3, given: 2 }));
    assert_eq!(slope(&[(1.0, 1.0); 4], chance(0.9)), Err(NoStatistic::NoVariation));
    assert_eq!(slope(&[(1.0, f64::NAN); 4], chance(0.9)), Err(NoStatistic::NotNumbers));
    assert_eq!(offset(&[1.0, 2.0], f64::NAN, chance(0.9)), Err(NoStatistic::NotNumbers));
}
