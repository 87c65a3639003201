//! How long a post takes to rise: the reading that capacitance is made of.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use crate::{Microseconds, Phase, Picofarads, Post};

/// One post let go again and again, with both pulls high and the other posts low.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rise {
    /// Counts on where the patterns of its phase left off, so that a lost one is missed.
    pub index: u16,
    /// Which part of the check this belongs to.
    pub phase: Phase,
    /// The post that was let go.
    pub post: Post,
    /// The capacitor that the jig put beside whatever hangs on that post, if it did.
    pub reference: Option<Picofarads>,
    /// The post relays were closed.
    pub relays_closed: bool,
    /// When it was let go first.
    pub at: Microseconds,
    /// From each release until the post's drive line read high, in microseconds; [`Rise::MICROS_MAX`]
    /// where it had not by then.
    pub micros: Vec<u16, { Rise::RELEASES_MAX }>,
}

impl Rise {
    /// The most releases that one event carries.
    pub const RELEASES_MAX: usize = 16;

    /// A rise is waited for so long, in microseconds.
    pub const MICROS_MAX: u16 = 1_250;
}
