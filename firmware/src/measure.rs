//! The measurement: one straight line from the first look to the last pattern.
//!
//! It awaits three things only: time, the answer to a slot, and room in the outbox. It never owns
//! a bus transfer, so that dropping it at any instant cuts none; whoever drops it gets the bench
//! back and calls [`Bench::release`].

mod live;
mod pairs;
mod patterns;
mod self_calibration;

use core::convert::Infallible;

use embassy_sync::blocking_mutex::raw::NoopRawMutex;
use embassy_sync::channel::Channel;
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Event, HazardKind, Microvolts, Phase, Stop};

use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::slots::Slots;
use patterns::Patterns;

/// Events on their way to the host.
pub type Outbox = Channel<NoopRawMutex, Event, 4>;

/// Contacts have closed and stopped bouncing this long after the coil was switched on.
const RELAYS_SETTLE_MICROS: u64 = 25_000;

/// Why a measurement ended before its last pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The jig cannot go on.
    Stop(Stop),
    /// There is voltage on the run.
    Hazard(HazardKind, Microvolts),
}

/// Measures the plug phase: the ring joins the far ends. Returns how many patterns were sent.
pub async fn plug_phase<L: Line, R: OutputPin<Error = Infallible>>(
    bench: &mut Bench<L, R>,
    slots: &Slots,
    clock: &impl Clock,
    outbox: &Outbox,
) -> Result<u16, End> {
    let mut patterns = Patterns::new(Phase::Plug, bench, slots, clock, outbox);
    live::check(&mut patterns).await?;
    patterns.close_relays(RELAYS_SETTLE_MICROS).await;
    self_calibration::take(&mut patterns).await?;
    let ranges = pairs::pre_scan(&mut patterns).await?;
    pairs::take(&mut patterns, &ranges).await?;
    Ok(patterns.sent())
}
