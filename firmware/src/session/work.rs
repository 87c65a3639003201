//! Follows orders to measure; lets nothing be driven after an abort or on a hazard.

use core::convert::Infallible;

use embassy_futures::select::{Either, Either3, select, select3};
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Event, HazardKind, Microvolts, Phase, Refusal, Stop};

use super::{CAPABILITIES, Orders};
use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::measure::{self, End, Outbox};
use crate::slots::Slots;

/// Measures what is ordered, for ever.
pub(super) async fn work<L: Line, R: OutputPin<Error = Infallible>, C: Clock>(
    orders: &Orders,
    bench: &mut Bench<L, R>,
    slots: &Slots,
    clock: &C,
    outbox: &Outbox,
) -> ! {
    let mut latched: Option<(HazardKind, Microvolts)> = None;
    loop {
        match select3(orders.abort.wait(), orders.rearm.wait(), orders.measure.wait()).await {
            Either3::First(()) => {} // nothing is being measured
            Either3::Second(()) => {
                latched = None;
                outbox.send(Event::Armed).await;
            }
            Either3::Third(phase) => {
                if let Some(reason) = refusal(phase, latched) {
                    outbox.send(Event::Refused { phase, reason }).await;
                    continue;
                }
                outbox.send(Event::Started { phase }).await;
                let event = measured(phase, orders, bench, slots, clock, outbox).await;
                if let Event::Hazard { kind, largest } = event {
                    latched = Some((kind, largest));
                }
                outbox.send(event).await;
            }
        }
    }
}

fn refusal(phase: Phase, latched: Option<(HazardKind, Microvolts)>) -> Option<Refusal> {
    let capable = match phase {
        Phase::Open => CAPABILITIES.open_phase,
        Phase::Plug => CAPABILITIES.plug_phase,
    };
    if latched.is_some() {
        Some(Refusal::HazardLatched)
    } else if !capable {
        Some(Refusal::NotCapable)
    } else {
        None
    }
}

/// One phase, from its first look to the event that ends it. The bench is released before that
/// event goes out. An abort is looked at first whenever both are ready.
async fn measured<L: Line, R: OutputPin<Error = Infallible>, C: Clock>(
    phase: Phase,
    orders: &Orders,
    bench: &mut Bench<L, R>,
    slots: &Slots,
    clock: &C,
    outbox: &Outbox,
) -> Event {
    let measurement = measure::plug_phase(bench, slots, clock, outbox);
    let outcome = select(orders.abort.wait(), measurement).await;
    bench.release();
    match outcome {
        Either::First(()) => Event::Stopped { phase, reason: Stop::Aborted },
        Either::Second(Ok(patterns)) => Event::Done { phase, patterns },
        Either::Second(Err(End::Stop(reason))) => Event::Stopped { phase, reason },
        Either::Second(Err(End::Hazard(kind, largest))) => Event::Hazard { kind, largest },
    }
}
