//! The measurement: one straight line from the first look to the last pattern.
//!
//! It awaits three things only: time, the answer to a slot, and room in the outbox. It never owns
//! a bus transfer, so that dropping it at any instant cuts none; whoever drops it gets the bench
//! back and calls [`Bench::release`].

mod far_lights;
#[cfg(feature = "flex")]
mod flex;
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
use runproof_protocol::{Event, FarLights, HazardKind, Microvolts, Phase, Stop};

use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::signs::Showing;
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

/// What a measurement works with beside the bench.
pub struct Means<'a, C, W> {
    /// The way to the converters.
    pub slots: &'a Slots,
    /// The time.
    pub clock: &'a C,
    /// The watch while the relays are closed.
    pub watch: &'a W,
    /// What lamps and sounder show.
    pub showing: &'a Showing,
}

/// Measures one phase. Returns how many patterns and rises were sent.
///
/// A glance is a short look at which posts meet. For the plug phase the end plug's ring joins the far
/// ends; for the open phase they stand open, and what joins the conductors should not be there. Of a live
/// run the relays stay open. Where the key's lights are lit, all is looked at that is looked at before a
/// run is driven, and nothing of it is sent. A run that is flexed is watched until somebody drops this. At a fixture for leads a glance tells what hangs on the posts as well; its ring
/// is switched before the first look, and rests by the time anything is driven.
///
/// One line for all: what each awaited would be in flash, and in RAM, as often as it is written.
pub async fn phase<L: Line, R: OutputPin<Error = Infallible>>(
    phase: Phase,
    lights: FarLights,
    bench: &mut Bench<L, R>,
    means: &Means<'_, impl Clock, impl Watch>,
    outbox: &Outbox,
) -> Result<u16, End> {
    let patterns = &mut Patterns::new(phase, bench, means, outbox);
    let open = phase == Phase::Open;
    let fixture = phase == Phase::Fixture;
    let glance = fixture || phase == Phase::Glance;
    patterns.join_far_ends(!open);
    live::check(patterns, phase).await?;
    if matches!(phase, Phase::Live | Phase::SupplyLoad) {
        return Ok(patterns.sent());
    }
    #[cfg(feature = "flex")]
    if phase.is_flexed() {
        match flex::watch(patterns, phase).await? {}
    }
    for closed in [false, true] {
        if closed {
            patterns.close_relays().await;
            if !glance {
                self_calibration::take(patterns, phase == Phase::LiveZero).await?;
            }
            match phase {
                Phase::LiveZero => {}
                Phase::FarLights => far_lights::show(patterns, lights).await,
                _ => pairs::take(patterns, glance).await?,
            }
        }
        if open {
            leakage::take(patterns).await?;
        }
        if open | (fixture & closed) {
            rise::take(patterns).await?;
        }
    }
    Ok(patterns.sent())
}
