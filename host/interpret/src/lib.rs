//! From a capture to a verdict: what the jig measured, and what it proves about the run.
//!
//! Data flows one way, and nothing here touches the world:
//!
//! [`Capture`] → observations → pair resistances → map or opens → resistance of each conductor,
//! with its uncertainty → findings → [`Judgement`].
//!
//! The library returns data; the words for it are found elsewhere.

pub mod capture;
mod completeness;
mod conductors;
mod decision;
mod findings;
mod isolation;
mod judge;
pub mod judgement;
mod known;
pub mod limits;
mod live;
mod observations;
mod obstacle;
mod resistances;
mod run;
mod survey;

pub use capture::{Capture, CaptureError};
pub use judgement::Judgement;
pub use known::RunKnowledge;
pub use limits::{LimitSheet, SheetError};

/// What `capture` proves, by the limits of `sheet`, with what is `known` beside it.
#[must_use]
pub fn judge(capture: &Capture, sheet: &LimitSheet, known: &RunKnowledge) -> Judgement {
    judge::judge(capture, sheet, known)
}
