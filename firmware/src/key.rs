//! The key: low while it is pressed.

use embassy_futures::select::{Either, select};
use embedded_hal::digital::InputPin;
use embedded_hal_async::digital::Wait;

use crate::clock::Clock;

/// Contacts bounce for less.
const BOUNCE_MICROS: u64 = 20_000;

/// Nobody presses so long by chance. [judgement]
const LONG_MICROS: u64 = 1_500_000;

/// How it was pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    /// And let go again.
    Short,
    /// And held.
    Long,
}

/// Waits for the key to be let go, then for a press; a long one as soon as it is long enough.
pub async fn press<K: InputPin + Wait>(key: &mut K, clock: &impl Clock) -> Press {
    loop {
        // The pin's errors are those of a chip without a pin.
        let _ = key.wait_for_high().await;
        clock.until(clock.now().after(BOUNCE_MICROS)).await;
        let _ = key.wait_for_low().await;
        let since = clock.now();
        clock.until(since.after(BOUNCE_MICROS)).await;
        if key.is_low().unwrap_or(false) {
            let long = clock.until(since.after(LONG_MICROS));
            return match select(key.wait_for_high(), long).await {
                Either::First(_) => Press::Short,
                Either::Second(()) => Press::Long,
            };
        }
    }
}
