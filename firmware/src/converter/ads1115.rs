//! The ADS1115's registers (data sheet SBAS444E, register map).

use runproof_protocol::{Converter, Input, Range};

/// Nominal length of a conversion at 860 samples a second, with 25 µs to wake (the same data sheet, single-shot mode).
pub const CONVERSION_MICROS: u64 = 1_163 + 25;

/// About twice what a conversion takes when the oscillator is 10 % slow (1/(0.9 × 860) s and the
/// wake-up: the same, data rate variation).
pub const CONVERSION_LIMIT_MICROS: u64 = 2 * 1_304;

const POINTER_CONVERSION: u8 = 0b00;
const POINTER_CONFIG: u8 = 0b01;

/// Write: start a single conversion. Read: no conversion is running.
const OS: u16 = 1 << 15;
const SINGLE_SHOT: u16 = 1 << 8;
const RATE_860: u16 = 0b111 << 5;
const COMPARATOR_OFF: u16 = 0b11;

/// The bus address by the strap on the ADDR pin (the same, address selection).
#[must_use]
pub const fn address(converter: Converter) -> u8 {
    match converter {
        Converter::Sense => 0x48,
        Converter::Drive => 0x49,
        Converter::Live => 0x4A,
    }
}

/// The config register that starts one conversion.
#[must_use]
pub const fn config(input: Input, range: Range) -> u16 {
    OS | multiplexer(input) << 12 | gain(range) << 9 | SINGLE_SHOT | RATE_860 | COMPARATOR_OFF
}

const fn multiplexer(input: Input) -> u16 {
    match input {
        Input::P1P2 => 0b000,
        Input::P1P4 => 0b001,
        Input::P2P4 => 0b010,
        Input::P3P4 => 0b011,
        Input::P1 => 0b100,
        Input::P2 => 0b101,
        Input::P3 => 0b110,
        Input::P4 => 0b111,
    }
}

const fn gain(range: Range) -> u16 {
    match range {
        Range::V4 => 0b001,
        Range::V2 => 0b010,
        Range::V1 => 0b011,
        Range::V0 => 0b101,
    }
}

/// Writing this starts a conversion and leaves the pointer on the config register.
#[must_use]
pub const fn started_by(config: u16) -> [u8; 3] {
    let [high, low] = config.to_be_bytes();
    [POINTER_CONFIG, high, low]
}

/// How a conversion stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Progress {
    /// It runs.
    Busy,
    /// Its code can be read.
    Done,
    /// The config register is not as it was written: another device, or one that was reset meanwhile.
    Lost,
}

/// How the conversion stands that was started with this config, by two bytes that were read. Only between a start
/// and a read of the code: it relies on the pointer.
#[must_use]
pub const fn progress(config: u16, read: [u8; 2]) -> Progress {
    let read = u16::from_be_bytes(read);
    if read | OS != config {
        Progress::Lost
    } else if read & OS != 0 {
        Progress::Done
    } else {
        Progress::Busy
    }
}

/// After this was written, two bytes are the finished conversion's code.
pub const TO_READ: [u8; 1] = [POINTER_CONVERSION];

#[cfg(test)]
#[expect(clippy::unusual_byte_groupings, reason = "grouped as the register's fields")]
mod tests {
    use super::*;

    /// Data sheet SBAS444E, config register: the reset value 0x8583 is AIN0−AIN1, ±2.048 V, 128 SPS; the
    /// fields here differ from it in the rate (bits 7:5, 111b) and, by case, in MUX and PGA.
    #[test]
    fn config_bits_are_the_data_sheets() {
        assert_eq!(config(Input::P1P2, Range::V2), 0x8583 | 0b111 << 5);
        assert_eq!(config(Input::P1P4, Range::V1), 0b1_001_011_1_111_00011);
        assert_eq!(config(Input::P2P4, Range::V1), 0b1_010_011_1_111_00011);
        assert_eq!(config(Input::P3P4, Range::V0), 0b1_011_101_1_111_00011);
        assert_eq!(config(Input::P4, Range::V4), 0b1_111_001_1_111_00011);
    }

    #[test]
    fn a_conversion_is_these_bytes() {
        let config = config(Input::P1P4, Range::V1);
        assert_eq!(started_by(config), [1, 0b1_001_0111, 0b111_00011]);
        assert_eq!(progress(config, [0b0_001_0111, 0b111_00011]), Progress::Busy);
        assert_eq!(progress(config, [0b1_001_0111, 0b111_00011]), Progress::Done);
        assert_eq!(TO_READ, [0]);
    }

    /// The reset value, and what a device without registers gives.
    #[test]
    fn a_device_that_keeps_nothing_is_seen() {
        for read in [[0x85, 0x83], [0xFF, 0xFF], [0, 0]] {
            assert_eq!(progress(config(Input::P1P4, Range::V1), read), Progress::Lost);
        }
    }
}
