//! Follows orders to measure; lets nothing be driven after an abort or on a hazard.

use core::convert::Infallible;

use embassy_futures::select::{Either, Either3, select, select3};
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Event, HazardKind, Lamp, NotKept, Phase, Refusal, Signs, Stop, Tune};

#[cfg(feature = "alone")]
use super::alone;
use super::{CAPABILITIES, Jig, Order, Orders};
use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::measure::{self, End, Means, Outbox};
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
        let event = match order {
            Order::Rearm | Order::RearmAlone => {
                hazard_latched = false;
                orders.memory_rests.set(None);
                jig.means.watch.rearm();
                jig.means.showing.signal(Signs::all(Lamp::DARK, Tune::Next));
                if matches!(order, Order::RearmAlone) {
                    continue;
                }
                Event::Armed
            }
            Order::Show(_) | Order::Alone if hazard_latched => {
                jig.means.showing.signal(Signs::HAZARD);
                continue;
            }
            Order::Show(signs) => {
                jig.means.showing.signal(signs);
                continue;
            }
            #[cfg(not(feature = "alone"))]
            Order::Alone => continue,
            #[cfg(not(feature = "alone"))]
            Order::Replay(phase) => Event::Refused { phase, reason: Refusal::NotCapable },
            #[cfg(feature = "alone")]
            Order::Replay(phase) => {
                select(orders.abort.wait(), alone::replay(phase, jig.memory, outbox)).await;
                continue;
            }
            #[cfg(feature = "alone")]
            Order::Alone => {
                jig.means.showing.signal(Signs::default());
                let signs = alone::check(orders, jig).await;
                hazard_latched = signs == Signs::HAZARD;
                orders.memory_rests.set(hazard_latched.then_some(NotKept::HazardLatched));
                jig.means.showing.signal(signs);
                continue;
            }
            Order::Measure(phase) => {
                if let Some(reason) = refusal(phase, hazard_latched, orders.supply_load) {
                    outbox.send(Event::Refused { phase, reason }).await;
                    continue;
                }
                outbox.send(Event::Started { phase }).await;
                if let Some(jig) = jig.thermometer.read() {
                    outbox.send(Event::Warm { phase, jig }).await;
                }
                jig.means.showing.signal(Signs::default());
                let event = measured(phase, orders, jig.bench, &jig.means, outbox).await;
                hazard_latched = matches!(event, Event::Hazard { .. });
                orders.memory_rests.set(hazard_latched.then_some(NotKept::HazardLatched));
                if hazard_latched {
                    orders.next.clear(); // given before anyone could know of it
                    jig.means.showing.signal(Signs::HAZARD);
                }
                event
            }
        };
        outbox.send(event).await;
    }
}

fn refusal(phase: Phase, hazard_latched: bool, supply_load: bool) -> Option<Refusal> {
    let capable = match phase {
        Phase::Open => CAPABILITIES.open_phase,
        Phase::Plug => CAPABILITIES.plug_phase,
        Phase::Glance => CAPABILITIES.glance,
        Phase::Live | Phase::LiveZero => CAPABILITIES.live,
        Phase::FarLights => CAPABILITIES.far_lights,
        Phase::SupplyLoad => supply_load,
        Phase::Fixture => CAPABILITIES.fixture,
        Phase::Flex | Phase::FlexShorts | Phase::FlexAcross | Phase::FlexAlong => CAPABILITIES.flex,
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
pub(super) async fn measured<L: Line, R: OutputPin<Error = Infallible>, C: Clock, W: Watch>(
    phase: Phase,
    orders: &Orders,
    bench: &mut Bench<L, R>,
    means: &Means<'_, C, W>,
    outbox: &Outbox,
) -> Event {
    orders.memory_rests.set(Some(NotKept::Measuring));
    let watch = means.watch;
    let measurement = measure::phase(phase, orders.lights.get(), bench, means, outbox);
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
