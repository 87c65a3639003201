//! A reel in words.

mod declared;
mod finding;
mod headline;
mod notes;
mod steps;

pub(in crate::show) use declared::{declared, limits};
pub(in crate::show) use finding::finding;
pub(in crate::show) use headline::headline;
pub(in crate::show) use notes::{before, drift, gauge, length, marks, material, misses, unbalance};
use runproof_interpret::judgement::{Interval, ReelReason};
pub(in crate::show) use steps::{WAITS_FOR_DRIFT, next_step, reel_steps};

use crate::arguments::Units;

const METRES_PER_FOOT: f64 = 0.3048;

pub(in crate::show) const CAUTION: &str = "a reel lies on the bench, on nothing: never clip this jig to a cable that is \
    installed with `reel`. Local codes and licensed practice come first.";

pub(in crate::show) const GREW: &str = "A reel only becomes shorter: where it became longer by more than both are uncertain, \
    its id, its marks or what was declared were others.";

pub(in crate::show) const HISTORY: &str =
    "Lengths are 95 %, as they were told then; one of them: `runproof records show NO.`";

/// "6.39 ± 0.12 Ω/kft".
pub(in crate::show) fn per_length((value, expanded): (f64, f64), units: Units) -> String {
    match units {
        Units::Us => {
            let [value, expanded] = [value, expanded].map(|one| one * METRES_PER_FOOT);
            format!("{value:.2} ± {expanded:.2} Ω/kft")
        }
        Units::Metric => format!("{value:.2} ± {expanded:.2} Ω/km"),
    }
}

/// "6.51 Ω/kft".
fn limit(value: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{:.2} Ω/kft", value * METRES_PER_FOOT),
        Units::Metric => format!("{value:.2} Ω/km"),
    }
}

/// "246 ft (241 to 251 ft)".
pub(in crate::show) fn between(metres: Interval, units: Units) -> String {
    super::units::metres_between(metres, units)
}

/// "246 ft".
pub(in crate::show) fn about(metres: f64, units: Units) -> String {
    match units {
        Units::Us => format!("{:.0} ft", metres / METRES_PER_FOOT),
        Units::Metric => format!("{metres:.0} m"),
    }
}

pub(in crate::show) fn reason(reason: ReelReason) -> &'static str {
    match reason {
        ReelReason::AsDeclared => "as declared",
        ReelReason::Open => "open",
        ReelReason::Shorted => "shorted",
        ReelReason::Uneven => "uneven",
        ReelReason::MoreThanDeclared => "too much",
        ReelReason::LessThanDeclared => "too little",
        ReelReason::ClippedOtherwise => "clips differ",
        ReelReason::LengthNotKnown => "length unknown",
        ReelReason::TooCloseToLimit => "near its limit",
        ReelReason::StillWarming => "still warming",
        ReelReason::TemperatureNotTold => "no temperature",
        ReelReason::Buried => "end not reached",
        ReelReason::NotMeasured => "not measured",
        ReelReason::NotDecided => "not decided",
    }
}
