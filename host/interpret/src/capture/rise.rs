//! How long a post took to rise, let go under both pulls while the others were low.

use runproof_protocol::{self as protocol, Microseconds, Phase, Picofarads, Post};

/// One post, let go again and again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rise {
    /// End plug out, or in.
    pub phase: Phase,
    /// Counts on where the phase's readings left off.
    pub pattern: u32,
    /// Which post was let go.
    pub post: Post,
    /// The capacitor that was put beside what hangs on the post, if one was.
    pub reference: Option<Picofarads>,
    /// The posts' relays were closed.
    pub relays_closed: bool,
    /// From each release until the post's line read high; nothing where it did not in time.
    pub micros: Vec<Option<u16>>,
    /// When it was let go first, on the jig's clock.
    pub at: Microseconds,
}

impl From<&protocol::Rise> for Rise {
    fn from(told: &protocol::Rise) -> Self {
        let risen = |micros: u16| (micros < protocol::Rise::MICROS_MAX).then_some(micros);
        Self {
            phase: told.phase,
            pattern: told.index.into(),
            post: told.post,
            reference: told.reference,
            relays_closed: told.relays_closed,
            micros: told.micros.iter().copied().map(risen).collect(),
            at: told.at,
        }
    }
}
