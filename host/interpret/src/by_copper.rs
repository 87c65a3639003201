//! How long a run looks, or how thick, by the resistance of its copper.

use crate::copper::{Gauge, Length};
use crate::judgement::{
    Basis, COVERAGE_FACTOR, Copper, ExplainsComplaint, Finding, FindingKind, Interval, LooksLong,
    Severity, Unit,
};
use crate::known::RunKnowledge;
use crate::limits::LimitSheet;
use crate::survey::Survey;
use crate::unbalance::unbalance;

/// A length, or a resistance, that is known no better than this part of it says nothing. [judgement]
const HALF_WIDTH_MAX: f64 = 0.5;

/// As of a wire with less than it can have: beyond so many times its uncertainty no reading is by
/// chance. [judgement]
const SURELY: f64 = 2.0;

/// Where every conductor's resistance is known, and both ends were lifted.
pub(crate) fn by_copper(
    survey: &Survey,
    sheet: &LimitSheet,
    known: &RunKnowledge,
    looks_long: Option<&LooksLong>,
) -> Option<Copper> {
    if known.cannot_lift.is_some() {
        return None; // a path beside the conductors takes from their resistance
    }
    let (ohm, expanded_ohm) = one_conductor(survey, sheet)?;
    let within = (ohm - expanded_ohm, ohm + expanded_ohm);
    let metres = known.gauge.and_then(|gauge| length((ohm, expanded_ohm), gauge, known));
    let well_known = expanded_ohm <= HALF_WIDTH_MAX * ohm;
    let (basis, gauges, too_short) = match (known.gauge, known.length) {
        (None, None) => (Basis::Nothing, vec![], false),
        (Some(_), None) => (Basis::Gauge, vec![], metres.is_none()),
        (Some(_), Some(_)) => (Basis::GaugeAndLength, vec![], metres.is_none()),
        (None, Some(length)) if well_known => {
            (Basis::Length, fitting(within, length, known), false)
        }
        (None, Some(_)) => (Basis::Length, vec![], true),
    };
    let surely_least_ohm = ohm - SURELY * expanded_ohm;
    Some(Copper {
        ohm,
        expanded_uncertainty_ohm: expanded_ohm,
        basis,
        metres,
        gauges,
        usual_metres: known.length.map(|_| usual_metres((ohm, expanded_ohm), known)),
        too_short,
        more_than_wire: known.calculated().is_some_and(|wire| surely_least_ohm > wire.most_ohm),
        agrees_with_capacitance: metres
            .zip(looks_long)
            .map(|(metres, looks)| metres.least <= looks.most_m && looks.least_m <= metres.most),
        unbalance: unbalance(survey, sheet),
    })
}

/// The length that was told is none of a usual cable with this resistance; with a gauge it has been
/// compared already.
pub(crate) fn unlikely_length(
    survey: &Survey,
    sheet: &LimitSheet,
    known: &RunKnowledge,
) -> Option<Finding> {
    let length = known.length.filter(|_| known.gauge.is_none() && known.cannot_lift.is_none())?;
    let usual = usual_metres(one_conductor(survey, sheet)?, known);
    let told = length.metres();
    if !(told < usual.least || told > usual.most) {
        return None;
    }
    let mut finding = Finding::new(FindingKind::LengthUnlikely, Severity::Note);
    finding.value = Some(told);
    finding.unit = Some(Unit::Metre);
    finding.explains_complaint = ExplainsComplaint::Unlikely;
    Some(finding)
}

/// How long copper of a usual size is that has so many ohms.
fn usual_metres((ohm, expanded_ohm): (f64, f64), known: &RunKnowledge) -> Interval {
    let [least_per_m, most_per_m] = Gauge::usual_ohm_per_m(known.temperature);
    Interval {
        value: ohm.max(0.0) / (least_per_m * most_per_m).sqrt(),
        least: (ohm - expanded_ohm).max(0.0) / most_per_m,
        most: (ohm + expanded_ohm).max(0.0) / least_per_m,
    }
}

/// The mean of those without a joint, and its expanded uncertainty: their errors may be of one mind, so
/// that a mean is known no better than each.
fn one_conductor(survey: &Survey, sheet: &LimitSheet) -> Option<(f64, f64)> {
    if let Some(both) = &survey.whole_loop {
        return Some((both.ohm / 2.0, COVERAGE_FACTOR * both.budget.combined_ohm() / 2.0));
    }
    if survey.legs.len() < sheet.conductors.len() {
        return None;
    }
    let has_joint = |post| survey.joints_ohm.iter().any(|(joint, _)| *joint == post);
    let sound = || survey.legs.iter().filter(|leg| !has_joint(leg.post));
    let count = sound().count() as f64;
    let mean_ohm = sound().map(|leg| leg.ohm).sum::<f64>() / count;
    let u_ohm = sound().map(|leg| leg.budget.combined_ohm()).sum::<f64>() / count;
    (count > 0.0).then_some((mean_ohm, COVERAGE_FACTOR * u_ohm))
}

/// Of a conductor with so many ohms; absent where that says next to nothing.
fn length((ohm, expanded_ohm): (f64, f64), gauge: Gauge, known: &RunKnowledge) -> Option<Interval> {
    let [least_per_m, most_per_m] = gauge.ohm_per_m(known.temperature);
    let metres = Interval {
        value: ohm / (least_per_m * most_per_m).sqrt(),
        least: (ohm - expanded_ohm).max(0.0) / most_per_m,
        most: (ohm + expanded_ohm) / least_per_m,
    };
    (metres.width() / 2.0 <= HALF_WIDTH_MAX * metres.value).then_some(metres)
}

/// Sizes of which so long a conductor may have a resistance between these two.
fn fitting((least_ohm, most_ohm): (f64, f64), length: Length, known: &RunKnowledge) -> Vec<Gauge> {
    let fits = |gauge: &Gauge| {
        let [least, most] = gauge.ohm_per_m(known.temperature).map(|per_m| per_m * length.metres());
        least <= most_ohm && least_ohm <= most
    };
    Gauge::sold().filter(fits).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn known(gauge: &str, length: &str, temperature: &str) -> RunKnowledge {
        RunKnowledge {
            gauge: gauge.parse().ok(),
            length: length.parse().ok(),
            temperature: temperature.parse().unwrap_or_default(),
            ..RunKnowledge::default()
        }
    }

    /// NFPA 70 (NEC), chapter 9, table 8: Ω/kft at 75 °C, copper: solid, seven strands, and these coated.
    /// Conductors with so much look 1000 ft long.
    #[test]
    fn lengths_of_nec_chapter_9_table_8() {
        for (awg, each) in
            [(18, [7.77, 7.95, 8.45]), (16, [4.89, 4.99, 5.29]), (12, [1.93, 1.98, 2.05])]
        {
            let solid = known(&format!("{awg}awg-solid"), "", "75C");
            let told = |ohm, known: &RunKnowledge| {
                let gauge = known.gauge.expect("told");
                length((ohm, 0.0), gauge, known).expect("long enough")
            };
            let looks = told(each[0], &solid);
            assert!((looks.value / 304.8 - 1.0).abs() < 2e-3, "{awg}: {looks:?}");
            let any = known(&format!("{awg}awg"), "", "75C");
            for ohm in each {
                let looks = told(ohm, &any);
                assert!((looks.least..=looks.most).contains(&304.8), "{awg} {ohm}: {looks:?}");
            }
        }
    }

    /// The copper wire tables of the National Bureau of Standards (Handbook 100): Ω/kft at 20 °C; and IEC
    /// 60228:2004, table 1: the most at 20 °C, in Ω/km.
    #[test]
    fn sizes_of_the_wire_tables() {
        let names = |ohm: f64, told: &str| {
            let known = known("", told, "20C");
            let length = known.length.expect("told");
            let fitting = fitting((0.999 * ohm, 1.001 * ohm), length, &known);
            fitting.iter().map(Gauge::to_string).collect::<Vec<_>>()
        };
        for (awg, ohm) in [(14, 2.525), (18, 6.385), (20, 10.15), (22, 16.14), (24, 25.67)] {
            let found = names(ohm, "1000ft");
            let awgs: Vec<_> = found.iter().filter(|name| name.ends_with("AWG")).collect();
            assert_eq!(awgs, [&format!("{awg} AWG")], "{found:?}");
        }
        for (mm2, ohm) in [("0.5", 36.0), ("0.75", 24.5), ("1.5", 12.1), ("2.5", 7.41)] {
            let found = names(ohm, "1000m");
            assert!(found.contains(&format!("{mm2} mm²")), "{found:?}");
        }
    }

    #[test]
    fn what_is_known_no_better_than_by_half_is_too_short() {
        let known = known("18awg-solid", "", "20C");
        let gauge = known.gauge.expect("told");
        assert!(length((0.2, 0.07), gauge, &known).is_some());
        assert!(length((0.1, 0.07), gauge, &known).is_none());
        assert!(length((-0.01, 0.07), gauge, &known).is_none());
        assert!(length((f64::NAN, 0.07), gauge, &known).is_none());
    }
}
