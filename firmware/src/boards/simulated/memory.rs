//! A flash that forgets when it is dropped, and whose power may go in the middle of anything.

use std::vec;
use std::vec::Vec;

use embedded_storage_async::nor_flash::{
    ErrorType, NorFlash, NorFlashError, NorFlashErrorKind, ReadNorFlash,
};

use crate::keep::STORE_BYTES;

const BYTES: usize = STORE_BYTES as usize;
const SECTOR_BYTES: usize = 4 * 1024;

/// A step that the power goes in leaves these bits of a byte as they were.
const HALF: u8 = 0x5A;

/// The power is gone, or the address is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gone;

impl NorFlashError for Gone {
    fn kind(&self) -> NorFlashErrorKind {
        NorFlashErrorKind::Other
    }
}

/// Programming clears bits, a byte a step; erasing sets them, half a sector a step.
#[derive(Clone, Debug)]
pub struct Memory {
    bytes: Vec<u8>,
    /// Steps so far.
    pub steps: usize,
    /// Sectors that were erased.
    pub erased: usize,
    cut_at: usize,
}

impl Default for Memory {
    fn default() -> Self {
        Self { bytes: vec![0xFF; BYTES], steps: 0, erased: 0, cut_at: usize::MAX }
    }
}

impl Memory {
    /// With these bytes in all of it.
    #[must_use]
    pub fn filled(byte: impl FnMut() -> u8) -> Self {
        let mut bytes = Vec::new();
        bytes.resize_with(BYTES, byte);
        Self { bytes, ..Self::default() }
    }

    /// The power goes in the middle of the step that follows so many more.
    pub fn cut_power(&mut self, after: usize) {
        self.cut_at = self.steps.saturating_add(after);
    }

    /// The power is back.
    pub fn power_up(&mut self) {
        self.cut_at = usize::MAX;
    }

    fn part(&mut self, offset: u32, bytes: usize) -> Result<&mut [u8], Gone> {
        let from = offset as usize;
        let part = self.bytes.get_mut(from..from.saturating_add(bytes));
        part.filter(|_| self.steps <= self.cut_at).ok_or(Gone)
    }

    /// Counts a step; whether it is the one that the power goes in.
    fn is_cut(&mut self) -> bool {
        self.steps += 1;
        self.steps > self.cut_at
    }
}

impl ErrorType for Memory {
    type Error = Gone;
}

impl ReadNorFlash for Memory {
    const READ_SIZE: usize = 1;

    async fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), Gone> {
        bytes.copy_from_slice(self.part(offset, bytes.len())?);
        Ok(())
    }

    fn capacity(&self) -> usize {
        self.bytes.len()
    }
}

impl NorFlash for Memory {
    const WRITE_SIZE: usize = 1;
    const ERASE_SIZE: usize = SECTOR_BYTES;

    async fn erase(&mut self, from: u32, to: u32) -> Result<(), Gone> {
        for half in (from..to).step_by(SECTOR_BYTES / 2) {
            self.part(half, 0)?;
            let keep = if self.is_cut() { HALF } else { 0 };
            let half = half as usize;
            self.erased += usize::from(half.is_multiple_of(SECTOR_BYTES));
            for byte in &mut self.bytes[half..half + SECTOR_BYTES / 2] {
                *byte |= !keep;
            }
        }
        self.part(from, 0).map(|_| ())
    }

    async fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), Gone> {
        for (at, byte) in (offset..).zip(bytes) {
            self.part(at, 1)?;
            let keep = if self.is_cut() { HALF } else { 0 };
            self.bytes[at as usize] &= byte | keep;
        }
        self.part(offset, 0).map(|_| ())
    }
}
