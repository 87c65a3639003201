//! One phase without a host: which one the run is ready for, measured, kept, and told by lamps.

use core::convert::Infallible;
use core::pin::pin;

use embassy_futures::select::{Either, select};
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Event, Phase, Signs, Step, Tune};

use super::work::measured;
use super::{Jig, Orders};
use crate::alone::{self, Seen};
use crate::bench::Line;
use crate::clock::Clock;
use crate::measure::Outbox;
use crate::thermometer::Thermometer;
use crate::watch::Watch;

/// The event that ended it, and what to show.
pub(super) async fn check<
    L: Line,
    R: OutputPin<Error = Infallible>,
    C: Clock,
    W: Watch,
    T: Thermometer,
>(
    orders: &Orders,
    jig: &mut Jig<'_, L, R, C, W, T>,
) -> (Event, Signs) {
    let mut phase = Phase::Glance;
    let mut seen = Seen::of(Step::PreScan);
    let (mut ended, mut whole) = take(phase, orders, jig, &mut seen, false).await;
    if let Event::Done { .. } = ended {
        phase = alone::phase(&seen, jig.memory, jig.clock.now());
        seen = Seen::of(Step::Pairs);
        jig.memory.begin(phase, jig.clock.now());
        if let Some(warm) = jig.thermometer.read() {
            jig.memory.keep(&Event::Warm { phase, jig: warm });
        }
        (ended, whole) = take(phase, orders, jig, &mut seen, true).await;
    }
    let now = jig.clock.now();
    let mut signs = alone::told(&ended, phase, &seen, jig.memory.open_signs(now));
    if matches!(ended, Event::Done { .. }) && whole && jig.memory.keep(&ended) {
        jig.memory.end(phase, now, signs);
    } else if signs.tune == Tune::Pass {
        signs.tune = Tune::Next; // it cannot be judged later
    }
    (ended, signs)
}

/// Measures a phase; what it says is seen, and kept if there is room, which is told.
async fn take<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch, T: Thermometer>(
    phase: Phase,
    orders: &Orders,
    jig: &mut Jig<'_, L, R, C, W, T>,
    seen: &mut Seen,
    keep: bool,
) -> (Event, bool) {
    let said = Outbox::new();
    let mut whole = true;
    let Jig { bench, slots, clock, watch, memory, .. } = jig;
    let mut hear = |event: Event| {
        seen.see(&event);
        whole &= !keep || memory.keep(&event);
    };
    let mut measuring = pin!(measured(phase, orders, bench, slots, *clock, *watch, &said));
    let ended = loop {
        match select(said.receive(), measuring.as_mut()).await {
            Either::First(event) => hear(event),
            Either::Second(ended) => break ended,
        }
    };
    while let Ok(event) = said.try_receive() {
        hear(event);
    }
    (ended, whole)
}
