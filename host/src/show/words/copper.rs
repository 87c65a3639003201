//! What the copper tells of the run, in words: how long it looks, which sizes fit, how even its pair is.

use runproof_interpret::Judgement;
use runproof_interpret::copper::Gauge;
use runproof_interpret::judgement::{Basis, Copper, FindingKind, Unbalance};

use super::units::{about, metres_between};
use crate::arguments::Units;

const UNTOLD: &str =
    "by resistance length and gauge cannot be told apart (give --gauge or --length).";

/// How long, or how thick.
pub(in crate::show) fn copper(copper: &Copper, judgement: &Judgement, units: Units) -> String {
    match (copper.basis, copper.metres) {
        (Basis::Nothing, _) => UNTOLD.into(),
        (Basis::Length, _) if copper.too_short => too_short("gauge", copper),
        (Basis::Length, _) => sizes(&copper.gauges, units),
        (_, None) => too_short("length", copper),
        (_, Some(metres)) => {
            let mut told = format!(
                "by its resistance and gauge the run looks {} long.",
                metres_between(metres, units)
            );
            match copper.agrees_with_capacitance {
                Some(true) => told.push_str(" Its capacitance agrees."),
                Some(false) => told.push_str(&format!(
                    " By its capacitance it looks {}: joints, another gauge, or an unusual cable.",
                    judgement.looks_long.map_or("otherwise".into(), |looks| about(&looks, units))
                )),
                None => {}
            }
            if copper.more_than_wire && !is_found(judgement) {
                told.push_str(
                    " That is more than was told: longer, thinner, warmer, with joints, or not plain \
                     copper; resistance does not tell which.",
                );
            }
            told
        }
    }
}

fn too_short(to_tell: &str, copper: &Copper) -> String {
    let ohm = super::resistance(Some(copper.ohm), Some(copper.expanded_uncertainty_ohm));
    format!("too short to tell its {to_tell} by resistance: {ohm} a conductor.")
}

/// A finding says already that there is too much resistance.
fn is_found(judgement: &Judgement) -> bool {
    use FindingKind::{HighLoopResistance, HighResistance};
    let mut kinds = judgement.findings.iter().map(|finding| finding.kind);
    kinds.any(|kind| matches!(kind, HighLoopResistance | HighResistance))
}

/// In the reader's units, as far as there are any.
fn sizes(gauges: &[Gauge], units: Units) -> String {
    let named: Vec<String> = gauges.iter().map(Gauge::to_string).collect();
    let unit = match units {
        Units::Us => "AWG",
        Units::Metric => "mm²",
    };
    let own: Vec<&str> =
        named.iter().map(String::as_str).filter(|name| name.ends_with(unit)).collect();
    match own.as_slice() {
        [] => format!("no usual size in {unit} fits a run of that length, if it is plain copper."),
        [one] => format!("of a run of that length, {one} fits the resistance."),
        [rest @ .., last] => {
            format!("of a run of that length, {} or {last} fits the resistance.", rest.join(", "))
        }
    }
}

/// How much more one conductor of the data pair has than the other; of what is not told from none, the
/// most it may be.
pub(in crate::show) fn unbalance(copper: &Copper, judgement: &Judgement) -> Option<String> {
    let Unbalance { post, ohm, expanded_uncertainty_ohm: u_ohm, .. } = copper.unbalance?;
    let percent =
        copper.unbalance.and_then(|one| Some((one.percent?, one.expanded_uncertainty_percent?)));
    let share = |told: fn((f64, f64)) -> String| percent.map(told).unwrap_or_default();
    Some(if ohm > u_ohm {
        let share = share(|(percent, u)| format!(" (unbalance {percent:.0} ± {u:.0} %)"));
        format!(
            "{} has {ohm:.2} ± {u_ohm:.2} Ω more than the other{share}.",
            super::name_of(post, judgement)
        )
    } else {
        let share = share(|(percent, u)| format!(" (unbalance less than {:.0} %)", percent + u));
        format!("its conductors differ by less than {:.2} Ω{share}.", ohm + u_ohm)
    })
}
