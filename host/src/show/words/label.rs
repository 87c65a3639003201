//! What stands on a label: few words, so that they can be large.

use runproof_interpret::copper::Length;
use runproof_interpret::judgement::Interval;

use crate::arguments::Units;

pub(in crate::show) const VOID: &str = "VOID";
pub(in crate::show) const SIMULATED: &str = "SIMULATED";
pub(in crate::show) const NOT_PROVED: &str = "JIG NOT PROVED";
pub(in crate::show) const NO_DAY: &str = "day not kept";

/// The interval alone: there is no room for more.
pub(in crate::show) fn length(metres: Interval, units: Units) -> String {
    let between = super::units::metres_between(metres, units);
    let interval = between.split_once(" (").and_then(|(_, rest)| rest.strip_suffix(')'));
    interval.unwrap_or(&between).to_owned()
}

pub(in crate::show) fn told(length: Length, units: Units) -> String {
    format!("{}, as told", super::units::length(length, units))
}

pub(in crate::show) fn unit(lot: &str, unit: &str) -> String {
    format!("{lot} unit {unit}")
}

pub(in crate::show) fn record(number: i64) -> String {
    format!("record {number}")
}
