//! Volts of a live run, as they are said.

use runproof_interpret::judgement::{LiveFinding, LiveLimit, LiveUnit, Measured};

/// As many places as the uncertainty is worth, at most three.
fn places(u: f64) -> usize {
    match u {
        u if u < 0.0195 => 3,
        u if u < 0.195 => 2,
        _ => 1,
    }
}

/// "26.31 ± 0.12 V", of what has no sign.
pub(crate) fn volts(volts: Option<Measured>) -> String {
    volts.map_or_else(
        || "not known".into(),
        |Measured { value, u }| {
            let places = places(u);
            format!("{:.places$} ± {:.places$} V", value.max(0.0), u.max(0.0))
        },
    )
}

/// "+0.612 ± 0.009 V".
pub(crate) fn signed_volts(Measured { value, u }: Measured) -> String {
    let places = places(u);
    format!("{} ± {u:.places$} V", sign(value, places))
}

/// A number that says its sign, with a minus as wide as a plus.
pub(crate) fn sign(value: f64, places: usize) -> String {
    let size = format!("{:.places$}", value.abs());
    let is_zero = size.chars().all(|c| matches!(c, '0' | '.'));
    match (is_zero, value < 0.0) {
        (true, _) => size,
        (false, true) => format!("−{size}"),
        (false, false) => format!("+{size}"),
    }
}

/// "20–30 V".
pub(crate) fn range(limit: &LiveLimit) -> String {
    let (least, most) = (limit.least_v, limit.most_v);
    if least <= 0.0 && most.is_finite() {
        format!("≤ {} V", plain(most))
    } else if most.is_finite() {
        format!("{}–{} V", plain(least), plain(most))
    } else {
        format!("≥ {} V", plain(least))
    }
}

/// "+0.2 to +1 V".
pub(crate) fn signed_range(limit: &LiveLimit) -> String {
    let signed = |volts: f64| match volts {
        volts if volts > 0.0 => format!("+{}", plain(volts)),
        volts if volts < 0.0 => format!("−{}", plain(-volts)),
        _ => "0".into(),
    };
    if limit.most_v.is_finite() {
        format!("{} to {} V", signed(limit.least_v), signed(limit.most_v))
    } else {
        format!("≥ {} V", signed(limit.least_v))
    }
}

fn plain(volts: f64) -> String {
    let text = format!("{volts:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// What a finding has been told with, and its unit.
pub(in crate::show::words) fn number(finding: &LiveFinding, value: Option<f64>) -> Option<String> {
    let (value, unit) = (value?, finding.unit?);
    Some(match unit {
        LiveUnit::VoltDirect => format!("{} V", sign(value, 2)),
        LiveUnit::VoltRms if value < 0.95 => format!("{value:.2} V"),
        LiveUnit::VoltRms | LiveUnit::VoltPeak => format!("{value:.1} V"),
        LiveUnit::Hertz => format!("{value:.2} Hz"),
    })
}

#[test]
fn a_number_says_no_more_than_it_knows() {
    let said = |value, u| volts(Some(Measured { value, u }));
    assert_eq!(said(26.314, 0.12), "26.31 ± 0.12 V");
    assert_eq!(said(0.612, 0.009), "0.612 ± 0.009 V");
    assert_eq!(said(120.4, 3.2), "120.4 ± 3.2 V");
    assert_eq!(signed_volts(Measured { value: -0.6149, u: 0.021 }), "−0.61 ± 0.02 V");
    assert_eq!(sign(-0.001, 2), "0.00");
}
