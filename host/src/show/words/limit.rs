//! A limit in words.

use runproof_interpret::copper::Length;
use runproof_interpret::judgement::{ExplainsComplaint, Severity};
use runproof_interpret::limits::{Arrangement, LimitUnit};

use super::units::length;
use crate::arguments::Units;

pub(crate) fn arrangement(arrangement: Arrangement) -> &'static str {
    match arrangement {
        Arrangement::FourConductor => "four conductors",
        Arrangement::TwoWire => "two wires",
        Arrangement::Lead => "a lead of four conductors",
    }
}

pub(crate) fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Fail => "fail",
        Severity::CannotTell => "cannot tell",
        Severity::Note => "note",
    }
}

/// Whether what is beyond the limit would explain a complaint.
pub(crate) fn explains(explains: ExplainsComplaint) -> &'static str {
    match explains {
        ExplainsComplaint::Yes => "yes",
        ExplainsComplaint::Possibly => "possibly",
        ExplainsComplaint::Unlikely => "hardly",
    }
}

/// "3 Ω", "100 kΩ", "100 ft".
pub(crate) fn limit_value(value: f64, unit: LimitUnit, units: Units) -> String {
    match unit {
        LimitUnit::Ohm if value >= 1e6 => format!("{} MΩ", value / 1e6),
        LimitUnit::Ohm if value >= 1e3 => format!("{} kΩ", value / 1e3),
        LimitUnit::Ohm => format!("{value} Ω"),
        LimitUnit::Percent => format!("{value} %"),
        LimitUnit::PicofaradPerMetre => match units {
            Units::Us => format!("{} pF/ft", (value * 0.3048).round()),
            Units::Metric => format!("{value} pF/m"),
        },
        LimitUnit::Volt => format!("{value} V"),
        LimitUnit::Ampere => format!("{value} A"),
        LimitUnit::Metre => {
            Length::from_metres(value).map_or(format!("{value} m"), |long| length(long, units))
        }
    }
}
