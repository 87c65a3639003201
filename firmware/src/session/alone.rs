//! One phase without a host: which one the run is ready for, measured, kept, and told by lamps; and told again to a host.

use core::convert::Infallible;
use core::pin::pin;

use embassy_futures::select::{Either, select};
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Event, Phase, Refusal, Signs, Step, Tune};

use super::work::measured;
use super::{Jig, Orders};
use crate::alone::{self, Memory, Seen};
use crate::bench::Line;
use crate::clock::Clock;
use crate::measure::Outbox;
use crate::thermometer::Thermometer;
use crate::watch::Watch;

/// A glance says which phase it is. Returns what to show.
pub(super) async fn check<
    L: Line,
    R: OutputPin<Error = Infallible>,
    C: Clock,
    W: Watch,
    T: Thermometer,
>(
    orders: &Orders,
    jig: &mut Jig<'_, L, R, C, W, T>,
) -> Signs {
    let Jig { bench, means, thermometer, memory } = jig;
    let mut phase = Phase::Glance;
    loop {
        let kept = phase != Phase::Glance;
        let mut seen = Seen::of(if kept { Step::Pairs } else { Step::PreScan });
        let mut whole = true;
        if kept {
            memory.begin(phase, means.clock.now());
            if let Some(jig) = thermometer.read() {
                memory.keep(&Event::Warm { phase, jig });
            }
        }
        let mut hear = |event: Event| {
            seen.see(&event);
            whole &= !kept || memory.keep(&event);
        };
        let said = Outbox::new();
        let mut measuring = pin!(measured(phase, orders, bench, means, &said));
        let ended = loop {
            match select(said.receive(), measuring.as_mut()).await {
                Either::First(event) => hear(event),
                Either::Second(ended) => break ended,
            }
        };
        while let Ok(event) = said.try_receive() {
            hear(event);
        }
        let done = matches!(ended, Event::Done { .. });
        let now = means.clock.now();
        if done && !kept {
            phase = alone::phase(&seen, memory, now);
            continue;
        }
        let mut signs = alone::told(&ended, phase, &seen, memory.open_signs(now));
        if done && whole && memory.keep(&ended) {
            memory.end(phase, now, signs);
        } else if signs.tune == Tune::Pass {
            signs.tune = Tune::Next; // it cannot be judged later
        }
        return signs;
    }
}

/// What was measured without a host, as if it were measured now.
pub(super) async fn replay(phase: Phase, memory: &Memory, outbox: &Outbox) {
    let mut events = memory.events(phase);
    let mut next = Some(match events {
        Some(_) => Event::Started { phase },
        None => Event::Refused { phase, reason: Refusal::NothingKept },
    });
    while let Some(event) = next {
        outbox.send(event).await;
        next = events.as_mut().and_then(Iterator::next);
    }
}
