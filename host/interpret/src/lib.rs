//! From a capture to a verdict: what the jig measured, and what it proves about the run.
//!
//! Data flows one way, and nothing here touches the world:
//!
//! [`Capture`] → observations → pair resistances → map or opens → resistance of each conductor,
//! with its uncertainty → findings → [`Judgement`].
//!
//! The library returns data; the words for it are found elsewhere.

mod by_copper;
mod capacitance;
pub mod capture;
mod compare_live;
mod comparisons;
mod completeness;
mod conductors;
pub mod copper;
mod decision;
mod declared;
mod findings;
pub mod flex;
mod glance;
mod hanging;
mod held;
mod isolation;
mod judge;
mod judge_flex;
mod judge_live;
pub mod judgement;
mod known;
pub mod landing;
pub mod limits;
mod live;
mod live_zero;
mod location;
mod looks_long;
mod loops;
mod map;
pub mod next;
mod not_lifted;
mod observations;
mod obstacle;
mod other_end;
mod past_short;
pub mod pieces;
#[cfg(test)]
mod published;
pub mod read_aloud;
pub mod reel;
mod resistances;
mod run;
mod settled;
mod survey;
pub mod to_earth;
mod touched;
mod unbalance;
mod zero;

pub use capture::{Capture, CaptureError};
pub use compare_live::{compare_live, live_ends};
pub use glance::{Glance, JOINED_BELOW_OHM, NoGlance, THROUGH_THE_PLUG_OHM, glance};
pub use hanging::{Hanging, hanging};
pub use judge_flex::judge_flex;
pub use judge_live::judge_live;
pub use judgement::Judgement;
pub use known::{LiveKnowledge, RunKnowledge};
pub use limits::{LimitSheet, SheetError};
pub use live_zero::NoLiveZero;
pub use other_end::{NoOtherEnd, OtherEnd};
pub use reel::judge_reel;
pub use touched::{posts_touched, touching};
pub use zero::{NoZero, zero};

/// What `capture` proves, by the limits of `sheet` and what is `known` of the run beside.
#[must_use]
pub fn judge(capture: &Capture, sheet: &LimitSheet, known: &RunKnowledge) -> Judgement {
    judge::judge(capture, sheet, known)
}
