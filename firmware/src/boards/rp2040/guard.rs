//! The guard: a jig whose tasks hang, or whose watch stands still while it should look, starts anew.
//!
//! The chip's watchdog resets pins and coils with everything else. It is fed by a task beside the others, so
//! that one of them that never gives way is enough.

use embassy_rp::peripherals::WATCHDOG;
use embassy_rp::watchdog::Watchdog;
use embassy_rp::{Peri, pac};
use embassy_time::{Duration, Timer};

use super::watch;

/// From the last feeding to the reset.
const PATIENCE: Duration = Duration::from_millis(90);
/// Twice as often as need be, and well above a round of the watch.
const FEEDING: Duration = Duration::from_millis(40);

/// While a sector of flash is erased nothing else runs: 45 ms for most chips, 400 at the worst (what data
/// sheets of such chips say of 4 KiB, from memory), and as much again.
const PATIENCE_FOR_FLASH: Duration = Duration::from_millis(800);

/// Counts down by two each microsecond (RP2040 data sheet, erratum E1).
const COUNTS_PER_MICRO: u32 = 2;

/// One step of the flash, for which everything has to wait. Nothing is driven meanwhile.
pub(super) fn while_flash_changes<T>(step: impl FnOnce() -> T) -> T {
    feed(PATIENCE_FOR_FLASH);
    let done = step();
    feed(PATIENCE);
    done
}

/// For whoever has not the watchdog at hand; nothing happens before it is started.
fn feed(patience: Duration) {
    let micros = patience.as_micros() as u32;
    let load = pac::watchdog::regs::Load(micros * COUNTS_PER_MICRO);
    pac::WATCHDOG.load().write_value(load);
}

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
