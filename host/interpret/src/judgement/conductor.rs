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
    /// The post it is clipped to.
    #[serde(serialize_with = "post_number::one")]
    pub post: Post,
    /// The plug's terminal that it arrives at; absent where that is not known.
    #[serde(serialize_with = "post_number::maybe")]
    pub reaches: Option<Post>,
    /// Of this conductor alone.
    pub verdict: Verdict,
    /// Why.
    pub reason: Reason,
    /// From post to plug, contacts taken off; absent where it is not known. May be slightly below
    /// zero on a short run.
    pub resistance_ohm: Option<f64>,
    /// Of the resistance, with the judgement's coverage factor.
    pub expanded_uncertainty_ohm: Option<f64>,
    /// What the uncertainty is made of, as standard uncertainties.
    pub budget: Option<Budget>,
    /// The most resistance it may have.
    pub limit_ohm: f64,
}

/// Why a conductor has its verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reason {
    /// Its resistance is within the limit.
    WithinLimit,
    /// Its resistance is beyond the limit.
    BeyondLimit,
    /// The limit lies within the uncertainty of its resistance.
    TooCloseToLimit,
    /// It reaches nothing at the far end.
    Open,
    /// It arrives at another conductor's terminal.
    ArrivesElsewhere,
    /// The readings do not tell where it arrives.
    MapUnknown,
    /// Something disturbs the readings.
    Disturbed,
    /// It was not measured as a judgement needs it.
    NotMeasured,
}
