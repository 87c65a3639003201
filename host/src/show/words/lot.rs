//! A lot in words.

mod next;
mod plan;
mod standing;
mod units;

pub(crate) use next::{next, of_unit, will_not_count};
pub(crate) use plan::{CURVE, REDUCED, finds, judged_by, plan, risks, sample, severity_due};
use runproof_quality::lot::Ranges;
pub(crate) use standing::{closed, decision, in_doubt, left, why};
pub(crate) use units::{
    beside, identity, measured_by, moment, not_counted, struck, struck_count, tested, units,
};

pub(crate) const NONE: &str = "No lot was opened on this computer yet. `runproof lot open LOT --units COUNT --series TEXT --aql 1.0` declares \
    one, and draws the units to test.";
pub(crate) const SIMULATED: &str =
    "a simulated jig measured units of this lot: what follows is true of no real one.";

/// So many units are listed by number; more are counted.
const LISTED: usize = 200;

fn listed(units: &Ranges) -> String {
    let count = units.0.len();
    if count <= LISTED {
        return units.to_string();
    }
    let first = Ranges(units.0[..LISTED].to_vec());
    let all = units.units().count();
    format!("{first} and others, {all} in all")
}

/// Percent, to three digits.
fn percent(fraction: f64) -> String {
    let percent = fraction * 100.0;
    let digits = match percent {
        p if p >= 99.95 => 0,
        p if p >= 9.995 => 1,
        p if p >= 0.995 => 2,
        p if p >= 0.0995 || p == 0.0 => 3,
        p if p >= 0.000_1 => 6,
        _ => return format!("{percent:.2e} %"),
    };
    // What is not all of it is not told as all of it.
    if digits == 0 && percent < 100.0 {
        return format!("{} %", (percent * 1e6).floor() / 1e6);
    }
    format!("{percent:.digits$} %")
}

fn many(count: usize, what: &str) -> String {
    match count {
        0 => format!("no {what}"),
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}

fn are(count: usize, what: &str) -> String {
    format!("{} {}", many(count, what), if count == 1 { "is" } else { "are" })
}

#[test]
fn percents_have_three_digits() {
    let told = [1.0, 0.999_9, 0.5, 0.2, 0.049_99, 0.000_123, 1e-8].map(percent);
    let expected = ["100 %", "99.99 %", "50.0 %", "20.0 %", "5.00 %", "0.012300 %", "1.00e-6 %"];
    assert_eq!(told, expected);
}
