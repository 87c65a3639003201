//! How a phase ended: only one that is done can prove anything.

use runproof_protocol::Phase;

/// The end of a phase.
#[derive(Clone, Debug, PartialEq)]
pub struct PhaseEnd {
    /// Which.
    pub phase: Phase,
    /// How.
    pub ending: Ending,
}

/// How a phase ended.
#[derive(Clone, Debug, PartialEq)]
pub enum Ending {
    /// It is complete.
    Done {
        /// How many patterns it has; one that is missing was lost on the way.
        patterns: u32,
    },
    /// The jig or the operator ended it early.
    Stopped {
        /// Why.
        reason: String,
    },
    /// There was voltage on the run.
    Hazard {
        /// What kind.
        reason: String,
        /// At least so much between two posts.
        largest_v: f64,
    },
    /// The link broke.
    Lost {
        /// How.
        reason: String,
    },
}
