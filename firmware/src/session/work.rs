//! Follows orders to measure; lets nothing be driven after an abort or on a hazard.

use core::convert::Infallible;

use embassy_futures::select::{Either, Either3, select, select3};
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Event, HazardKind, NotKept, Phase, Refusal, Stop};

use super::{CAPABILITIES, Jig, Order, Orders};
use crate::bench::Line;
use crate::clock::Clock;
use crate::measure::{self, End, Outbox};
use crate::thermometer::Thermometer;
use crate::watch::Watch;

/// Follows what is ordered, for ever.
pub(super) async fn work<
    L: Line,
    R: OutputPin<Error = Infallible>,
    C: Clock,
    W: Watch,
    T: Thermometer,
>(
    orders: &Orders,
    jig: &mut Jig<'_, L, R, C, W, T>,
    outbox: &Outbox,
) -> ! {
    let mut hazard_latched = false;
    loop {
        let order = match select(orders.abort.wait(), orders.next.receive()).await {
            Either::First(()) => continue, // nothing is being measured
            Either::Second(order) => order,
        };
        match order {
            Order::Rearm => {
                hazard_latched = false;
                orders.memory_rests.set(None);
                jig.watch.rearm();
                outbox.send(Event::Armed).await;
            }
            Order::Measure(phase) => {
                if let Some(reason) = refusal(phase, hazard_latched) {
                    outbox.send(Event::Refused { phase, reason }).await;
                    continue;
                }
                outbox.send(Event::Started { phase }).await;
                if let Some(jig) = jig.thermometer.read() {
                    outbox.send(Event::Warm { phase, jig }).await;
                }
                let event = measured(phase, orders, jig, outbox).await;
                hazard_latched = matches!(event, Event::Hazard { .. });
                orders.memory_rests.set(hazard_latched.then_some(NotKept::HazardLatched));
                if hazard_latched {
                    orders.next.clear(); // given before anyone could know of it
                }
                outbox.send(event).await;
            }
        }
    }
}

fn refusal(phase: Phase, hazard_latched: bool) -> Option<Refusal> {
    let capable = match phase {
        Phase::Open => CAPABILITIES.open_phase,
        Phase::Plug => CAPABILITIES.plug_phase,
        Phase::Glance => CAPABILITIES.glance,
    };
    if hazard_latched {
        Some(Refusal::HazardLatched)
    } else if !capable {
        Some(Refusal::NotCapable)
    } else {
        None
    }
}

/// One phase, from its first look to the event that ends it. The bench is released before that
/// event goes out. A hazard is looked at first, then an abort, whenever several are ready; one that was
/// found in the last instant counts.
async fn measured<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch, T: Thermometer>(
    phase: Phase,
    orders: &Orders,
    jig: &mut Jig<'_, L, R, C, W, T>,
    outbox: &Outbox,
) -> Event {
    let Jig { bench, slots, clock, watch, .. } = jig;
    orders.memory_rests.set(Some(NotKept::Measuring));
    let measurement = measure::phase(phase, bench, slots, *clock, *watch, outbox);
    let outcome = select3(watch.tripped(), orders.abort.wait(), measurement).await;
    bench.release();
    let outcome = watch.end().map_or(outcome, Either3::First);
    match outcome {
        Either3::First(largest) => Event::Hazard { kind: HazardKind::WhileClosed, largest },
        Either3::Second(()) => Event::Stopped { phase, reason: Stop::Aborted },
        Either3::Third(Ok(patterns)) => Event::Done { phase, patterns },
        Either3::Third(Err(End::Stop(reason))) => Event::Stopped { phase, reason },
        Either3::Third(Err(End::Hazard(kind, largest))) => Event::Hazard { kind, largest },
    }
}
