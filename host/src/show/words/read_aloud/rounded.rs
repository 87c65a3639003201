//! Numbers that were rounded to be said, so that none claims digits that it has not.

use runproof_interpret::read_aloud::{Bound, Rounded};

use super::super::between::ohms;

/// "about 63 Ω" for "63.00 Ω"; what says so already does not say it twice.
pub(super) fn about(told: &str, exact: &str) -> String {
    if told.contains(&format!("about {}", shortened(exact))) {
        return told.to_owned();
    }
    let told = told.replace(exact, &format!("about {}", shortened(exact)));
    told.replace("about about", "about")
}

/// Noughts behind the two digits that are known are left out: of "63.00 Ω", "+24.00 V" and "0.49 Ω" the first two.
fn shortened(exact: &str) -> String {
    let Some((number, unit)) = exact.split_once(' ') else { return exact.to_owned() };
    match number.split_once('.') {
        Some((whole, part)) if part.chars().all(|digit| digit == '0') => format!("{whole} {unit}"),
        Some((_, part)) if part.len() > 1 => format!("{} {unit}", number.trim_end_matches('0')),
        _ => exact.to_owned(),
    }
}

/// "about 0.49 Ω".
pub(crate) fn ohm(told: Option<Rounded>) -> String {
    said(told, |value| match value {
        value if value >= 1000.0 => shortened(&ohms(Some(value))),
        value => two_digits(value) + " Ω",
    })
}

/// "about 24 V", with a sign if it may have one.
pub(crate) fn volts(told: Option<Rounded>, is_signed: bool) -> String {
    let sign = |value: f64| match value {
        value if !is_signed => two_digits(value.abs()),
        value if value < 0.0 => format!("−{}", two_digits(-value)),
        value => format!("+{}", two_digits(value)),
    };
    match told {
        // What is next to nothing has no sign.
        Some(Rounded { value, bound: Bound::Less }) => {
            format!("less than {} V", two_digits(value.abs()))
        }
        told => said(told, |value| sign(value) + " V"),
    }
}

fn said(told: Option<Rounded>, unit: impl Fn(f64) -> String) -> String {
    match told {
        None => "unknown".into(),
        Some(told) => {
            let bound = match told.bound {
                Bound::About => "about",
                Bound::Less => "less than",
                Bound::More => "more than",
            };
            format!("{bound} {}", unit(told.plain()))
        }
    }
}

fn two_digits(value: f64) -> String {
    let places = if value < 1.0 { 2 } else { usize::from(value < 10.0) };
    format!("{value:.places$}")
}

#[test]
fn a_rounded_number_claims_no_more_digits() {
    let found = |told: &str, exact: &str| about(told, exact);
    assert_eq!(found("supply reads 63.00 Ω: a clip", "63.00 Ω"), "supply reads about 63 Ω: a clip");
    assert_eq!(found("0.49 Ω between", "0.49 Ω"), "about 0.49 Ω between");
    assert_eq!(found("about 4.7 kΩ from", "4.7 kΩ"), "about 4.7 kΩ from");
    assert_eq!(found("stands at −0.60 V against", "−0.60 V"), "stands at about −0.6 V against");
    assert_eq!(found("by 24.0 V: so", "24.0 V"), "by about 24 V: so");
    let told = |value, bound| ohm(Some(Rounded { value, bound }));
    assert_eq!(told(0.487, Bound::About), "about 0.49 Ω");
    assert_eq!(told(0.1, Bound::Less), "less than 0.10 Ω");
    assert_eq!(told(562.3, Bound::More), "more than 562 Ω");
    assert_eq!(told(4_641.6, Bound::About), "about 4.6 kΩ");
    assert_eq!(volts(Some(Rounded { value: -0.609, bound: Bound::About }), true), "about −0.61 V");
}
