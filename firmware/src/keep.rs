//! What a jig keeps without power: records in flash, each the old or the new one whenever the power goes.

use embassy_futures::block_on;
use embedded_storage_async::nor_flash::NorFlash;
use runproof_protocol::records::{self, KeptPlug};
use runproof_protocol::{Identity, Key, NotKept, Record};
use sequential_storage::Error;
use sequential_storage::cache::{Cache, Uncached};
use sequential_storage::map::{MapConfig, MapStorage};

/// A jig's memory. It is used between measurements only, and is never left half way: nothing here awaits.
pub trait Keep {
    /// Keeps a record in place of the one before it.
    fn keep(&mut self, key: Key, record: &Record) -> Result<(), NotKept>;

    /// The record that is kept; an empty one, if there is none.
    fn recall(&mut self, key: Key) -> Result<Record, NotKept>;

    /// What is kept of jig and plug, in place of the nominal values.
    fn tell(&mut self, identity: &mut Identity) {
        let mut kept = |key| self.recall(key).unwrap_or_default();
        if let Some(KeptPlug { plug, .. }) = records::read(&kept(Key::Plug)) {
            identity.plug = plug;
        }
        if let Some(parts) = records::read(&kept(Key::Parts)) {
            identity.parts = parts;
        }
    }
}

/// Four sectors: one is erased while three hold some thirty records each. [judgement]
pub const STORE_BYTES: u32 = 16 * 1024;

/// A key and a record.
const ITEM_MAX: usize = 1 + records::RECORD_MAX;

/// Records in a flash. The layout, its checksums and its repair after a power cut are the library's.
pub struct Records<F: NorFlash>(MapStorage<u8, F, Cache<Uncached, Uncached, Uncached, u8>>);

impl<F: NorFlash> Records<F> {
    /// In the first [`STORE_BYTES`] of this flash.
    pub fn new(flash: F) -> Self {
        let config = const { MapConfig::new(0..STORE_BYTES) };
        Self(MapStorage::new(flash, config, Cache::new_uncached()))
    }

    /// The flash.
    pub fn flash(&mut self) -> &mut F {
        self.0.flash()
    }
}

impl<F: NorFlash> Keep for Records<F> {
    /// What is in no order that the library knows is another program's, and makes way.
    fn keep(&mut self, key: Key, record: &Record) -> Result<(), NotKept> {
        let mut buffer = [0; ITEM_MAX];
        let mut may_clear = true;
        loop {
            let (key, record) = (key as u8, record.as_slice());
            return match block_on(self.0.store_item(&mut buffer, &key, &record)) {
                Ok(()) => Ok(()),
                Err(Error::FullStorage | Error::ItemTooBig) => Err(NotKept::NoRoom),
                Err(Error::Storage { .. }) => Err(NotKept::Fault),
                Err(_) if may_clear => {
                    may_clear = false;
                    block_on(self.0.erase_all()).map_err(|_| NotKept::Fault)?;
                    continue;
                }
                Err(_) => Err(NotKept::Fault),
            };
        }
    }

    fn recall(&mut self, key: Key) -> Result<Record, NotKept> {
        let mut buffer = [0; ITEM_MAX];
        match block_on(self.0.fetch_item::<&[u8]>(&mut buffer, &(key as u8))) {
            Ok(Some(bytes)) if key.fits(bytes) => {
                Record::from_slice(bytes).map_err(|_| NotKept::Fault)
            }
            Err(Error::Storage { .. }) => Err(NotKept::Fault),
            Ok(_) | Err(_) => Ok(Record::new()),
        }
    }
}
