//! What was declared of a reel, and what it was held to.

use runproof_interpret::copper::Surface;
use runproof_interpret::judgement::ReelJudgement;
use runproof_interpret::reel::Declared;

use super::about;
use super::notes::at_most;
use crate::arguments::Units;
use crate::show::words::units::temperature;

pub(in crate::show) fn declared(declared: &Declared, units: Units) -> String {
    let surface = declared.surface.map(|surface| match surface {
        Surface::Plain => "plain".to_owned(),
        Surface::Tinned => "tinned".to_owned(),
    });
    let number =
        |value: Option<f64>, unit: &str| value.map(|value| format!("{} {unit}", short(value)));
    let told: Vec<String> = [
        declared.id.as_ref().map(|id| format!("reel {id}")),
        declared.gauge.map(|gauge| gauge.to_string()),
        surface,
        number(declared.ohm_per_km, "Ω/km at 20 °C"),
        declared.wire_tolerance_percent.map(|percent| format!("within {percent} %")),
        declared.copper_c.map(|range| format!("copper at {}", temperature(range, units))),
        declared.marks.map(|marks| format!("{} between the marks", about(marks.metres(), units))),
        number(declared.weight_kg, "kg on the scale"),
        number(declared.tare_kg, "kg empty"),
        number(declared.cable_kg_per_km, "kg/km"),
        declared.cores.map(|cores| format!("{cores} cores")),
        number(declared.picofarad_per_m, "pF/m"),
        declared.buried.then(|| "inner end not reached".to_owned()),
    ]
    .into_iter()
    .flatten()
    .collect();
    if told.is_empty() { "nothing.".into() } else { format!("{}.", told.join(", ")) }
}

fn short(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

/// Each with where it comes from.
pub(in crate::show) fn limits(judgement: &ReelJudgement, units: Units) -> Option<String> {
    judgement.resistance?;
    let wire = judgement.wire.as_ref()?;
    let gauge = &judgement.gauge;
    let fails = at_most(gauge.fails_above_ohm_per_km?, units);
    let passes = at_most(gauge.passes_to_ohm_per_km?, units);
    Some(format!(
        "a core {fails} at 20 °C, else it fails ({}); surely {passes}, to pass (house rule: halfway to the next thinner size). \
         Copper: common practice; what is listed for control wiring is of copper. Copper-clad aluminium: ASTM B566, at least \
         62.9 % of copper's conductivity (one supplier's sheet).",
        wire.source
    ))
}
