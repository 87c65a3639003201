//! A flash that forgets when it is dropped, and whose power may go in the middle of anything.

use std::vec;
use std::vec::Vec;

use runproof_protocol::NotKept;

use crate::keep::{Flash, PAGE_BYTES, SECTOR_BYTES, STORE_BYTES};

/// A step that the power goes in leaves these bits of a byte as they were.
const HALF: u8 = 0x5A;

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
        Self { bytes: vec![0xFF; STORE_BYTES], steps: 0, erased: 0, cut_at: usize::MAX }
    }
}

impl Memory {
    /// With these bytes in all of it.
    #[must_use]
    pub fn filled(byte: impl FnMut() -> u8) -> Self {
        let mut bytes = Vec::new();
        bytes.resize_with(STORE_BYTES, byte);
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

    fn powered(&self) -> Result<(), NotKept> {
        if self.steps <= self.cut_at { Ok(()) } else { Err(NotKept::Fault) }
    }

    /// The bits of a byte that this step does not reach.
    fn step(&mut self) -> Result<u8, NotKept> {
        self.powered()?;
        self.steps += 1;
        Ok(if self.steps > self.cut_at { HALF } else { 0 })
    }
}

impl Flash for Memory {
    fn read(&mut self, at: usize, bytes: &mut [u8]) -> Result<(), NotKept> {
        self.powered()?;
        bytes.copy_from_slice(&self.bytes[at..at + bytes.len()]);
        Ok(())
    }

    fn program(&mut self, at: usize, page: &[u8; PAGE_BYTES]) -> Result<(), NotKept> {
        assert!(at.is_multiple_of(PAGE_BYTES), "a page begins at {at}");
        for (at, byte) in (at..).zip(page) {
            let unreached = self.step()?;
            self.bytes[at] &= byte | unreached;
        }
        self.powered()
    }

    fn erase(&mut self, at: usize) -> Result<(), NotKept> {
        assert!(at.is_multiple_of(SECTOR_BYTES), "a sector begins at {at}");
        self.erased += 1;
        for half in [at, at + SECTOR_BYTES / 2] {
            let unreached = self.step()?;
            for byte in &mut self.bytes[half..half + SECTOR_BYTES / 2] {
                *byte |= !unreached;
            }
        }
        self.powered()
    }
}
