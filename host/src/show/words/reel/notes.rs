//! Length, gauge, metal and drift of a reel.

use runproof_interpret::copper::Gauge;
use runproof_interpret::judgement::{
    GaugeReason, LengthBy, MaterialToldBy, Metal, ReelFindingKind, ReelJudgement, WireBasis,
};

use super::finding::size;
use super::{about, between, limit, per_length};
use crate::arguments::Units;

const MATERIAL_NOT_TOLD: &str = "not told: with the resistance it takes a second quantity, such as --marks, --weight with \
    --cable-weight, or --capacitance.";

/// What is left on the reel.
pub(in crate::show) fn length(judgement: &ReelJudgement, units: Units) -> Option<String> {
    let by_capacitance = judgement
        .by_capacitance_m
        .map(|metres| format!("by capacitance {}", between(metres, units)));
    let by_resistance = judgement.length_m.map(|metres| {
        let wire = judgement.wire.as_ref();
        let percent = wire.map_or(0.0, |wire| {
            50.0 * (wire.most_ohm_per_km / wire.least_ohm_per_km - 1.0)
        });
        let whose = match wire.map(|wire| wire.basis) {
            Some(WireBasis::Told) => "with what was told of it".to_owned(),
            _ => format!("of {}", size(judgement)),
        };
        let if_copper = match judgement.material.told {
            Some(_) => "",
            None => ", if it is copper",
        };
        format!(
            "by resistance {}, {whose}{if_copper}; in that the wire's own tolerance is ± {percent:.1} %",
            between(metres, units)
        )
    });
    let told: Vec<String> = by_resistance.into_iter().chain(by_capacitance).collect();
    (!told.is_empty()).then(|| format!("{}.", told.join("; ")))
}

/// What the print says, and whether the resistance agrees.
pub(in crate::show) fn marks(judgement: &ReelJudgement, units: Units) -> Option<String> {
    let marked = judgement.marked_m?;
    let told = format!("{} between the marks", between(marked, units));
    Some(match judgement.length_m {
        None => format!("{told}."),
        Some(by) if by.least <= marked.most && marked.least <= by.most => {
            format!("{told}; by resistance the same within both intervals.")
        }
        Some(by) => {
            let off = by.value - marked.value;
            let word = if off < 0.0 { "less" } else { "more" };
            format!("{told}; by resistance {} {word}.", about(off.abs(), units))
        }
    })
}

pub(in crate::show) fn gauge(judgement: &ReelJudgement, units: Units) -> Option<String> {
    let check = &judgement.gauge;
    let Some(one) = judgement.per_length else {
        return match check.reason {
            GaugeReason::AsDeclared => {
                Some(format!("{}: its resistance and its weight fit.", size(judgement)))
            }
            GaugeReason::LengthNotKnown => Some(
                "not checked: that takes a length that is known by something else (--marks, or --capacitance).".into(),
            ),
            _ => None,
        };
    };
    let read = per_length((one.ohm_per_km, one.expanded_uncertainty_ohm_per_km), units);
    let by = match one.by {
        LengthBy::Marks => "the marks",
        LengthBy::Capacitance => "its capacitance",
    };
    let fits: Vec<String> = check.fits.iter().map(Gauge::to_string).collect();
    let fits = match fits.as_slice() {
        [] => "no usual size of copper fits".to_owned(),
        several => format!("of copper sizes {} fits", several.join(" or ")),
    };
    Some(format!("{read} at 20 °C over the length by {by}; {fits}."))
}

pub(in crate::show) fn material(judgement: &ReelJudgement) -> Option<String> {
    judgement.resistance?;
    let material = &judgement.material;
    let Some(metal) = material.told else {
        let asked = judgement.found(ReelFindingKind::MaterialNotTold);
        return asked.then(|| MATERIAL_NOT_TOLD.into());
    };
    let by: Vec<&str> = material
        .by
        .iter()
        .map(|by| match by {
            MaterialToldBy::Marks => "marks",
            MaterialToldBy::Capacitance => "capacitance",
            MaterialToldBy::Weight => "weight",
        })
        .collect();
    let by = by.join(" and ");
    Some(match metal {
        Metal::Copper => format!("copper, by resistance and {by}, of cores as thick as declared."),
        Metal::CopperCladAluminium => format!(
            "copper-clad aluminium, by resistance and {by}, of cores as thick as declared. Scrape a core: aluminium is silver \
             below the copper."
        ),
    })
}

/// The most that one core has beyond another.
pub(in crate::show) fn unbalance(judgement: &ReelJudgement) -> Option<String> {
    let read = judgement
        .conductors
        .iter()
        .filter_map(|one| Some((one.ohm?, one.expanded_uncertainty_ohm?)));
    let by_ohm = |a: &(f64, f64), b: &(f64, f64)| a.0.total_cmp(&b.0);
    let (least, most) = (read.clone().min_by(by_ohm)?, read.max_by(by_ohm)?);
    let (ohm, u_ohm) = (most.0 - least.0, most.1.hypot(least.1));
    let percent = 100.0 * ohm / least.0;
    Some(match ohm > u_ohm {
        true => format!("between the most and the least {ohm:.2} ± {u_ohm:.2} Ω, {percent:.1} %."),
        false => format!("alike within {:.2} Ω.", ohm + u_ohm),
    })
}

pub(in crate::show) fn drift(judgement: &ReelJudgement, units: Units) -> Option<String> {
    let one = judgement.warming?;
    let minutes = one.apart_s / 60.0;
    let steady = if one.still_warming { "drifts" } else { "steady" };
    let (seen_from, degrees) = match units {
        Units::Us => (1.8 * one.seen_from_kelvin_per_minute, "°F"),
        Units::Metric => (one.seen_from_kelvin_per_minute, "°C"),
    };
    let told = format!(
        "{steady}: {:+.1} mΩ in {minutes:.1} min, where ± {:.1} mΩ is what a steady reel may show; a change of less than \
         {seen_from:.2} {degrees} a minute would not have been seen.",
        1e3 * one.drift_ohm,
        1e3 * one.repeatability_ohm
    );
    Some(told.replace('-', "−"))
}

pub(in crate::show) fn before(judgement: &ReelJudgement, units: Units) -> Option<String> {
    let before = judgement.declared.before?;
    let was = format!("{} when it was tested last", about(before.metres, units));
    Some(match judgement.length_m {
        None => format!("{was}."),
        Some(now) if now.value <= before.metres => {
            format!("{was}: {} less now.", about(before.metres - now.value, units))
        }
        Some(now) => format!("{was}: {} more now.", about(now.value - before.metres, units)),
    })
}

pub(in crate::show) fn misses(judgement: &ReelJudgement) -> Option<String> {
    let copper = (judgement.material.told == Some(Metal::Copper)).then_some(
        "copper-clad aluminium thicker than declared, which reads like copper of the declared size",
    );
    let slow = judgement.warming.map(|_| "a reel that warms more slowly than the drift shows");
    let also: Vec<&str> = copper.into_iter().chain(slow).collect();
    let run = super::super::misses(&judgement.run);
    match also.as_slice() {
        [] => run,
        also => Some(format!("{} Also {}.", run.unwrap_or_default(), also.join("; and "))),
    }
}

/// "≤ 6.51 Ω/kft".
pub(super) fn at_most(value: f64, units: Units) -> String {
    format!("≤ {}", limit(value, units))
}
