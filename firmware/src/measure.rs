//! The measurement: one straight line from the first look to the last pattern.
//!
//! It awaits three things only: time, the answer to a slot, and room in the outbox. It never owns
//! a bus transfer, so that dropping it at any instant cuts none; whoever drops it gets the bench
//! back and calls [`Bench::release`].

mod leakage;
mod live;
mod pairs;
mod patterns;
mod rise;
mod self_calibration;
mod turns;

use core::convert::Infallible;

use embassy_sync::blocking_mutex::raw::NoopRawMutex;
use embassy_sync::channel::Channel;
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Event, HazardKind, Microvolts, Phase, Stop};

use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::slots::Slots;
use crate::watch::Watch;
use patterns::Patterns;

/// Events on their way to the host.
pub type Outbox = Channel<NoopRawMutex, Event, 2>;

/// Why a measurement ended before its last pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The jig cannot go on.
    Stop(Stop),
    /// There is voltage on the run.
    Hazard(HazardKind, Microvolts),
}

/// Measures one phase. Returns how many patterns and rises were sent.
pub async fn phase<L: Line, R: OutputPin<Error = Infallible>>(
    phase: Phase,
    bench: &mut Bench<L, R>,
    slots: &Slots,
    clock: &impl Clock,
    watch: &impl Watch,
    outbox: &Outbox,
) -> Result<u16, End> {
    let mut patterns = Patterns::new(phase, bench, slots, clock, watch, outbox);
    match phase {
        Phase::Open => open(&mut patterns).await?,
        Phase::Plug => plug(&mut patterns).await?,
        Phase::Glance => glance(&mut patterns).await?,
    }
    Ok(patterns.sent())
}

/// The run's far end stands open: what joins its conductors should not be there.
async fn open<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    live::check(patterns, live::FULL).await?;
    patterns.unload();
    leakage::before_closing(patterns).await?;
    rise::before_closing(patterns).await?;
    patterns.close_relays().await;
    self_calibration::take(patterns).await?;
    let ranges = pairs::pre_scan(patterns).await?;
    pairs::take(patterns, &ranges).await?;
    leakage::take(patterns).await?;
    rise::take(patterns).await
}

/// The end plug's ring joins the far ends.
async fn plug<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    live::check(patterns, live::FULL).await?;
    patterns.close_relays().await;
    self_calibration::take(patterns).await?;
    let ranges = pairs::pre_scan(patterns).await?;
    pairs::take(patterns, &ranges).await
}

/// A short look at which posts meet.
async fn glance<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    patterns: &mut Patterns<'_, L, R, C, W>,
) -> Result<(), End> {
    live::check(patterns, live::SHORT).await?;
    patterns.close_relays().await;
    pairs::pre_scan(patterns).await?;
    Ok(())
}
