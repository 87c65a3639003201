//! The guard: a jig whose tasks hang, or whose watch stands still while it should look, starts anew.
//!
//! The chip's watchdog resets pins and coils with everything else. It is fed by a task beside the others, so
//! that one of them that never gives way is enough.

use embassy_rp::Peri;
use embassy_rp::peripherals::WATCHDOG;
use embassy_rp::watchdog::Watchdog;
use embassy_time::{Duration, Timer};

use super::watch;

/// From the last feeding to the reset.
const PATIENCE: Duration = Duration::from_millis(90);
/// Twice as often as need be, and well above a round of the watch.
const FEEDING: Duration = Duration::from_millis(40);

/// Keeps watch, for ever.
pub(super) async fn keep(watchdog: Peri<'static, WATCHDOG>) -> ! {
    let mut watchdog = Watchdog::new(watchdog);
    watchdog.pause_on_debug(true);
    watchdog.start(PATIENCE);
    let mut pulse = 0;
    loop {
        Timer::after(FEEDING).await;
        if !watch::stands_still(&mut pulse) {
            watchdog.feed(PATIENCE);
        }
    }
}
