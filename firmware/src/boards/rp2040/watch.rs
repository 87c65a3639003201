//! The watch, on the chip's own ADC: it goes round the four followers by itself, and each round
//! is looked at in its interrupt, which lets go of the run by itself. The session only learns of it.

mod seen;

use core::sync::atomic::AtomicBool;
use core::sync::atomic::Ordering::Relaxed;

use embassy_rp::Peri;
use embassy_rp::adc::{Adc, Blocking, Channel, Config};
use embassy_rp::interrupt::InterruptExt;
use embassy_rp::interrupt::typelevel::{ADC_IRQ_FIFO, Binding, Handler};
use embassy_rp::pac::ADC as REGISTERS;
use embassy_rp::peripherals::ADC;
use embassy_rp::{interrupt, pac};
use embassy_sync::blocking_mutex::raw::CriticalSectionRawMutex;
use embassy_sync::signal::Signal;
use runproof_protocol::{DIVIDER_FOOT, Edge, Microseconds, Microvolts};
use seen::Seen;

use super::edges::{CAUGHT, Edges};
use super::interlock;

use crate::identity::DIVIDER;
use crate::watch::Watch;

const POSTS: usize = 4;
/// The input behind the posts'.
pub(super) const THERMOMETER: u8 = POSTS as u8;
const EVERY_POST: u8 = (1 << POSTS) - 1;

/// One look every 62.5 µs, each post every 250 µs, by the ADC's clock of 48 MHz.
const LOOK_CLOCKS: u16 = 3_000;

/// One code of 3.3 V in 12 bits, as it stands at the post.
const POST_MICROVOLTS_PER_CODE: i32 = (3_300_000 * DIVIDER.0 / DIVIDER_FOOT.0 / (1 << 12)) as i32;

const MID_CODE: u16 = 1 << 11;
/// A zero is at most this far from the middle: what the ADC and its reference are off by. More is
/// voltage on the run, which must not be zeroed away. [judgement]
const ZERO_CODES: u16 = 30;
/// Makes the ADC's noise of about two codes a half.
const ZERO_LOOKS: u16 = 16;

static SEEN: Seen = Seen::NEW;
static GOES_ROUND: AtomicBool = AtomicBool::new(false);
static FOUND: Signal<CriticalSectionRawMutex, Microvolts> = Signal::new();

/// The four live dividers' followers. ADC and pads are theirs as long as this lives.
pub(super) struct Followers {
    _adc: Adc<'static, Blocking>,
    _inputs: [Channel<'static>; POSTS],
    edges: Edges,
}

impl Followers {
    pub(super) fn new(
        adc: Peri<'static, ADC>,
        inputs: [Channel<'static>; POSTS],
        edges: Edges,
        _interrupt: impl Binding<ADC_IRQ_FIFO, Rounds>,
    ) -> Self {
        let adc = Adc::new_blocking(adc, Config::default());
        #[expect(unsafe_code, reason = "an interrupt may break a critical section by its priority")]
        // SAFETY: no priority is changed: critical sections keep it out.
        unsafe {
            interrupt::ADC_IRQ_FIFO.enable();
        }
        Self { _adc: adc, _inputs: inputs, edges }
    }
}

impl Watch for Followers {
    fn prepare(&self) {
        stop();
        SEEN.zero(zeros());
    }

    fn begin(&self) {
        start();
    }

    fn end(&self) -> Option<Microvolts> {
        stop();
        self.edges.rest();
        FOUND.try_take()
    }

    async fn tripped(&self) -> Microvolts {
        FOUND.wait().await
    }

    fn rearm(&self) {
        FOUND.reset();
        interlock::rearm();
    }

    fn observe(&self) {
        SEEN.observe();
    }

    fn observed(&self) -> [Microvolts; POSTS] {
        cortex_m::interrupt::free(|_| SEEN.observed())
    }

    fn between(&self) -> u8 {
        self.edges.high()
    }

    fn catch(&self) {
        self.edges.catch();
    }

    fn caught(&self, now: Microseconds, first: bool) -> Option<Edge> {
        CAUGHT.take(now, first)
    }

    fn dropped(&self) -> u16 {
        CAUGHT.dropped()
    }
}

/// The watch's interrupt.
pub(super) struct Rounds;

impl Handler<ADC_IRQ_FIFO> for Rounds {
    #[expect(unsafe_code, reason = "the trait's")]
    unsafe fn on_interrupt() {
        if REGISTERS.fcs().read().over() {
            // A look was lost: the others no longer stand in the posts' order.
            stop();
            return start();
        }
        let codes = [(); POSTS].map(|()| REGISTERS.fifo().read().val());
        if let Some(furthest) = SEEN.see(codes) {
            interlock::trip();
            FOUND.signal(Microvolts((i32::from(furthest) * POST_MICROVOLTS_PER_CODE).into()));
        }
    }
}

/// Whether the watch stands still although it should look; asked at longer intervals than a round takes.
pub(super) fn stands_still(pulse_before: &mut u16) -> bool {
    let pulse = SEEN.pulse();
    let before = core::mem::replace(pulse_before, pulse);
    GOES_ROUND.load(Relaxed) && pulse == before
}

/// The mean of several looks at each post, under the load.
fn zeros() -> [u16; POSTS] {
    [0, 1, 2, 3].map(|post| {
        let sum: u16 = (0..ZERO_LOOKS).map(|_| look(post)).sum();
        let mean = (sum + ZERO_LOOKS / 2) / ZERO_LOOKS;
        mean.clamp(MID_CODE - ZERO_CODES, MID_CODE + ZERO_CODES)
    })
}

/// Takes 2 µs; while the ADC does not go round.
pub(super) fn look(input: u8) -> u16 {
    REGISTERS.cs().write(|cs| {
        cs.set_en(true);
        cs.set_ts_en(input == THERMOMETER);
        cs.set_ainsel(input);
        cs.set_start_once(true);
    });
    wait_until_ready();
    REGISTERS.result().read().result()
}

/// Goes round the posts, the first first, with an interrupt after the last.
fn start() {
    while !REGISTERS.fcs().read().empty() {
        REGISTERS.fifo().read();
    }
    REGISTERS.fcs().write(|fcs| {
        fcs.set_en(true);
        fcs.set_thresh(POSTS as u8);
        fcs.set_over(true); // clears it
    });
    REGISTERS.div().write(|div| div.set_int(LOOK_CLOCKS - 1));
    REGISTERS.inte().write(|interrupts| interrupts.set_fifo(true));
    REGISTERS.cs().write(|cs| {
        cs.set_en(true);
        cs.set_rrobin(EVERY_POST);
        cs.set_start_many(true);
    });
    GOES_ROUND.store(true, Relaxed);
}

/// Ends the look that is being taken, and takes no more.
fn stop() {
    GOES_ROUND.store(false, Relaxed);
    REGISTERS.inte().write(|interrupts| interrupts.set_fifo(false));
    REGISTERS.cs().write(|cs| cs.set_en(true));
    wait_until_ready();
    REGISTERS.fcs().write_value(pac::adc::regs::Fcs::default());
}

fn wait_until_ready() {
    while !REGISTERS.cs().read().ready() {}
}
