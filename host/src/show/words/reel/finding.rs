//! What was found of a reel, in a sentence or two.

use runproof_interpret::copper::Gauge;
use runproof_interpret::judgement::{ReelFinding, ReelFindingKind, ReelJudgement};

use super::{about, limit, per_length};
use crate::arguments::Units;

pub(in crate::show) fn finding(
    one: &ReelFinding,
    judgement: &ReelJudgement,
    units: Units,
) -> String {
    use ReelFindingKind as Kind;
    let size = size(judgement);
    let read = one.value.zip(one.expanded_uncertainty).map(|told| per_length(told, units));
    let read = read.unwrap_or_else(|| "what it has".into());
    let held = one.limit.map_or_else(|| "known".into(), |value| limit(value, units));
    match one.kind {
        Kind::CopperClad => {
            let or = or_thinner(&judgement.material.or_copper_of);
            format!(
                "a core has {read} at 20 °C, and copper of {size} at most {held}: copper-clad aluminium, if its cores are as \
                 thick as declared{or}. Either way it is not the copper that was declared."
            )
        }
        Kind::LighterThanCopper => format!(
            "it weighs less than copper of {size} with this resistance would: copper-clad aluminium, if its cores are as thick \
             as declared, or thinner copper. Either way it is not the copper that was declared."
        ),
        Kind::ThinnerThanDeclared => format!(
            "a core has {read} at 20 °C, and {size} at most {held}: thinner than declared, or longer than its marks say."
        ),
        Kind::LessThanDeclared => format!(
            "a core has {read} at 20 °C, and {size} at least {held}: the reel is shorter than its marks say, or its cores are \
             thicker than declared."
        ),
        Kind::MaterialDisagrees => {
            "marks, weight and resistance fit neither copper nor copper-clad aluminium together: one of what was declared is wrong.".into()
        }
        Kind::MaterialNotTold => "length and material cannot be told apart: a short reel of thin copper, or of copper-clad \
            aluminium, would read the same, and nothing that was declared decides it."
            .into(),
        Kind::GaugeNotDeclared => {
            "no gauge was declared: resistance tells no length, and no size is held to.".into()
        }
        Kind::TooCloseToGauge => format!(
            "a core has {read} at 20 °C; for {size} it must surely be below {held}, halfway to the next thinner size: too close \
             to say."
        ),
        Kind::TemperatureNotTold => {
            "how warm the copper is was not told: 10 °C more are 4 % more resistance, so there is no length.".into()
        }
        Kind::StillWarming => {
            let mohm = |ohm: Option<f64>| 1e3 * ohm.unwrap_or_default();
            format!(
                "still warming; length not given: its resistance drifted by {:+.1} mΩ between the readings, and may by {:.1} mΩ.",
                mohm(one.value),
                mohm(one.limit)
            )
            .replace('-', "−")
        }
        Kind::NotReadTwice => {
            "it was not read twice, some time apart: whether it is as warm as the room is not known.".into()
        }
        Kind::TooShort => "its resistance is too little to tell a length.".into(),
        Kind::Buried => "its inner end was not reached: isolation, and a length by capacitance, are all that is told. Not \
            tested: whether its cores are whole, their resistance, gauge and metal."
            .into(),
        Kind::LongerThanBefore => format!(
            "it is longer than it was: {} now, {} before. A reel only becomes shorter: another id, other marks, or another \
             reel.",
            about(one.value.unwrap_or_default(), units),
            about(one.limit.unwrap_or_default(), units)
        ),
        _ => "something that this version has no words for.".into(),
    }
}

/// As it was declared.
pub(super) fn size(judgement: &ReelJudgement) -> String {
    judgement.declared.gauge.map_or_else(|| "what was declared".into(), |gauge| gauge.to_string())
}

fn or_thinner(gauges: &[Gauge]) -> String {
    match gauges {
        [] => String::new(),
        [one, ..] => format!("; copper of {one} would read the same"),
    }
}
