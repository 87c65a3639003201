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
mod glance;
mod judge;
pub mod judgement;
pub mod limits;
mod live;
mod observations;
mod obstacle;
mod resistances;
mod run;
mod survey;

pub use capture::{Capture, CaptureError};
pub use glance::{Glance, JOINED_BELOW_OHM, NoGlance, glance};
pub use judgement::Judgement;
pub use limits::{LimitSheet, SheetError};

/// What `capture` proves, by the limits of `sheet`.
#[must_use]
pub fn judge(capture: &Capture, sheet: &LimitSheet) -> Judgement {
    judge::judge(capture, sheet)
}
