//! What happened, once it is over; and what a watch tells while it goes on.

use runproof_protocol::Microseconds;
use serde::{Deserialize, Serialize};

use super::FlexLaneOf;

/// Something that happened to a conductor or a pair.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct FlexEvent {
    /// To whom.
    pub lane: FlexLaneOf,
    /// What.
    pub kind: FlexKind,
    /// When it began, on the jig's clock.
    #[serde(rename = "t_us")]
    pub at: Microseconds,
    /// For how long.
    pub lasted: Lasted,
    /// How far it went.
    pub depth: Depth,
}

/// What can happen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FlexKind {
    /// A conductor ceased to carry: more than about 1 kΩ.
    Break,
    /// Two conductors met, by less than about 1 kΩ.
    Touch,
    /// A conductor rose by some ohms, and went on to carry.
    Step,
}

/// For how long.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Lasted {
    /// So long.
    Micros(u64),
    /// Less than this: faster than can be timed.
    AtMostMicros(u64),
    /// It was lost from sight after so long, as something was lost on the way or was not watched for a moment.
    AtLeastMicros(u64),
    /// It was still so when the watch ended.
    StillAtEnd(u64),
}

impl Lasted {
    /// The number in it.
    #[must_use]
    pub const fn micros(self) -> u64 {
        match self {
            Self::Micros(us)
            | Self::AtMostMicros(us)
            | Self::AtLeastMicros(us)
            | Self::StillAtEnd(us) => us,
        }
    }
}

/// How far it went, as far as the converters saw it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Depth {
    /// It did not last until each input had been read once.
    NotSeen,
    /// The largest resistance of the conductor, of a touch the least between the two. Of a step where its baseline is not known, how
    /// much it rose.
    Ohm(f64),
    /// Beyond 1 kΩ.
    Open,
}

/// A part of the time of which nothing is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FlexGap {
    /// When it began, on the jig's clock.
    #[serde(rename = "t_us")]
    pub at: Microseconds,
    /// How long it was.
    pub lasted_us: u64,
    /// So many events of the jig's were lost on the way.
    pub lost_events: u16,
    /// So many edges found no room in the jig.
    pub dropped_edges: u16,
}

/// What a watch tells while it goes on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FlexNews {
    /// How the run is before it is flexed is known now.
    Baseline {
        /// Steps are found from so much on; nothing where no resistance can be told.
        steps_from_ohm: Option<f64>,
    },
    /// Something began.
    Began {
        /// To whom.
        lane: FlexLaneOf,
        /// What.
        kind: FlexKind,
        /// When.
        at: Microseconds,
    },
    /// Something is over; it may have been too fast to be told as begun.
    Ended(FlexEvent),
    /// Something was lost.
    Gap(FlexGap),
}
