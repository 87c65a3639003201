//! The flash behind the chip: its last sectors as a store, and the number it was made with.

use embassy_rp::Peri;
use embassy_rp::flash::{Blocking, ERASE_SIZE, Error, Flash, READ_SIZE, WRITE_SIZE};
use embassy_rp::peripherals::FLASH;
use embedded_storage_async::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
use heapless::String;

use super::guard;
use crate::keep::STORE_BYTES;

/// As memory.x has it, which keeps the image out of the store.
const FLASH_BYTES: usize = 2048 * 1024;
const STORE_AT: u32 = FLASH_BYTES as u32 - STORE_BYTES;

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

impl ErrorType for Store<'_> {
    type Error = Error;
}

impl ReadNorFlash for Store<'_> {
    const READ_SIZE: usize = READ_SIZE;

    async fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), Error> {
        self.0.blocking_read(STORE_AT.saturating_add(offset), bytes)
    }

    fn capacity(&self) -> usize {
        STORE_BYTES as usize
    }
}

impl NorFlash for Store<'_> {
    const WRITE_SIZE: usize = WRITE_SIZE;
    const ERASE_SIZE: usize = ERASE_SIZE;

    async fn erase(&mut self, from: u32, to: u32) -> Result<(), Error> {
        for sector in (from..to).step_by(ERASE_SIZE) {
            let sector = STORE_AT.saturating_add(sector);
            let erase = || self.0.blocking_erase(sector, sector + ERASE_SIZE as u32);
            guard::while_flash_changes(erase)?;
        }
        Ok(())
    }

    async fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), Error> {
        let offset = STORE_AT.saturating_add(offset);
        guard::while_flash_changes(|| self.0.blocking_write(offset, bytes))
    }
}
