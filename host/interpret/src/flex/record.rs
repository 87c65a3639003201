//! All that is kept of a watch, bounded however long it ran.

use runproof_protocol::{Microseconds, Phase};
use serde::{Deserialize, Serialize};

use super::{FlexEvent, FlexGap, FlexLane, words};

/// So many events are kept from the beginning on.
pub const EVENTS_FIRST: usize = 1_000;

/// And so many of the longest.
pub const EVENTS_LONGEST: usize = 1_000;

/// A longer mark is cut.
pub const MARK_CHARS_MAX: usize = 200;

/// All that is kept of a watch.
#[derive(Clone, Debug, PartialEq)]
pub struct FlexRecord {
    /// What was watched, and how long.
    pub head: FlexHead,
    /// Four conductors and what cannot be told, or six pairs and that.
    pub lanes: Vec<FlexLane>,
    /// In the order in which they began; of more than 2,000 the first thousand and the longest.
    pub events: Vec<FlexEvent>,
    /// What was lost; of more than a thousand the first.
    pub gaps: Vec<FlexGap>,
    /// What was said while it went on.
    pub marks: Vec<FlexMark>,
}

/// What was watched, and how long.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FlexHead {
    /// In which phase.
    #[serde(with = "words::phase")]
    pub phase: Phase,
    /// What was to be told as a step.
    pub step_ohm: f64,
    /// Steps were found from so much on; nothing where none could be told.
    pub steps_from_ohm: Option<f64>,
    /// What each conductor had before, by post, as it was told.
    pub baseline_ohm: [Option<f64>; 4],
    /// When it began, on the jig's clock; nothing if it never did.
    pub from_us: Option<u64>,
    /// How long it was watched, gaps taken off.
    pub watched_us: u64,
    /// How many events there were in all.
    pub events: u64,
    /// How many gaps there were in all.
    pub gaps: u64,
    /// How long these were together.
    pub gaps_us: u64,
    /// How many of the jig's events were lost on the way.
    pub lost_events: u64,
    /// How many edges found no room in the jig.
    pub dropped_edges: u64,
    /// For how long at a time, at most, converters and catcher said the opposite of a post.
    pub contradicted_us: u64,
    /// How many marks there were in all.
    pub marks: u64,
}

/// Something that was said while it went on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FlexMark {
    /// When, on the jig's clock.
    #[serde(rename = "t_us")]
    pub at: Microseconds,
    /// What.
    pub text: String,
}
