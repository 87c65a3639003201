//! What was proved about one conductor.

use runproof_protocol::Post;
use serde::{Deserialize, Serialize};

use super::{Budget, Verdict, post_number};
use crate::limits::ConductorName;

/// What was proved about one conductor.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Conductor {
    /// Which, by the limit sheet.
    pub name: ConductorName,
    /// The terminal that it belongs on at both ends, numbered as the post that it should be clipped to.
    #[serde(serialize_with = "post_number::one")]
    pub terminal: Post,
    /// The post it is clipped to.
    #[serde(serialize_with = "post_number::one")]
    pub post: Post,
    /// The terminal that it arrives at, by the end plug's clips or, where the far wires were held
    /// together, as these showed it; absent where that is not known.
    #[serde(serialize_with = "post_number::maybe")]
    pub reaches: Option<Post>,
    /// Of this conductor alone.
    pub verdict: Verdict,
    /// Why.
    pub reason: Reason,
    /// From post to plug, contacts taken off; absent where it is not known. May be slightly below
    /// zero on a short run.
    pub resistance_ohm: Option<f64>,
    /// Of the resistance: half of the interval that holds the true value with 95 %.
    pub expanded_uncertainty_ohm: Option<f64>,
    /// By which that is larger than the combined standard uncertainty: less than 2, the more one
    /// contact makes of it.
    pub coverage_factor: Option<f64>,
    /// What the uncertainty is made of, as standard uncertainties.
    pub budget: Option<Budget>,
    /// The most resistance it may have; absent where that takes a wire that was not told.
    pub limit_ohm: Option<f64>,
    /// Of the limit, where it was calculated; else 0.
    pub limit_expanded_uncertainty_ohm: Option<f64>,
    /// How likely the resistance is within its limit.
    pub conformance: Option<f64>,
}

/// Why a conductor or a loop has its verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reason {
    /// The resistance is within the limit.
    WithinLimit,
    /// The resistance is beyond the limit.
    BeyondLimit,
    /// The limit lies within the uncertainty of the resistance.
    TooCloseToLimit,
    /// It reaches nothing at the far end.
    Open,
    /// It meets another conductor on the way.
    Shorted,
    /// It arrives at another conductor's terminal.
    ArrivesElsewhere,
    /// The readings do not tell where it arrives.
    MapUnknown,
    /// Something disturbs the readings.
    Disturbed,
    /// One end was not lifted: what hangs there may take from what was read.
    NotLifted,
    /// It was not measured as a judgement needs it.
    NotMeasured,
    /// Its limit takes gauge and length, and they were not told.
    LimitUnknown,
}
