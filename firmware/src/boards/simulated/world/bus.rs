//! The bus: which converter is addressed, its bytes in and out.

use runproof_protocol::Converter;

use super::World;
use crate::boards::simulated::Nanoseconds;
use crate::converter::ads1115;

impl World {
    /// A transfer begins; false if nobody has that address.
    pub fn bus_start(&mut self, address: u8, at: Nanoseconds) -> bool {
        self.advance(at);
        self.addressed = Converter::ALL.into_iter().find(|one| ads1115::address(*one) == address);
        if let Some(converter) = self.addressed {
            self.converters[converter.index()].addressed();
        }
        self.addressed.is_some()
    }

    /// A byte to the addressed converter; false if there is none.
    pub fn bus_write(&mut self, byte: u8, at: Nanoseconds) -> bool {
        self.advance(at);
        let Some(converter) = self.addressed else {
            return false;
        };
        self.converters[converter.index()].write(byte, at);
        true
    }

    /// A byte from the addressed converter; all ones if there is none.
    pub fn bus_read(&mut self, at: Nanoseconds) -> u8 {
        self.advance(at);
        self.addressed.map_or(0xFF, |converter| self.converters[converter.index()].give())
    }

    /// The transfer is over.
    pub fn bus_stop(&mut self, at: Nanoseconds) {
        self.advance(at);
        self.addressed = None;
    }
}
