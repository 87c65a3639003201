//! A number of a live run, the range it is held to, and how it stands to that.

use serde::{Deserialize, Serialize};

use crate::limits::{Bounds, Severity};

/// A number, and how well it is known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// The best estimate.
    pub value: f64,
    /// Half of the interval that holds the true value with 95 %.
    pub u: f64,
}

impl Measured {
    /// The least that it can be.
    #[must_use]
    pub fn least(&self) -> f64 {
        self.value - self.u
    }

    /// The most that it can be.
    #[must_use]
    pub fn most(&self) -> f64 {
        self.value + self.u
    }
}

/// A range of the limit sheet that something on a live run is held to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LiveLimit {
    /// In volts.
    pub least_v: f64,
    /// In volts.
    pub most_v: f64,
    /// What it means to be out of it.
    pub severity: Severity,
    /// Where it comes from.
    pub source: String,
}

impl LiveLimit {
    pub(crate) fn of(bounds: &Bounds, severity: Severity) -> Self {
        let Bounds { least, most, unit: _, source } = bounds;
        Self { least_v: *least, most_v: *most, severity, source: source.clone() }
    }
}

/// Why something on a live run has its verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum LiveReason {
    /// Within every range of the sheet.
    WithinLimits,
    /// Below a range.
    BelowLimit,
    /// Above a range.
    AboveLimit,
    /// The end of a range lies within the uncertainty.
    TooCloseToLimit,
    /// The sheet has no range for it.
    LimitUnknown,
    /// Of another kind than the sheet has limits for: alternating instead of direct, or the other way round.
    OtherKind,
    /// There is nothing.
    Nothing,
    /// It collapses under the load.
    CouplesIn,
    /// It hangs on nothing: it stands where the jig's own load puts it.
    Floats,
    /// The pair is the other way round.
    Reversed,
    /// The pair is within what a receiver does not decide.
    Undecided,
    /// Beyond the range of the jig: a hazard, and no number.
    BeyondRange,
    /// Someone sends, and never stops for long enough to see the pair idle.
    Busy,
    /// Not measured as a judgement needs it.
    NotMeasured,
}
