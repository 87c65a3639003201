//! The check without a host: a press of the key, and the lamps tell what is wrong by thresholds.
//!
//! With the plug out it looks for what joins two conductors, with it in for where they arrive. What it read
//! is kept whole, for a host that judges it later.

mod joined;
mod maps;
mod memory;
mod packed;
mod seen;
mod told;

pub use memory::Memory;
pub use seen::Seen;
pub use told::told;

use runproof_protocol::{Microseconds, Phase};

/// An open phase counts for the plug phase after it for so long: nobody takes longer to the far end. [judgement]
const SAME_RUN_MICROS: u64 = 600_000_000;

/// Which phase a run is ready for that shows itself like this in a glance.
///
/// The plug joins at least two pairs of posts. A single joined pair may be two wires of a plugged bus or
/// whatever is still landed between two of four, and none a plug that nothing arrives at: what is measured
/// next then follows the last phase.
#[must_use]
pub fn phase(glance: &Seen, memory: &Memory, now: Microseconds) -> Phase {
    if glance.pairs_as_through_the_plug() > 1 || memory.waits_for_plug(now) {
        Phase::Plug
    } else {
        Phase::Open
    }
}
