//! What a powered run must show. A sheet without these still judges a dead one.

use serde::{Deserialize, Serialize};

use super::{Bounds, Quantity};

/// The ranges of a powered run, in volts; what is absent is not judged, and then nothing passes on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LiveRanges {
    /// What kind of supply the sheet has limits for.
    pub supply_kind: Option<SupplyForm>,
    /// Supply against common: rms of alternating, mean of direct; out of it the run fails.
    pub supply: Option<Bounds>,
    /// The same; out of it is noted.
    pub supply_noted: Option<Bounds>,
    /// From data− to data+ while nothing is sent; above it is noted.
    pub data_idle: Option<Bounds>,
    /// What a receiver does not decide, between the same: within it the run fails.
    pub data_undecided: Option<Bounds>,
    /// Each data line against common; out of it the run fails.
    pub data_to_common: Option<Bounds>,
    /// What alternates on each data line against common, rms; above it the run fails, whether it couples in or not.
    pub data_alternating: Option<Bounds>,
    /// What a control takes from the supply, in amperes: what is left at that current is held to `supply`.
    pub control_current: Option<Quantity>,
}

impl LiveRanges {
    /// Nothing of a powered run is judged.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// What kind of supply a sheet has limits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SupplyForm {
    /// At the mains' frequency.
    Alternating,
    /// Direct, smoothed or not.
    Direct,
}
