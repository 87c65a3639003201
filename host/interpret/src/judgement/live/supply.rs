//! The supply as the jig saw it.

use serde::{Deserialize, Serialize};

use super::{LiveLimit, LiveReason, Measured};
use crate::judgement::Verdict;

/// Supply against common.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LiveSupply {
    /// What it is.
    pub kind: SupplyKind,
    /// 50 or 60, where it follows the mains; of a full wave, what it was rectified from.
    pub nominal_hertz: Option<u8>,
    /// Of all there is, direct and alternating.
    pub rms_v: Option<Measured>,
    /// Its mean; of supply against common.
    pub direct_v: Option<Measured>,
    /// Without its mean.
    pub alternating_rms_v: Option<Measured>,
    /// Of the mains.
    pub hertz: Option<Measured>,
    /// Of all there is, with 47 kΩ across.
    pub loaded_rms_v: Option<Measured>,
    /// The ranges that it is held to: first the one that decides, then the one that is only noted.
    pub limits: Vec<LiveLimit>,
    /// Of the supply alone.
    pub verdict: Verdict,
    /// Why.
    pub reason: LiveReason,
}

/// What kind of voltage the supply is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum SupplyKind {
    /// Alternating at the mains' frequency.
    AlternatingMains,
    /// Alternating at another frequency, or of a form that is none of these.
    Other,
    /// Every second half wave of the mains.
    HalfWave,
    /// Every half wave of the mains, the same way.
    FullWave,
    /// Direct.
    Direct,
    /// Less than the jig tells from nothing, or than couples in.
    None,
    /// Not told.
    Unknown,
}
