//! A run that is watched while it is flexed: from the jig's events to what broke, touched or rose, when, and for how long.
//!
//! [`Flexed`] hears the events of one phase and forgets them; what it keeps is bounded however long it runs, and
//! becomes a [`FlexRecord`], which a capture holds. What follows from that is [`judge_flex`](crate::judge_flex)'s.

pub mod bits;
mod circuit;
mod contradiction;
mod event;
mod extremes;
mod flexed;
mod incoming;
mod lane;
mod lanes;
mod levels;
mod log;
mod read;
mod record;
mod resistances;
mod setup;
mod slots;
mod steps;
mod walk;
pub(crate) mod words;

pub use event::{Depth, FlexEvent, FlexGap, FlexKind, FlexNews, Lasted};
pub use flexed::Flexed;
pub use lane::{DURATION_BOUNDS_US, FlexLane, FlexLaneOf, Now};
pub use log::{GAPS_MAX, MARKS_MAX};
pub use record::{EVENTS_FIRST, EVENTS_LONGEST, FlexHead, FlexMark, FlexRecord, MARK_CHARS_MAX};
pub use setup::FlexSetup;

/// Two changes of a post that are nearer to each other cannot be told apart in time.
pub const FASTER_THAN_US: u64 = 10;

/// A duration is uncertain by so much, or by [`DURATION_U_PART`] of it if that is more: a break at the far end of
/// 30 m reads up to 5 µs short, of 150 m up to 15, as the cable's capacitance behind 630 Ω has to be charged first; a touch as
/// much long (`firmware/jig/edges.md`).
pub const DURATION_U_US: f64 = 20.0;

/// See [`DURATION_U_US`]. (judgement)
pub const DURATION_U_PART: f64 = 0.05;

/// The same of a step, whose conductor is read every 5.4 ms.
pub const STEP_U_US: f64 = 6_000.0;

/// Half of the interval that holds the true duration.
#[must_use]
pub fn duration_u_us(us: u64) -> f64 {
    DURATION_U_US.max(us as f64 * DURATION_U_PART)
}
