//! One connection: bytes in, bytes out, and the measurement in between.
//!
//! Some things run side by side: `listen` turns bytes into orders, `work` follows them,
//! `speak` turns events into bytes, `key` gives orders where there is no host. Only `work` touches the bench, and an abort drops the
//! measurement and releases the bench before anything else happens.

#[cfg(feature = "alone")]
mod alone;
mod key;
mod listen;
mod own;
mod speak;
mod work;

use core::cell::Cell;
use core::convert::Infallible;

use embassy_futures::select::select5;
use embassy_sync::blocking_mutex::raw::NoopRawMutex;
use embassy_sync::channel::Channel;
use embassy_sync::pipe::Pipe;
use embassy_sync::signal::Signal;
use embedded_hal::digital::{InputPin, OutputPin};
use embedded_hal_async::digital::Wait;
use runproof_protocol::{
    Capabilities, Event, FarLights, HEARTBEAT, Identity, Microseconds, NotKept, Phase, Restart,
    Signs,
};

use self::own::Own;
use crate::alone::Memory;
use crate::bench::{Bench, Line};
use crate::clock::Clock;
use crate::identity::SUPPLY_LOAD;
use crate::keep::Keep;
use crate::measure::{Means, Outbox};
use crate::thermometer::Thermometer;
use crate::watch::Watch;

/// Bytes on their way between the session and a board's port.
pub type Bytes = Pipe<NoopRawMutex, 256>;

/// What this engine measures; what is fitted comes on top.
const CAPABILITIES: Capabilities = Capabilities {
    open_phase: true,
    plug_phase: true,
    glance: true,
    rise: true,
    alone: cfg!(feature = "alone"),
    stores: true,
    live: true,
    far_lights: true,
    supply_load: false,
    fixture: true,
    flex: cfg!(feature = "flex"),
};

/// What a session measures with.
pub struct Jig<'a, L, R, C, W, T> {
    /// The lines.
    pub bench: &'a mut Bench<L, R>,
    /// All else that a measurement works with.
    pub means: Means<'a, C, W>,
    /// How warm the jig is.
    pub thermometer: &'a T,
    /// What is measured without a host.
    pub memory: &'a mut Memory,
}

/// What a jig tells of itself.
pub struct Told {
    /// Who it is.
    pub identity: Identity,
    /// Why it started anew, if it did so by itself.
    pub restart: Option<Restart>,
}

/// What `listen` hands to `work`: what to do next, in order, and an abort, which takes back all that
/// is not yet done.
struct Orders {
    next: Channel<NoopRawMutex, Order, 4>,
    abort: Signal<NoopRawMutex, ()>,
    /// When a host said something last.
    heard: Cell<Option<Microseconds>>,
    /// A supply load is fitted.
    supply_load: bool,
    /// What the lights at the far end are to show.
    lights: Cell<FarLights>,
    /// Why the records must rest now.
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
    Show(Signs),
    Replay(Phase),
    /// A phase without a host.
    Alone,
    RearmAlone,
}

/// Serves the host, and the key, for ever.
pub async fn run<
    L: Line,
    R: OutputPin<Error = Infallible>,
    C: Clock,
    W: Watch,
    T: Thermometer,
    K: InputPin<Error = Infallible> + Wait,
    S: Keep,
>(
    told: &mut Told,
    records: &mut S,
    mut jig: Jig<'_, L, R, C, W, T>,
    key: &mut K,
    from_host: &Bytes,
    to_host: &Bytes,
) -> ! {
    if jig.bench.has_supply_load() {
        told.identity.supply_load = SUPPLY_LOAD;
    }
    let outbox = Outbox::new();
    let clock = jig.means.clock;
    let orders = Orders {
        next: Channel::new(),
        abort: Signal::new(),
        heard: Cell::new(None),
        supply_load: jig.bench.has_supply_load(),
        lights: Cell::new(FarLights::DARK),
        memory_rests: Cell::new(None),
    };
    let own = Own::new(told, records);
    // Of futures that never end this is a join, with less of a state.
    match select5(
        listen::listen(&own, &orders, &outbox, clock, from_host),
        work::work(&orders, &mut jig, &outbox),
        speak::speak(&outbox, to_host),
        beat(clock, &outbox),
        key::attend(key, &orders, clock, &outbox),
    )
    .await {}
}

/// Says that the jig is there, where there is room to say it.
async fn beat(clock: &impl Clock, outbox: &Outbox) -> ! {
    loop {
        let now = clock.now();
        let _full = outbox.try_send(Event::Heartbeat { at: now });
        clock.until(now.after(HEARTBEAT.0)).await;
    }
}
