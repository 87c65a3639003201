//! A finding on a live run: something wrong, or something that could not be told.

use runproof_protocol::Post;
use serde::{Deserialize, Serialize};

use super::super::post_number;
use crate::limits::{ConductorName, Severity};

/// Something wrong on a live run, or that could not be told.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LiveFinding {
    /// What.
    pub kind: LiveFindingKind,
    /// Why it could not be told; absent for what was found.
    pub cause: Option<LiveCause>,
    /// What it means.
    pub severity: Severity,
    /// Whom it concerns; empty: the run as a whole. A post that holds no conductor of the sheet has no name here.
    pub conductors: Vec<ConductorName>,
    /// Their posts, in the same order.
    #[serde(serialize_with = "post_number::list")]
    pub posts: Vec<Post>,
    /// The number that speaks, where there is one: the high-impedance one, of what alternates rms.
    pub value: Option<f64>,
    /// Of the value: half of the interval that holds the true value with 95 %.
    pub u: Option<f64>,
    /// What is left of it under the load.
    pub loaded: Option<f64>,
    /// Instead of a value, where there is more than the jig can tell: at least so much.
    pub at_least: Option<f64>,
    /// Of all four.
    pub unit: Option<LiveUnit>,
}

impl LiveFinding {
    pub(crate) fn new(kind: LiveFindingKind, severity: Severity) -> Self {
        Self {
            kind,
            cause: None,
            severity,
            conductors: vec![],
            posts: vec![],
            value: None,
            u: None,
            loaded: None,
            at_least: None,
            unit: None,
        }
    }

    pub(crate) fn because(cause: LiveCause) -> Self {
        let found = Self::new(LiveFindingKind::Incomplete, Severity::CannotTell);
        Self { cause: Some(cause), ..found }
    }
}

/// What was found on a live run. In the order of their gravity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum LiveFindingKind {
    /// More than 30 V alternating, 42 V direct, or too much of both may be between two posts, or some reading was beyond its range.
    Hazard,
    /// All conductors move together against the jig: one of them may be live to earth.
    AllMoveTogether,
    /// A source beside the supply: on another conductor, or of another frequency.
    SecondSource,
    /// The supply's own voltage stands on a data conductor as well: they touch.
    SupplyOnData,
    /// There is none where the supply belongs, and a supply's voltage on data conductors: landed or crossed wrongly.
    SupplyElsewhere,
    /// Supply and common are exchanged: the data lines stand right against the conductor that should be the supply.
    SupplyCrossedWithCommon,
    /// Voltage where none belongs, and it does not collapse under the load.
    ForeignVoltage,
    /// Supply and data lines are there, but common does not join them: it is open.
    CommonMissing,
    /// There is no supply.
    NoSupply,
    /// The supply is of another kind than the sheet has limits for.
    OtherSupply,
    /// The supply is below its range.
    LowSupply,
    /// The supply is above its range.
    HighSupply,
    /// The supply gives way under 47 kΩ: it hangs on something of many kilohms, or couples in.
    SupplyGivesWay,
    /// The supply is there, and too little of it is left at a control's current.
    SupplySags,
    /// The data pair is the other way round.
    ReversedPair,
    /// A conductor hangs on nothing: it is open, or nothing is connected to it. Where that cannot be told, it stands where such
    /// a one would, and without a fresh zero it may as well be held there.
    Floats,
    /// The pair floats: nothing biases it.
    PairNotBiased,
    /// The pair's bias is below what a receiver needs: loaded, terminated twice too often, or shorted.
    PairLoaded,
    /// The pair's bias is above its range.
    PairAboveRange,
    /// A data line is beyond what a receiver takes against common.
    BeyondReceiver,
    /// Mains on a data line that collapses under the load, or stays below its limit: it couples in from a cable alongside.
    Hum,
    /// A number is nearer to a limit than its uncertainty.
    TooCloseToLimit,
    /// The sheet has no limit for what was measured.
    LimitUnknown,
    /// The capture lacks what a judgement needs.
    Incomplete,
}

/// Why something could not be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum LiveCause {
    /// There is no live phase.
    NotMeasured,
    /// It has no end, several, or another one than done.
    NotFinished,
    /// Patterns of it are missing.
    PatternsMissing,
    /// Readings are missing that the judgement needs.
    ReadingsMissing,
    /// Without the readings under the load nothing tells what couples in from what is there.
    LoadedMissing,
    /// No wave of the mains and nothing direct explains the readings.
    Unexplained,
    /// Someone sends, and never stops for long enough to see the pair idle.
    Busy,
    /// Common is open: nothing can be told against it.
    CommonMissing,
}

/// Of a live finding's numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LiveUnit {
    /// V, the mean
    VoltDirect,
    /// V, rms
    VoltRms,
    /// V, the most at any instant
    VoltPeak,
    /// Hz
    Hertz,
}
