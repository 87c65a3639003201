//! The supply under a load of the jig's own, and what a control would be left with.

use serde::{Deserialize, Serialize};

use super::{LiveReason, Measured};
use crate::judgement::Verdict;

/// What the supply load showed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SupplyLoad {
    /// What the jig put across supply and common, in ohms; nothing, if it has none.
    pub load_ohm: Option<f64>,
    /// What stood there alone; of what alternates rms, of what is direct the mean.
    pub alone_v: Option<Measured>,
    /// What was left under the load.
    pub loaded_v: Option<Measured>,
    /// What flowed then, in amperes, by the load's nominal value.
    pub load_a: Option<f64>,
    /// Of all that stands between the supply and the jig: its own resistance, and the wire's.
    pub source_ohm: Option<Measured>,
    /// Why it is not known; absent where it is.
    pub unknown: Option<LoadUnknown>,
    /// What a control is left with.
    pub control: Option<AtControl>,
}

/// What is left of the supply when a control takes its current.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AtControl {
    /// What it takes, in amperes.
    pub current_a: f64,
    /// Where that comes from.
    pub source: String,
    /// Where the jig is.
    pub here_v: Measured,
    /// Supply and common of the run together, in ohms, as a check of it found them.
    pub run_ohm: Option<Measured>,
    /// At the far end of that run.
    pub far_v: Option<Measured>,
    /// Of the last of these.
    pub verdict: Verdict,
    /// Why.
    pub reason: LiveReason,
}

/// Why nothing is known of a supply under the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum LoadUnknown {
    /// There was more between posts 3 and 4 than the load may be put on.
    TooMuch,
    /// The phase did not come to its end, or readings of it are missing.
    NotFinished,
    /// The sheet has supply and common on other posts than 3 and 4, where the load is.
    OtherPosts,
    /// The supply itself was not told, or there is none: what stood there is gone under the load.
    NoSupply,
    /// The supply changed meanwhile, or its form does under the load.
    Unsteady,
}
