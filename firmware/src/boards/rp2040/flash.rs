//! The flash behind the chip: its last sectors as a store, and the number it was made with.

use embassy_rp::Peri;
use embassy_rp::flash::{Blocking, ERASE_SIZE, Error, Flash};
use embassy_rp::peripherals::FLASH;
use heapless::String;
use runproof_protocol::NotKept;

use super::guard;
use crate::keep::{self, PAGE_BYTES, STORE_BYTES};

/// As memory.x has it, which keeps the image out of the store.
const FLASH_BYTES: usize = 2048 * 1024;
const STORE_AT: u32 = (FLASH_BYTES - STORE_BYTES) as u32;

const ID_BYTES: usize = 8;
/// Two hexadecimal digits a byte.
pub(super) type Serial = String<{ 2 * ID_BYTES }>;

/// The last sectors. Nothing runs while they are changed, no interrupt either, 45 ms for a sector:
/// only for when nothing is measured.
pub(super) struct Store<'d>(Flash<'d, FLASH, Blocking, FLASH_BYTES>);

impl<'d> Store<'d> {
    pub(super) fn new(flash: Peri<'d, FLASH>) -> Self {
        Self(Flash::new_blocking(flash))
    }

    /// The flash chip's own number; nothing, if it does not tell.
    pub(super) fn serial(&mut self) -> Serial {
        let mut id = [0; ID_BYTES];
        if self.0.blocking_unique_id(&mut id).is_err() {
            return Serial::new();
        }
        let mut serial = Serial::new();
        for byte in id {
            for nibble in [byte >> 4, byte & 0xf] {
                let fits = serial.push(digit(nibble));
                debug_assert!(fits.is_ok(), "a serial has room for an id");
            }
        }
        serial
    }
}

fn digit(nibble: u8) -> char {
    char::from(if nibble < 10 { b'0' + nibble } else { b'A' + nibble - 10 })
}

impl keep::Flash for Store<'_> {
    fn read(&mut self, at: usize, bytes: &mut [u8]) -> Result<(), NotKept> {
        self.0.blocking_read(STORE_AT + at as u32, bytes).map_err(fault)
    }

    /// That it is a page's beginning is said so that the compiler leaves out what is for parts of pages.
    fn program(&mut self, at: usize, page: &[u8; PAGE_BYTES]) -> Result<(), NotKept> {
        let at = STORE_AT + (at & !(PAGE_BYTES - 1)) as u32;
        guard::while_flash_changes(|| self.0.blocking_write(at, page)).map_err(fault)
    }

    fn erase(&mut self, at: usize) -> Result<(), NotKept> {
        let at = STORE_AT + at as u32;
        let end = at + ERASE_SIZE as u32;
        guard::while_flash_changes(|| self.0.blocking_erase(at, end)).map_err(fault)
    }
}

fn fault(_: Error) -> NotKept {
    NotKept::Fault
}
