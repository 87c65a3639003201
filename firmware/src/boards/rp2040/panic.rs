//! When the image cannot go on: everything off at once, the reason kept in RAM, and a new start.

use core::cell::UnsafeCell;
use core::mem::MaybeUninit;
use core::panic::PanicInfo;
use core::sync::atomic::{AtomicBool, Ordering};

use crc::{CRC_32_ISO_HDLC, Crc, Table};
use embassy_rp::pac;
use heapless::String;
use runproof_protocol::Restart;

use super::{interlock, log};

/// A file's name is cut to this; every file of the image fits. [judgement]
const FILE_BYTES: usize = 24;

/// "fell" in ASCII; a word that RAM hardly wakes up with, and with the right CRC behind it never.
const MAGIC: u32 = 0x6665_6c6c;
const PANICKED: u32 = 1;
const HARD_FAULT: u32 = 2;

/// Everything but the two oscillators: the bits of WDSEL (data sheet, power-on state machine).
const ALL_BUT_OSCILLATORS: u32 = 0x1_ffff & !0b11;

static CRC: Crc<u32, Table<0>> = Crc::<u32, Table<0>>::new(&CRC_32_ISO_HDLC);

/// Tells the debug probe.
pub(super) fn log(restart: &Restart) {
    match restart {
        Restart::Panicked { file, line } => log::error!("panicked at {}:{}", file.as_str(), line),
        Restart::HardFault { address } => log::error!("hard fault at {:x}", address),
        Restart::Hung => log::error!("hung"),
    }
}

/// What lies in RAM from one start to the next; tests/emulator/kept-reason.mjs knows its layout.
#[repr(C)]
#[derive(Clone, Copy)]
struct Kept {
    magic: u32,
    kind: u32,
    /// A line, or an address.
    number: u32,
    file_bytes: u32,
    file: [u8; FILE_BYTES],
    crc: u32,
}

impl Kept {
    fn new(kind: u32, number: u32, path: &str) -> Self {
        let mut kept =
            Self { magic: MAGIC, kind, number, file_bytes: 0, file: [0; FILE_BYTES], crc: 0 };
        for byte in path.bytes() {
            if byte == b'/' {
                kept.file_bytes = 0;
            } else if let Some(place) = kept.file.get_mut(kept.file_bytes as usize) {
                *place = byte;
                kept.file_bytes += 1;
            }
        }
        kept.crc = kept.checksum();
        kept
    }

    fn checksum(&self) -> u32 {
        let mut digest = CRC.digest();
        for word in [self.magic, self.kind, self.number, self.file_bytes] {
            digest.update(&word.to_le_bytes());
        }
        digest.update(&self.file);
        digest.finalize()
    }

    fn reason(&self) -> Option<Restart> {
        if self.magic != MAGIC || self.crc != self.checksum() {
            return None;
        }
        match self.kind {
            PANICKED => {
                let mut file = String::new();
                for byte in self.file.get(..self.file_bytes as usize)? {
                    file.push(char::from(byte & 0x7F)).ok()?; // names of files are ASCII
                }
                Some(Restart::Panicked { file, line: self.number })
            }
            HARD_FAULT => Some(Restart::HardFault { address: self.number }),
            _ => None,
        }
    }
}

/// RAM that no start clears.
struct Uncleared(UnsafeCell<MaybeUninit<Kept>>);

#[expect(unsafe_code, reason = "a static without a lock")]
// SAFETY: written with interrupts off by code that never returns; taken before any task is spawned.
unsafe impl Sync for Uncleared {}

#[expect(unsafe_code, reason = "names a section")]
// SAFETY: the start-up code leaves `.uninit` alone, and nothing else has this name.
#[unsafe(link_section = ".uninit.runproof")]
#[unsafe(export_name = "RUNPROOF_KEPT_REASON")]
static KEPT: Uncleared = Uncleared(UnsafeCell::new(MaybeUninit::uninit()));

/// Why this start follows another, if that one fell; tells it once. Call before tasks are spawned.
pub(super) fn last() -> Option<Restart> {
    #[expect(unsafe_code, reason = "RAM as the last start left it")]
    // SAFETY: every bit pattern is a `Kept`, and volatile reads take whatever RAM holds.
    let kept = unsafe { KEPT.0.get().cast::<Kept>().read_volatile() };
    keep(&Kept { magic: 0, ..kept });
    let hung = pac::WATCHDOG.reason().read().timer();
    kept.reason().or_else(|| hung.then_some(Restart::Hung))
}

fn keep(kept: &Kept) {
    #[expect(unsafe_code, reason = "RAM that the next start reads")]
    // SAFETY: nobody else runs: see `Uncleared`.
    unsafe {
        KEPT.0.get().cast::<Kept>().write_volatile(*kept);
    }
}

/// Inlined, so that the compiler sees that no message is read, and leaves every message out.
#[expect(unused_attributes, reason = "said to be ignored on an exported function; it saves 2 KiB")]
#[inline(always)]
#[panic_handler]
fn panic(info: &PanicInfo<'_>) -> ! {
    match info.location() {
        Some(at) => fall(PANICKED, at.line(), at.file()),
        None => fall(PANICKED, 0, ""),
    }
}

#[expect(unsafe_code, reason = "the macro's, in more than one place")]
mod hard_fault {
    use cortex_m_rt::{ExceptionFrame, exception};

    #[exception]
    unsafe fn HardFault(frame: &ExceptionFrame) -> ! {
        super::fall(super::HARD_FAULT, frame.pc(), "")
    }
}

#[inline(never)]
fn fall(kind: u32, number: u32, file: &str) -> ! {
    static FALLING: AtomicBool = AtomicBool::new(false);
    cortex_m::interrupt::disable();
    interlock::let_go();
    // The debug probe is told at the next start: to log takes a lock that what fell may hold for ever.
    // The first reason is the one that counts: whatever falls after it, falls on the way down.
    if !FALLING.load(Ordering::Relaxed) {
        FALLING.store(true, Ordering::Relaxed);
        keep(&Kept::new(kind, number, file));
    }
    restart()
}

/// Not by the core's own reset request: that leaves USB and pads as they are, and the host would
/// talk to a port that has forgotten it.
fn restart() -> ! {
    pac::PSM.wdsel().write_value(pac::psm::regs::Wdsel(ALL_BUT_OSCILLATORS));
    pac::WATCHDOG.ctrl().write(|control| control.set_trigger(true));
    loop {
        cortex_m::asm::nop();
    }
}
