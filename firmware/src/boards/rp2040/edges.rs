//! The edge catcher: four pins, each edge of which is timed in their interrupt.
//!
//! The chip keeps an edge until it is cleared, so that none is missed, however short; what takes a few
//! microseconds is to read the time. The HAL has the pins' interrupt to itself: this goes in front of it, by a
//! table of vectors in RAM, and leaves it what is not its own.

use core::cell::UnsafeCell;
use core::mem::transmute;
use core::sync::atomic::AtomicUsize;
use core::sync::atomic::Ordering::Relaxed;

use cortex_m::peripheral::SCB;
use embassy_rp::gpio::Input;
use embassy_rp::interrupt;
use embassy_rp::interrupt::typelevel::{IO_IRQ_BANK0, Interrupt};
use embassy_rp::interrupt::{InterruptExt, Priority};
use embassy_rp::pac::io::regs::Int;
use embassy_rp::pac::{IO_BANK0, SIO, TIMER};

use crate::edges::Caught;

/// The pins of posts 1–4 are this one and those behind it.
const FIRST_PIN: usize = 20;
const EVERY_POST: u8 = 0b1111;

/// Four bits a pin, eight pins a register: low, high, fell, rose.
const REGISTER: usize = FIRST_PIN / 8;
const FIRST_BIT: usize = FIRST_PIN % 8 * 4;
const FELL_OR_ROSE: u32 = 0xCCCC << FIRST_BIT;

/// One bit of each of four pins; times that, the four stand side by side from bit 12 on.
const EACH_PIN: u32 = 0x1111;
const TO_POSTS: u32 = 0x1248;

/// While edges come faster than they are taken, others wait no longer than this many.
const AT_ONCE_MAX: usize = 8;

const VECTORS: usize = 48;
const OWN_VECTOR: usize = 16 + interrupt::IO_IRQ_BANK0 as usize;

pub(super) static CAUGHT: Caught = Caught::new();

/// What the HAL does when a pin changes.
static OTHERS: AtomicUsize = AtomicUsize::new(0);

#[repr(align(256))]
struct Vectors(UnsafeCell<[usize; VECTORS]>);

#[expect(unsafe_code, reason = "one table, written once, before the processor is told of it")]
// SAFETY: see `new`, which alone touches it.
unsafe impl Sync for Vectors {}

static TABLE: Vectors = Vectors(UnsafeCell::new([0; VECTORS]));

/// The pins as long as this lives: an input each, low without a comparator.
pub(super) struct Edges {
    _pins: [Input<'static>; 4],
}

impl Edges {
    /// Goes in front of the HAL; once, before anything waits for a pin.
    pub(super) fn new(pins: [Input<'static>; 4]) -> Self {
        #[expect(unsafe_code, reason = "the vector table is an address")]
        // SAFETY: the processor's table has more entries than this; nobody else has the new one yet, and every
        // entry of it but one is the old one's.
        cortex_m::interrupt::free(|_| unsafe {
            let scb = &*SCB::PTR;
            let table = &mut *TABLE.0.get();
            *table = *(scb.vtor.read() as *const [usize; VECTORS]);
            OTHERS.store(table[OWN_VECTOR], Relaxed);
            table[OWN_VECTOR] = on_edge as *const () as usize;
            scb.vtor.write(table.as_ptr() as u32);
        });
        IO_IRQ_BANK0::IRQ.set_priority(Priority::P0);
        Self { _pins: pins }
    }

    /// Posts whose pins are high, the lowest bit first.
    pub(super) fn high(&self) -> u8 {
        high()
    }

    /// Catches from now on; first how they stand.
    pub(super) fn catch(&self) {
        self.rest();
        CAUGHT.clear();
        clear(FELL_OR_ROSE);
        CAUGHT.put(now(), high(), 0);
        enable(FELL_OR_ROSE);
    }

    /// Catches no more.
    pub(super) fn rest(&self) {
        enable(0);
    }
}

fn high() -> u8 {
    (SIO.gpio_in(0).read() >> FIRST_PIN) as u8 & EVERY_POST
}

fn now() -> u32 {
    TIMER.timerawl().read()
}

fn clear(edges: u32) {
    IO_BANK0.intr(REGISTER).write_value(Int(edges));
}

/// Which of the catcher's edges interrupt; others' pins are in the same register.
fn enable(edges: u32) {
    let register = IO_BANK0.int_proc(0).inte(REGISTER);
    cortex_m::interrupt::free(|_| register.modify(|all| all.0 = all.0 & !FELL_OR_ROSE | edges));
}

/// Until no edge is left that is not in what was read of the pins behind it.
extern "C" fn on_edge() {
    let mut changed = 0;
    let mut stand = 0;
    let at = now();
    for _ in 0..AT_ONCE_MAX {
        let edges = IO_BANK0.int_proc(0).ints(REGISTER).read().0 & FELL_OR_ROSE;
        if edges == 0 {
            break;
        }
        clear(edges);
        changed |= (edges | edges << 1) >> (FIRST_BIT + 3) & EACH_PIN;
        stand = high();
    }
    if changed != 0 {
        return CAUGHT.put(at, stand, ((changed * TO_POSTS) >> 12) as u8 & EVERY_POST);
    }
    #[expect(unsafe_code, reason = "it was a vector before")]
    // SAFETY: `new` took it from the processor's own table.
    unsafe {
        transmute::<usize, extern "C" fn()>(OTHERS.load(Relaxed))();
    }
}
