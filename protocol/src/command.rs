//! What the host asks of the jig.

use serde::{Deserialize, Serialize};

use crate::{Key, Record, Signs};

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
}

/// A part of a dead-run check, or a glance that says when it is time for one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Phase {
    /// The end plug is out: the run's far end stands open.
    Open,
    /// The end plug is in: the ring joins the far ends.
    Plug,
    /// A short look at how the run stands, between the two: nothing of it is judged.
    Glance,
}
