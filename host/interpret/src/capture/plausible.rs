//! What the parts of a jig and of its plug can be: with other values, readings mean nothing.

use std::ops::RangeInclusive;

use super::{Head, Implausible};

/// Wide enough for any jig that measures as the capture's format says. [judgement]
const SERIES_OHM: RangeInclusive<f64> = 100.0..=1e3;
const SERIES_TOLERANCE: RangeInclusive<f64> = 0.0..=0.05;
const SENSE_OHM: RangeInclusive<f64> = 1e3..=1e4;
const PULL_OHM: RangeInclusive<f64> = 2e4..=1e6;
const DIVIDER_OHM: RangeInclusive<f64> = 1e6..=2e7;
const SUPPLY_LOAD_OHM: RangeInclusive<f64> = 50.0..=2e3;
const RING_OHM: RangeInclusive<f64> = 10.0..=1e3;
const RING_TOLERANCE: RangeInclusive<f64> = 0.0..=0.01;

impl Head {
    /// Whether readings can be understood with these values.
    pub fn plausible(&self) -> Result<(), Implausible> {
        let Self { jig, plug, .. } = self;
        within("jig.series_ohm", &jig.series_ohm, SERIES_OHM)?;
        within("jig.series_tolerance", &[jig.series_tolerance], SERIES_TOLERANCE)?;
        within("jig.sense_ohm", &[jig.sense_ohm], SENSE_OHM)?;
        within("jig.pull_ohm", &[jig.pull_ohm], PULL_OHM)?;
        within("jig.divider_ohm", &[jig.divider_ohm], DIVIDER_OHM)?;
        within("jig.supply_load_ohm", jig.supply_load_ohm.as_slice(), SUPPLY_LOAD_OHM)?;
        within("plug.ring_ohm", &plug.ring_ohm, RING_OHM)?;
        within("plug.tolerance", &[plug.tolerance], RING_TOLERANCE)
    }
}

fn within(
    key: &'static str,
    values: &[f64],
    range: RangeInclusive<f64>,
) -> Result<(), Implausible> {
    match values.iter().find(|value| !range.contains(value)) {
        None => Ok(()),
        Some(value) => {
            let (least, most) = range.into_inner();
            Err(Implausible { key, value: *value, least, most })
        }
    }
}
