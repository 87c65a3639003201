//! What was seen while a run was flexed.

use runproof_protocol::Phase;
use serde::Serialize;

use super::Verdict;
use crate::flex::bits::Corrupts;
use crate::flex::{FlexLaneOf, FlexRecord, words};
use crate::limits::Severity;

/// What follows from the watches of a capture. A pass says that nothing was seen in the time that was watched, and no more.
#[derive(Clone, Debug, PartialEq)]
pub struct FlexJudgement {
    /// Of all.
    pub verdict: Verdict,
    /// What was seen, in the order in which it was watched.
    pub watches: Vec<FlexRecord>,
    /// What is wrong, or could not be told; the gravest first.
    pub findings: Vec<FlexFinding>,
    /// How long all of it was watched, gaps taken off.
    pub watched_s: f64,
    /// Half of the interval that holds a true duration is so much,
    pub duration_u_us: f64,
    /// or this part of it, if that is more.
    pub duration_u_part: f64,
    /// Of a step it is this.
    pub step_u_us: f64,
}

impl FlexJudgement {
    /// Whether this is among its findings.
    #[must_use]
    pub fn found(&self, kind: FlexFindingKind) -> bool {
        self.findings.iter().any(|finding| finding.kind == kind)
    }
}

/// Something wrong with a flexed run, or that could not be told.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FlexFinding {
    /// What.
    pub kind: FlexFindingKind,
    /// What it means.
    pub severity: Severity,
    /// In which phase; nothing where there was none.
    #[serde(serialize_with = "words::maybe_phase")]
    pub phase: Option<Phase>,
    /// Whom it concerns; nothing: the run as a whole.
    pub lane: Option<FlexLaneOf>,
    /// How often.
    pub count: Option<u64>,
    /// How long the longest was; of what could not be told, how long that was in all.
    pub longest_us: Option<u64>,
    /// By how much the largest step rose; from where on steps are told.
    pub ohm: Option<f64>,
    /// What the longest does to data, at each of [`BAUDS`](crate::flex::bits::BAUDS).
    pub corrupts: Option<[Corrupts; 3]>,
}

/// What was found on a flexed run. In the order of their gravity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum FlexFindingKind {
    /// A conductor broke.
    Breaks,
    /// Two conductors touched.
    Touches,
    /// A conductor rose, and came back or did not.
    Steps,
    /// Something broke or touched, and whom cannot be known: perhaps the end plug was moved.
    Untold,
    /// There is no watch, or nothing came of it.
    NotWatched,
    /// Part of what was kept of the watch is missing.
    NotWhole,
    /// A conductor or pair was never as it should be.
    NeverGood,
    /// The jig's edge catcher contradicts its converters.
    CatcherContradicts,
    /// Part of the time was lost; it cannot be told if that is more than a hundredth.
    Gaps,
    /// Hum or noise hides smaller steps than this; without a number, all.
    Hum,
}
