//! The engine on an RP2040: tasks that sleep until their interrupt.
//!
//! | task | wakes on | does |
//! |---|---|---|
//! | `guard` | time | feeds the watchdog, as long as the others give way and the watch looks |
//! | `port` | USB | bytes between the host and the session |
//! | `converters` | I2C, time | owns the bus |
//! | `front` | what is to be shown, time | lamps and sounder |
//! | `session` | bytes, the key, time, a slot's answer, the watch | the engine |
//!
//! The `watch` runs beside them, in the ADC's interrupt, and lets go of the run by itself: see `interlock`.

mod bus;
mod clock;
mod coil;
mod edges;
mod face;
mod flash;
mod guard;
mod interlock;
mod line;
mod log;
mod panic;
mod pins;
mod port;
mod thermometer;
mod watch;

use embassy_executor::Spawner;
use embassy_rp::bind_interrupts;
use embassy_rp::gpio::Input;
use embassy_rp::peripherals::{USB, WATCHDOG};
use embassy_rp::{Peri, i2c, usb};
use runproof_protocol::Restart;
use static_cell::StaticCell;

use self::bus::ConverterBus;
use self::clock::ChipClock;
use self::coil::Coil;
use self::edges::Edges;
use self::face::Front;
use self::flash::{Serial, Store};
use self::line::PinLine;
use self::pins::{Pins, Wire};
use self::watch::{Followers, Rounds};
use crate::alone::Memory;
use crate::bench::Bench;
use crate::keep::Records;
use crate::measure::Means;
use crate::session::{Bytes, Jig, Told};
use crate::signs::Showing;
use crate::slots::Slots;
use crate::{converter, identity, session, signs};

bind_interrupts!(struct Interrupts {
    ADC_IRQ_FIFO => Rounds;
    I2C0_IRQ => i2c::InterruptHandler<Wire>;
    USBCTRL_IRQ => usb::InterruptHandler<USB>;
});

/// Everything the tasks share.
struct Shared {
    slots: Slots,
    from_host: Bytes,
    to_host: Bytes,
    serial: Serial,
    showing: Showing,
}

/// Starts the jig's tasks; call once, first thing.
pub fn start(spawner: Spawner) {
    let restart = panic::last();
    if let Some(restart) = &restart {
        panic::log(restart);
    }
    static SHARED: StaticCell<Shared> = StaticCell::new();
    let pins = Pins::new(embassy_rp::init(embassy_rp::config::Config::default()));
    let mut store = Store::new(pins.flash);
    let shared = &*SHARED.init(Shared {
        slots: Slots::new(),
        from_host: Bytes::new(),
        to_host: Bytes::new(),
        serial: store.serial(),
        showing: Showing::new(),
    });
    let records = Records::new(store);
    let Pins { posts, pulls, references, relays, load, supply_load, ring, .. } = pins;
    let bench = Bench::new(posts, pulls, references, relays, load, supply_load, ring);
    let bus = ConverterBus::new(pins.wire, pins.scl, pins.sda);
    let watch = Followers::new(pins.adc, pins.followers, Edges::new(pins.edges), Interrupts);
    log::info!("jig started");
    let once = "each task is spawned once";
    spawner.spawn(guard_task(pins.watchdog).expect(once));
    let front = Front::new(pins.lamps, pins.tones, pins.sounder);
    spawner.spawn(front_task(front, shared).expect(once));
    spawner.spawn(session_task(bench, watch, pins.key, records, restart, shared).expect(once));
    spawner.spawn(converters_task(bus, shared).expect(once));
    spawner.spawn(port_task(pins.usb, shared).expect(once));
}

#[embassy_executor::task]
async fn guard_task(watchdog: Peri<'static, WATCHDOG>) {
    guard::keep(watchdog).await
}

#[embassy_executor::task]
async fn port_task(usb: Peri<'static, USB>, shared: &'static Shared) {
    port::serve(usb, &shared.serial, &shared.from_host, &shared.to_host).await
}

#[embassy_executor::task]
async fn converters_task(mut bus: ConverterBus, shared: &'static Shared) {
    converter::serve(&shared.slots, &mut bus, &ChipClock).await
}

#[embassy_executor::task]
async fn front_task(mut front: Front, shared: &'static Shared) {
    signs::play(&mut front, &shared.showing, &ChipClock).await
}

#[embassy_executor::task]
async fn session_task(
    mut bench: Bench<PinLine, Coil>,
    watch: Followers,
    mut key: Input<'static>,
    mut records: Records<Store<'static>>,
    restart: Option<Restart>,
    shared: &'static Shared,
) {
    static MEMORY: StaticCell<Memory> = StaticCell::new();
    let Shared { slots, from_host, to_host, serial, showing } = shared;
    let mut told = Told { identity: identity("rp2040", serial), restart };
    let means = Means { slots, clock: &ChipClock, watch: &watch, showing };
    let jig = Jig {
        bench: &mut bench,
        means,
        thermometer: &watch,
        memory: MEMORY.init_with(Memory::new),
    };
    session::run(&mut told, &mut records, jig, &mut key, from_host, to_host).await
}
