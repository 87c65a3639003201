//! What was proved about one core of a reel.

use runproof_protocol::Post;
use serde::Serialize;

use crate::judgement::{Verdict, post_number};
use crate::limits::ConductorName;

/// One core.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ReelConductor {
    /// Which, by the limit sheet.
    pub name: ConductorName,
    /// The post that it is clipped to.
    #[serde(serialize_with = "post_number::one")]
    pub post: Post,
    /// Of this core alone.
    pub verdict: Verdict,
    /// Why.
    pub reason: ReelReason,
    /// As it was read, contacts taken off.
    pub ohm: Option<f64>,
    /// Of that, 95 %.
    pub expanded_uncertainty_ohm: Option<f64>,
    /// At 20 °C.
    pub ohm_at_20_c: Option<f64>,
    /// Of that, 95 %.
    pub expanded_uncertainty_ohm_at_20_c: Option<f64>,
    /// At 20 °C, where a length is known beside the resistance.
    pub ohm_per_km: Option<f64>,
    /// Of that, 95 %.
    pub expanded_uncertainty_ohm_per_km: Option<f64>,
}

/// Why a core has its verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReelReason {
    /// Whole, of the declared size, and like its siblings.
    AsDeclared,
    /// It reaches nothing at the far end.
    Open,
    /// It meets another core.
    Shorted,
    /// It has more resistance than its siblings.
    Uneven,
    /// It has more resistance than the declared size may have.
    MoreThanDeclared,
    /// Surely less than the declared size can have.
    LessThanDeclared,
    /// Its core at the other end is on another post.
    ClippedOtherwise,
    /// Nobody knows how long it is beside its resistance.
    LengthNotKnown,
    /// The limit lies within the uncertainty.
    TooCloseToLimit,
    /// The reel is not as warm as the room.
    StillWarming,
    /// How warm it is was not told.
    TemperatureNotTold,
    /// Its inner end was not reached.
    Buried,
    /// The readings are missing, or do not decide it.
    NotMeasured,
    /// What was declared contradicts what was measured, or says too little.
    NotDecided,
}
