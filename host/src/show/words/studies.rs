//! Studies of many results, in words.

use runproof_quality::Chance;
use runproof_quality::capability::{Capability, Index};
use runproof_quality::gauge::Components;

pub(crate) const SIMULATED: &str = "a simulated jig measured units of this lot.";
pub(crate) const HOLDS_IF: &str = "the process is steady and its units are spread normally; a sample does not prove either. What the jig \
    itself scatters is in it.";

pub(crate) fn headline(found: &Components, tolerance_ohm: Option<f64>) -> String {
    let study = found.percent_study_variation();
    let tolerance = tolerance_ohm.and_then(|ohm| found.percent_tolerance(ohm));
    let told = match (tolerance, study) {
        (Some(percent), _) => format!("the gauge takes {percent:.1} % of the tolerance"),
        (None, Some(percent)) => {
            format!("the gauge is {percent:.1} % of the variation of this study")
        }
        (None, None) => "nothing varies in this study".into(),
    };
    let judged = match tolerance.or(study) {
        Some(percent) if percent < 10.0 => ": good",
        Some(percent) if percent <= 30.0 => ": good enough for some uses",
        Some(_) => ": too much",
        None => "",
    };
    format!("{told}{judged} (below 10 % good, up to 30 % for some uses: AIAG MSA-4, from memory).")
}

pub(crate) fn of(parts: usize, operators: usize, trials: usize, names: &[String]) -> String {
    format!(
        "{parts} parts, each measured {trials} times by {operators} people: {}",
        names.join(", ")
    )
}

pub(crate) fn component(variance: f64, total: f64) -> String {
    let share = if total > 0.0 { 100.0 * variance / total } else { 0.0 };
    format!("{:.2} mΩ, standard deviation; {share:.1} % of the variance", variance.sqrt() * 1e3)
}

pub(crate) fn method(pooled: bool) -> &'static str {
    if pooled {
        "analysis of variance (AIAG MSA-4); no interaction of parts and people at 5 %, so it counts as repeatability"
    } else {
        "analysis of variance (AIAG MSA-4); parts and people interact, which counts as reproducibility"
    }
}

pub(crate) fn by_ranges(found: &Components) -> String {
    format!("the average-and-range method says {:.2} mΩ for the gauge", found.gauge().sqrt() * 1e3)
}

pub(crate) fn tolerance(found: &Components, ohm: f64) -> String {
    let percent = found.percent_tolerance(ohm).unwrap_or(f64::NAN);
    format!("six standard deviations of the gauge are {percent:.1} % of {ohm} Ω")
}

pub(crate) fn categories(found: &Components) -> String {
    found.distinct_categories().map_or_else(
        || "the gauge does not vary at all, so nothing limits it here".into(),
        |kinds| format!("so many kinds of part: {kinds} (5 or more are wanted)"),
    )
}

pub(crate) fn capable(
    units: usize,
    conductor: &str,
    lot: &str,
    index: Option<&Capability>,
) -> String {
    let of = format!("{conductor} of {units} units of the lot {lot}");
    match index {
        Some(index) => format!("Cpk {:.2} for {of}.", index.cpk.value),
        None => format!("{of}; without one limit for all of them there is no Cpk."),
    }
}

pub(crate) fn sample(mean: f64, deviation: f64, unit: &str) -> String {
    format!("mean {mean:.4} {unit}, standard deviation {deviation:.4} {unit}")
}

pub(crate) fn below(part: Chance, most: f64, unit: &str) -> String {
    format!(
        "{} % of all units lie below {most:.4} {unit}, with 95 % confidence (one-sided, noncentral t: NIST/SEMATECH 7.2.6.3)",
        (part.value() * 1e10).floor() / 1e8
    )
}

/// Below so many an index says little. (judgement)
const ENOUGH: usize = 25;

pub(crate) fn few(units: usize, without: u32) -> Option<String> {
    let mut all = vec![];
    if without > 0 {
        all.push(format!(
            "{without} more were tested and have no resistance of it: they are not in these numbers"
        ));
    }
    if units < ENOUGH {
        all.push(format!("{units} units are few: look at the interval, not at the number"));
    }
    (!all.is_empty()).then(|| all.join("; "))
}

pub(crate) fn limit(limit: Option<f64>, unit: &str) -> String {
    limit.map_or_else(
        || {
            "not the same for all units, or not known: tell --gauge and --length with each test"
                .into()
        },
        |most| format!("{most:.4} {unit} at most"),
    )
}

pub(crate) fn cpk(index: &Index) -> String {
    format!(
        "{:.3}, between {:.3} and {:.3} with 95 % (NIST/SEMATECH 6.1.6)",
        index.value, index.interval.least, index.interval.most
    )
}
