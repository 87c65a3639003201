//! Mean, standard deviation and autocorrelation, held against NIST's certified ones.

use runproof_quality::{Description, lag_1_autocorrelation};

use crate::published::{digits, rows, text};

fn values(name: &str) -> Vec<f64> {
    let around = |middle: f64, low: f64, high: f64| {
        let rest = (0..1000).map(|n| if n % 2 == 0 { low } else { high });
        std::iter::once(middle).chain(rest).collect()
    };
    match name {
        "NumAcc2" => around(1.2, 1.1, 1.3),
        "NumAcc3" => around(1_000_000.2, 1_000_000.1, 1_000_000.3),
        "NumAcc4" => around(10_000_000.2, 10_000_000.1, 10_000_000.3),
        "PiDigits" => {
            text("PiDigits.txt").chars().filter_map(|c| c.to_digit(10)).map(f64::from).collect()
        }
        _ => text(&format!("{name}.txt")).lines().map(|line| line.parse().unwrap()).collect(),
    }
}

#[test]
fn nists_univariate_datasets_to_nine_digits() {
    let rows = rows("certified.csv");
    assert_eq!(rows.len(), 7);
    for row in rows {
        let values = values(&row[0]);
        assert_eq!(values.len().to_string(), row[1], "{}", row[0]);
        let found = Description::of(&values).unwrap();
        let lag = lag_1_autocorrelation(&values).unwrap();
        let agree = [found.mean(), found.standard_deviation(), lag]
            .into_iter()
            .zip(&row[2..])
            .map(|(found, certified)| digits(found, certified.parse().unwrap()));
        // A number of ten million with one decimal is off by 1e-9 as it is read, a hundred millionth of 0.1.
        let least = match row[0].as_str() {
            "NumAcc4" => [15.0, 8.2, 8.2],
            "NumAcc3" => [15.0, 9.4, 9.4],
            _ => [14.0, 12.0, 12.0],
        };
        for (digits, least) in agree.zip(least) {
            assert!(digits >= least, "{}: {digits} digits", row[0]);
        }
    }
}

/// What is off in NumAcc4 is how its values are written, not how they are reckoned: of whole numbers nothing is.
#[test]
fn the_same_in_tenths_is_exact() {
    let tenths: Vec<f64> = values("NumAcc4").iter().map(|value| (value * 10.0).round()).collect();
    let found = Description::of(&tenths).unwrap();
    assert_eq!((found.mean(), found.standard_deviation()), (100_000_002.0, 1.0));
    assert!(digits(lag_1_autocorrelation(&tenths).unwrap(), -0.999) > 15.0 - 0.1);
}
