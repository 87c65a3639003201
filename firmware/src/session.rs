//! One connection: bytes in, bytes out, and the measurement in between.
//!
//! Three things run side by side: `listen` turns bytes into orders, `work` follows them,
//! `speak` turns events into bytes. Only `work` touches the bench, and an abort drops the
//! measurement and releases the bench before anything else happens.

mod listen;
mod own;
mod speak;
mod work;

use core::cell::Cell;
use core::convert::Infallible;

use embassy_futures::join::join4;
use embassy_sync::blocking_mutex::raw::NoopRawMutex;
use embassy_sync::channel::Channel;
use embassy_sync::pipe::Pipe;
use embassy_sync::signal::Signal;
use embedded_hal::digital::OutputPin;
use runproof_protocol::{Capabilities, Event, HEARTBEAT, Identity, NotKept, Phase};

use self::own::Own;
use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::keep::Keep;
use crate::measure::Outbox;
use crate::slots::Slots;
use crate::thermometer::Thermometer;
use crate::watch::Watch;

/// Bytes on their way between the session and a board's port.
pub type Bytes = Pipe<NoopRawMutex, 256>;

/// What this engine measures.
const CAPABILITIES: Capabilities = Capabilities {
    open_phase: true,
    plug_phase: true,
    glance: true,
    rise: true,
    alone: false,
    stores: true,
};

/// What a session measures with.
pub struct Jig<'a, L, R, C, W, T> {
    /// The lines.
    pub bench: &'a mut Bench<L, R>,
    /// The way to the converters.
    pub slots: &'a Slots,
    /// The time.
    pub clock: &'a C,
    /// The watch while the relays are closed.
    pub watch: &'a W,
    /// How warm the jig is.
    pub thermometer: &'a T,
}

/// What `listen` hands to `work`: what to do next, in order, and an abort, which takes back all that
/// is not yet done.
struct Orders {
    next: Channel<NoopRawMutex, Order, 4>,
    abort: Signal<NoopRawMutex, ()>,
    /// Why the memory must rest now.
    memory_rests: Cell<Option<NotKept>>,
}

impl Orders {
    fn may_use_memory(&self) -> Result<(), NotKept> {
        self.memory_rests.get().map_or(Ok(()), Err)
    }
}

/// What `work` can be told to do.
#[derive(Clone, Copy)]
enum Order {
    Measure(Phase),
    Rearm,
}

/// Serves the host, for ever.
pub async fn run<
    L: Line,
    R: OutputPin<Error = Infallible>,
    C: Clock,
    W: Watch,
    T: Thermometer,
    K: Keep,
>(
    identity: &mut Identity,
    memory: &mut K,
    mut jig: Jig<'_, L, R, C, W, T>,
    from_host: &Bytes,
    to_host: &Bytes,
) -> ! {
    let outbox = Outbox::new();
    let jig_clock = jig.clock;
    let orders =
        Orders { next: Channel::new(), abort: Signal::new(), memory_rests: Cell::new(None) };
    let own = Own::new(identity, memory);
    join4(
        listen::listen(&own, &orders, &outbox, from_host),
        work::work(&orders, &mut jig, &outbox),
        speak::speak(&outbox, to_host),
        beat(jig_clock, &outbox),
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
