//! What is lost between two ends of a live run, or why that is not told.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::{At, Measured, SupplyKind};

/// From the adapter, where the supply comes from, to the wall plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LostBetween {
    /// Which ends: the adapter, then the plate.
    pub places: [At; 2],
    /// What the supply is at either.
    pub supply_kind: [Option<SupplyKind>; 2],
    /// The current in amperes at which that is told, where the supply sags under a control's; else as it stands.
    pub control_current_a: Option<f64>,
    /// Supply against common at either: the mean of what is direct, else rms.
    pub supply_v: [Option<Measured>; 2],
    /// The first less the second.
    pub supply_lost_v: Option<Measured>,
    /// What that comes to; absent where it is not known at one of them.
    pub supply: Option<SupplyBetween>,
    /// Data+ against data− at either; absent where someone sends all the time.
    pub bias_v: [Option<Measured>; 2],
    /// The first less the second.
    pub bias_lost_v: Option<Measured>,
    /// What that comes to; absent where it is not known at one of them.
    pub pair: Option<PairBetween>,
    /// The pair is the right way round at one end and reversed at the other.
    pub exchanged: bool,
}

/// The supply at both ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum SupplyBetween {
    /// At neither.
    None,
    /// At the adapter, and not at the plate.
    LostAltogether,
    /// At the plate alone: not from the adapter, then.
    OnlyAtThePlate,
    /// Less at the plate.
    Less,
    /// Less at the plate, and there it is in range.
    LessAndInRange,
    /// Alike within what the readings can tell.
    Alike,
    /// More at the plate, which no run adds.
    More,
    /// The sign of a direct one is the other one.
    Exchanged,
}

/// The data pair at both ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum PairBetween {
    /// Exchanged between the two.
    Exchanged,
    /// Alike within what the readings can tell.
    Alike,
    /// Not alike, and both are the right way round and in range.
    BothInRange,
    /// Not alike, and not both in range.
    Differs,
}

/// Why two live readings cannot be laid side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum NotCompared {
    /// Both are of one end.
    #[error("both were read at the same end")]
    SameEnd,
    /// Of one of them it is not told.
    #[error("it is not told at which end each was read")]
    EndNotTold,
    /// A supply of one kind at the one, of another at the other.
    #[error("the supply is of one kind at the one and of another kind at the other")]
    OtherKind,
    /// Supplies of 50 and of 60 Hz.
    #[error("the supply is of 50 Hz at the one and of 60 Hz at the other")]
    OtherFrequency,
    /// There is a hazard at one of them.
    #[error("one of them shows more voltage than a control run may have")]
    Hazard,
    /// Neither supply nor pair is known at both.
    #[error("neither supply nor data pair is known at both")]
    NothingKnown,
}
