//! The lights on the reverse face of the key, lit once through their pattern.
//!
//! The run was found without voltage, and the watch was seen to see every post, before this drives anything.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Drive, FarLights, Lamp};

use super::patterns::{PULLS_OFF, Patterns};
use crate::bench::Line;
use crate::clock::Clock;
use crate::watch::Watch;

/// Two diodes of a pair stand opposed and take turns: each a hundred times a second, which no eye sees
/// [judgement], so that both glow while the pattern is lit, however the conductors are turned.
const HALF_MICROS: u64 = 5_000;
const HALVES: usize = (Lamp::STEP_MICROS / HALF_MICROS) as usize;

/// Contacts 1 and 3 of the key against 2 and 4, and the other way round. Takes 1.6 s, of the 3 s that relays
/// may be closed.
pub(super) async fn show<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
    lights: FarLights,
) {
    let mut ends = [[Drive::Off; 4]; 2];
    for (contact, post) in lights.posts.into_iter().enumerate() {
        ends[contact % 2][post.index()] = Drive::High;
        ends[1 - contact % 2][post.index()] = Drive::Low;
    }
    let mut due = patterns.now();
    // Two loops, as the chip has no division.
    for step in 0..Lamp::STEPS {
        for half in 0..HALVES {
            let lit = lights.pattern.lit(step);
            patterns.hold(if lit { ends[half % 2] } else { [Drive::Off; 4] }, PULLS_OFF);
            due = due.after(HALF_MICROS);
            patterns.until(due).await;
        }
    }
    patterns.let_go();
}
