//! What a jig keeps without power: its records, the old or the new ones whenever the power goes.
//!
//! All records lie in one snapshot. A new one goes into the next slot of a ring, sealed by its number and a
//! CRC; the last that is whole counts. A sector is erased only while the snapshot that counts lies in another.
//! (The common library for this took 13 kB of flash more.)

use runproof_protocol::frame::checksum;
use runproof_protocol::records::{self, RECORD_MAX};
use runproof_protocol::{Identity, Key, NotKept, Record};

use crate::identity;

/// A jig's memory. It is used between measurements only, and is never left half way: nothing here awaits.
pub trait Keep {
    /// Keeps a record in place of the one before it; an empty one is none.
    fn keep(&mut self, key: Key, record: &Record) -> Result<(), NotKept>;

    /// The record that is kept; an empty one, if there is none.
    fn recall(&mut self, key: Key) -> Result<Record, NotKept>;
}

/// The values that are kept of jig and plug, or else the nominal ones.
#[inline(never)]
pub(crate) fn tell(memory: &mut impl Keep, identity: &mut Identity) {
    let mut kept = |key| memory.recall(key).unwrap_or_default();
    identity.plug = records::plug(&kept(Key::Plug)).unwrap_or(identity::PLUG);
    identity.parts = records::parts(&kept(Key::Parts)).unwrap_or(identity::PARTS);
}

/// A flash. Programming clears bits, erasing sets those of a sector.
pub trait Flash {
    /// Reads from this address on.
    fn read(&mut self, at: usize, bytes: &mut [u8]) -> Result<(), NotKept>;

    /// Programs the page that begins here.
    fn program(&mut self, at: usize, page: &[u8; PAGE_BYTES]) -> Result<(), NotKept>;

    /// Erases the sector that begins here.
    fn erase(&mut self, at: usize) -> Result<(), NotKept>;
}

impl<F: Flash> Flash for &mut F {
    fn read(&mut self, at: usize, bytes: &mut [u8]) -> Result<(), NotKept> {
        F::read(self, at, bytes)
    }

    fn program(&mut self, at: usize, page: &[u8; PAGE_BYTES]) -> Result<(), NotKept> {
        F::program(self, at, page)
    }

    fn erase(&mut self, at: usize) -> Result<(), NotKept> {
        F::erase(self, at)
    }
}

/// What a flash programs at once.
pub const PAGE_BYTES: usize = 256;
/// What it erases at once.
pub const SECTOR_BYTES: usize = 4 * 1024;
/// Four sectors: some 100 000 cycles each (NOR data sheets, from memory) are 1.6 million stores.
pub const STORE_BYTES: usize = 4 * SECTOR_BYTES;
const SLOT_BYTES: usize = 1024;

/// Those that there are, and room for more.
const KEYS_MAX: usize = 7;
const NUMBER_BYTES: usize = 4;
const LENGTHS_AT: usize = NUMBER_BYTES;
const RECORDS_AT: usize = LENGTHS_AT + 8;
const CRC_AT: usize = SLOT_BYTES - 4;
const _: () = assert!(RECORDS_AT + KEYS_MAX * RECORD_MAX <= CRC_AT && Key::ALL.len() <= KEYS_MAX);

/// Number, lengths, records, zeros, CRC; little end first.
struct Snapshot([u8; SLOT_BYTES]);

impl Snapshot {
    fn number(&self) -> u32 {
        self.word(0)
    }

    fn word(&self, at: usize) -> u32 {
        self.0[at..].first_chunk().map_or(0, |word| u32::from_le_bytes(*word))
    }

    fn put_word(&mut self, at: usize, word: u32) {
        self.0[at..at + 4].copy_from_slice(&word.to_le_bytes());
    }

    fn is_whole(&self) -> bool {
        self.word(CRC_AT) == checksum(&self.0[..CRC_AT]) && self.number() > 0
    }

    fn record(&self, key: Key) -> Record {
        let at = RECORDS_AT + key as usize * RECORD_MAX;
        let length = usize::from(self.0[LENGTHS_AT + key as usize]).min(RECORD_MAX);
        Record::from_slice(&self.0[at..at + length]).unwrap_or_default()
    }

    fn put_record(&mut self, key: Key, record: &Record) {
        let at = RECORDS_AT + key as usize * RECORD_MAX;
        self.0[LENGTHS_AT + key as usize] = record.len() as u8;
        self.0[at..at + record.len()].copy_from_slice(record);
    }
}

/// Records in a flash's first [`STORE_BYTES`].
pub struct Records<F>(F);

impl<F: Flash> Records<F> {
    /// In this flash.
    pub const fn new(flash: F) -> Self {
        Self(flash)
    }

    /// Puts the last whole snapshot there, or an empty one; returns where the next one goes.
    #[inline(never)]
    fn last(&mut self, snapshot: &mut Snapshot) -> Result<usize, NotKept> {
        let (mut last, mut next) = (0, 0);
        for at in (0..STORE_BYTES).step_by(SLOT_BYTES) {
            self.0.read(at, &mut snapshot.0)?;
            if snapshot.number() > last && snapshot.is_whole() {
                (last, next) = (snapshot.number(), at + SLOT_BYTES);
            }
        }
        if last == 0 {
            snapshot.0.fill(0);
        } else {
            self.0.read(next - SLOT_BYTES, &mut snapshot.0)?;
        }
        Ok(next % STORE_BYTES)
    }

    fn is_blank(&mut self, at: usize) -> Result<bool, NotKept> {
        let mut bytes = [0; PAGE_BYTES];
        for part in (at..at + SLOT_BYTES).step_by(PAGE_BYTES) {
            self.0.read(part, &mut bytes)?;
            if bytes.iter().any(|byte| *byte != 0xFF) {
                return Ok(false);
            }
        }
        Ok(true)
    }
}

impl<F: Flash> Keep for Records<F> {
    fn keep(&mut self, key: Key, record: &Record) -> Result<(), NotKept> {
        let mut snapshot = Snapshot([0; SLOT_BYTES]);
        let mut at = self.last(&mut snapshot)?;
        snapshot.put_record(key, record);
        snapshot.put_word(0, snapshot.number().wrapping_add(1));
        snapshot.put_word(CRC_AT, checksum(&snapshot.0[..CRC_AT]));
        // A slot that the power went away in is passed over, up to the next sector.
        while !self.is_blank(at)? {
            if at.is_multiple_of(SECTOR_BYTES) {
                self.0.erase(at)?;
                break;
            }
            at = (at + SLOT_BYTES) % STORE_BYTES;
        }
        for (n, page) in snapshot.0.as_chunks().0.iter().enumerate() {
            self.0.program(at + n * PAGE_BYTES, page)?;
        }
        let (sealed, next) = (snapshot.number(), self.last(&mut snapshot)?);
        let is_kept = snapshot.number() == sealed && next == (at + SLOT_BYTES) % STORE_BYTES;
        is_kept.then_some(()).ok_or(NotKept::Fault)
    }

    fn recall(&mut self, key: Key) -> Result<Record, NotKept> {
        let mut snapshot = Snapshot([0; SLOT_BYTES]);
        self.last(&mut snapshot)?;
        Ok(snapshot.record(key))
    }
}
