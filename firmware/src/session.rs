//! One connection: bytes in, bytes out, and the measurement in between.
//!
//! Three things run side by side: `listen` turns bytes into orders, `work` follows them,
//! `speak` turns events into bytes. Only `work` touches the bench, and an abort drops the
//! measurement and releases the bench before anything else happens.

mod listen;
mod speak;
mod work;

use core::convert::Infallible;

use embassy_futures::join::join4;
use embassy_sync::blocking_mutex::raw::NoopRawMutex;
use embassy_sync::pipe::Pipe;
use embassy_sync::signal::Signal;
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Capabilities, Event, HEARTBEAT, Identity, Phase};

use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::measure::Outbox;
use crate::slots::Slots;

/// Bytes on their way between the session and a board's port.
pub type Bytes = Pipe<NoopRawMutex, 256>;

/// What this engine measures.
const CAPABILITIES: Capabilities = Capabilities { open_phase: false, plug_phase: true };

/// What `listen` hands to `work`.
#[derive(Default)]
struct Orders {
    measure: Signal<NoopRawMutex, Phase>,
    abort: Signal<NoopRawMutex, ()>,
    rearm: Signal<NoopRawMutex, ()>,
}

/// Serves the host, for ever.
pub async fn run<L: Line, R: OutputPin<Error = Infallible>, C: Clock>(
    identity: &Identity,
    bench: &mut Bench<L, R>,
    slots: &Slots,
    clock: &C,
    from_host: &Bytes,
    to_host: &Bytes,
) -> ! {
    let outbox = Outbox::new();
    let orders = Orders::default();
    join4(
        listen::listen(identity, &orders, &outbox, from_host),
        work::work(&orders, bench, slots, clock, &outbox),
        speak::speak(&outbox, to_host),
        beat(clock, &outbox),
    )
    .await
    .0
}

/// Says that the jig is there, where there is room to say it.
async fn beat(clock: &impl Clock, outbox: &Outbox) -> ! {
    loop {
        let now = clock.now();
        let _full = outbox.try_send(Event::Heartbeat { at: now });
        clock.until(now.after(HEARTBEAT.0)).await;
    }
}
