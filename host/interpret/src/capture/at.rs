//! Where the jig was clipped on.

use runproof_protocol::Phase;

use super::{Capture, Entry};
use crate::judgement::At;

impl Capture {
    /// Where the jig was clipped on, where that was told.
    #[must_use]
    pub fn at(&self) -> Option<At> {
        self.entries.iter().rev().find_map(|entry| match entry {
            Entry::At(at) => Some(*at),
            _ => None,
        })
    }

    /// It is of a live run: it has readings, or an end, of its live phase.
    #[must_use]
    pub fn is_live(&self) -> bool {
        self.readings(Phase::Live).next().is_some() || self.ends(Phase::Live).next().is_some()
    }

    /// A simulated jig made it: nothing of it is of a real run.
    #[must_use]
    pub fn is_simulated(&self) -> bool {
        self.head.jig.board == SIMULATED_BOARD
    }
}

/// What a simulated jig says that it is.
const SIMULATED_BOARD: &str = "simulated";
