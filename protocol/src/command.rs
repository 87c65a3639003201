//! What the host asks of the jig.

use serde::{Deserialize, Serialize};

use crate::{FarLights, Key, Record, Signs};

/// Host → jig.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Command {
    /// Opens a conversation; the jig answers with the same nonce, so that stale bytes cannot pass
    /// for an answer.
    Hello {
        /// The host's [`VERSION`](crate::VERSION).
        version: u16,
        /// Any number; it comes back in the jig's hello.
        nonce: u32,
    },
    /// Asks who the jig is and what it is built of.
    Identify,
    /// Measures one phase from start to end.
    Measure {
        /// Which part of the check.
        phase: Phase,
    },
    /// Ends a measurement at once: drives off, relays open.
    Abort,
    /// Clears a latched hazard. For an operator who has looked, never automatic.
    Rearm,
    /// Shows a verdict on lamps and sounder.
    Show(Signs),
    /// Tells a phase again that was measured with no host there.
    Replay {
        /// Which: open or plug.
        phase: Phase,
    },
    /// Keeps a record on the jig, in place of the one before it.
    Keep {
        /// Under this key.
        key: Key,
        /// Its bytes; none: what was kept is forgotten.
        record: Record,
    },
    /// Asks for a record.
    Recall {
        /// Under this key.
        key: Key,
    },
    /// Lights the lights on the reverse face of the end plug's key, once through their pattern.
    LightFar(FarLights),
}

/// What is measured in one go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Phase {
    /// The end plug is out: the run's far end stands open.
    Open,
    /// The end plug is in: the ring joins the far ends.
    Plug,
    /// A short look at how the run stands, between the two: nothing of it is judged.
    Glance,
    /// The run may be powered: the relays stay open, and all that stands between its conductors is read.
    Live,
    /// Nothing is clipped on: how the live dividers read voltages that the jig itself puts on its posts.
    LiveZero,
    /// No measurement: the key's lights are lit. It keeps to what every phase keeps to that drives.
    FarLights,
    /// The supply of a live run, posts 3 and 4, by itself and under the jig's supply load.
    SupplyLoad,
    /// A short look at the fixture for made-up leads: which posts meet through its ring, and what hangs on each.
    Fixture,
    /// The run is flexed with the end plug in: posts 1 and 2 against 3 and 4, until an abort. Which conductor breaks?
    Flex,
    /// The same with the end plug out: which conductors touch? [`FlexAcross`](Self::FlexAcross) and
    /// [`FlexAlong`](Self::FlexAlong) in turns.
    FlexShorts,
    /// With the end plug out, posts 1 and 2 against 3 and 4 all the time.
    FlexAcross,
    /// With the end plug out, posts 1 and 3 against 2 and 4 all the time.
    FlexAlong,
}

impl Phase {
    /// Whether the run is flexed: the phase goes on until an abort.
    #[must_use]
    pub const fn is_flexed(self) -> bool {
        matches!(self, Self::Flex | Self::FlexShorts | Self::FlexAcross | Self::FlexAlong)
    }
}
