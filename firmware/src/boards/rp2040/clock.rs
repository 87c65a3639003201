//! The chip's timer as the engine's clock.

use embassy_time::{Instant, Timer};
use runproof_protocol::Microseconds;

use crate::clock::Clock;

/// Microseconds since power-up.
pub(super) struct ChipClock;

impl Clock for ChipClock {
    fn now(&self) -> Microseconds {
        Microseconds(Instant::now().as_micros())
    }

    async fn until(&self, at: Microseconds) {
        Timer::at(Instant::from_micros(at.0)).await;
    }
}
