//! The watch, on the chip's own ADC: it goes round the four followers by itself, and each round
//! is looked at in its interrupt. The session is woken only when something is found.

use core::cell::Cell;

use embassy_rp::Peri;
use embassy_rp::adc::{Adc, Blocking, Channel, Config};
use embassy_rp::interrupt::InterruptExt;
use embassy_rp::interrupt::typelevel::{ADC_IRQ_FIFO, Binding, Handler};
use embassy_rp::pac::ADC as REGISTERS;
use embassy_rp::peripherals::ADC;
use embassy_rp::{interrupt, pac};
use embassy_sync::blocking_mutex::Mutex;
use embassy_sync::blocking_mutex::raw::CriticalSectionRawMutex;
use embassy_sync::signal::Signal;
use runproof_protocol::{DIVIDER_FOOT, HAZARD, Microvolts};

use crate::identity::DIVIDER;
use crate::watch::Watch;

const POSTS: usize = 4;
/// The input behind the posts'.
pub(super) const THERMOMETER: u8 = POSTS as u8;
const EVERY_POST: u8 = (1 << POSTS) - 1;

/// One look every 62.5 µs, each post every 250 µs, by the ADC's clock of 48 MHz.
const LOOK_CLOCKS: u16 = 3_000;

/// One code of 3.3 V in 12 bits, as it stands at the post.
const POST_MICROVOLTS_PER_CODE: i64 =
    3_300_000 * DIVIDER.0 as i64 / DIVIDER_FOOT.0 as i64 / (1 << 12);
/// A post further than this from its zero is in hazard.
const HAZARD_CODES: u16 = (HAZARD.0 / POST_MICROVOLTS_PER_CODE) as u16;

const MID_CODE: u16 = 1 << 11;
/// A zero is at most this far from the middle: what the ADC and its reference are off by. More is
/// voltage on the run, which must not be zeroed away. [judgement]
const ZERO_CODES: u16 = 30;
/// Makes the ADC's noise of about two codes a half.
const ZERO_LOOKS: u16 = 16;

static ROUNDS: Mutex<CriticalSectionRawMutex, Cell<Rounds>> = Mutex::new(Cell::new(Rounds::NEW));
static TRIPPED: Signal<CriticalSectionRawMutex, Microvolts> = Signal::new();

/// The four live dividers' followers. ADC and pads are theirs as long as this lives.
pub(super) struct Followers {
    _adc: Adc<'static, Blocking>,
    _inputs: [Channel<'static>; POSTS],
}

impl Followers {
    pub(super) fn new(
        adc: Peri<'static, ADC>,
        inputs: [Channel<'static>; POSTS],
        _interrupt: impl Binding<ADC_IRQ_FIFO, Rounds>,
    ) -> Self {
        let adc = Adc::new_blocking(adc, Config::default());
        #[expect(unsafe_code, reason = "an interrupt may break a critical section by its priority")]
        // SAFETY: no priority is changed: critical sections keep it out.
        unsafe {
            interrupt::ADC_IRQ_FIFO.enable();
        }
        Self { _adc: adc, _inputs: inputs }
    }
}

impl Watch for Followers {
    fn prepare(&self) {
        stop();
        ROUNDS.lock(|rounds| rounds.set(Rounds::from(zeros())));
    }

    fn begin(&self) {
        TRIPPED.reset();
        start();
    }

    fn end(&self) {
        stop();
        TRIPPED.reset();
    }

    async fn tripped(&self) -> Microvolts {
        TRIPPED.wait().await
    }

    fn observe(&self) {
        ROUNDS.lock(|cell| cell.set(Rounds { seen: Seen::NOTHING, ..cell.get() }));
    }

    fn observed(&self) -> [Microvolts; POSTS] {
        ROUNDS.lock(Cell::get).observed()
    }
}

/// What is known of the posts from round to round.
#[derive(Clone, Copy)]
pub(super) struct Rounds {
    zeros: [u16; POSTS],
    beyond: [bool; POSTS],
    seen: Seen,
}

/// The codes of some rounds, added up.
#[derive(Clone, Copy)]
struct Seen {
    sums: [u32; POSTS],
    rounds: u16,
}

impl Seen {
    const NOTHING: Self = Self { sums: [0; POSTS], rounds: 0 };

    /// Takes no more once it is full.
    fn add(&mut self, codes: [u16; POSTS]) {
        if let Some(rounds) = self.rounds.checked_add(1) {
            self.rounds = rounds;
            for (sum, code) in self.sums.iter_mut().zip(codes) {
                *sum += u32::from(code);
            }
        }
    }
}

impl Rounds {
    const NEW: Self = Self::from([MID_CODE; POSTS]);

    const fn from(zeros: [u16; POSTS]) -> Self {
        Self { zeros, beyond: [false; POSTS], seen: Seen::NOTHING }
    }

    /// The largest voltage, if a post is in hazard for the second time running.
    fn see(&mut self, codes: [u16; POSTS]) -> Option<Microvolts> {
        self.seen.add(codes);
        let mut largest = 0;
        for ((code, zero), beyond) in codes.iter().zip(self.zeros).zip(&mut self.beyond) {
            let off = code.abs_diff(zero);
            let beyond_before = core::mem::replace(beyond, off > HAZARD_CODES);
            if *beyond && beyond_before {
                largest = off.max(largest);
            }
        }
        (largest > 0).then(|| Microvolts(i64::from(largest) * POST_MICROVOLTS_PER_CODE))
    }

    /// The mean of the rounds seen.
    fn observed(&self) -> [Microvolts; POSTS] {
        let rounds = i64::from(self.seen.rounds.max(1));
        let mut posts = [Microvolts(0); POSTS];
        for ((post, sum), zero) in posts.iter_mut().zip(self.seen.sums).zip(self.zeros) {
            let off = i64::from(sum) - i64::from(self.seen.rounds) * i64::from(zero);
            *post = Microvolts(off * POST_MICROVOLTS_PER_CODE / rounds);
        }
        posts
    }
}

impl Handler<ADC_IRQ_FIFO> for Rounds {
    #[expect(unsafe_code, reason = "the trait's")]
    unsafe fn on_interrupt() {
        if REGISTERS.fcs().read().over() {
            // A look was lost: the others no longer stand in the posts' order.
            stop();
            return start();
        }
        let codes = [(); POSTS].map(|()| REGISTERS.fifo().read().val());
        let found = ROUNDS.lock(|cell| {
            let mut rounds = cell.get();
            let found = rounds.see(codes);
            cell.set(rounds);
            found
        });
        if let Some(largest) = found {
            TRIPPED.signal(largest);
        }
    }
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
}

/// Ends the look that is being taken, and takes no more.
fn stop() {
    REGISTERS.inte().write(|interrupts| interrupts.set_fifo(false));
    REGISTERS.cs().write(|cs| cs.set_en(true));
    wait_until_ready();
    REGISTERS.fcs().write_value(pac::adc::regs::Fcs::default());
}

fn wait_until_ready() {
    while !REGISTERS.cs().read().ready() {}
}
