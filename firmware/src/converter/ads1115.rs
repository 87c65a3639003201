//! The ADS1115's registers (data sheet SBAS444E, register map) over embedded-hal.

use embedded_hal_async::i2c::I2c;
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

/// Starts a conversion and leaves the pointer on the config register.
pub async fn start<B: I2c>(bus: &mut B, address: u8, config: u16) -> Result<(), B::Error> {
    let [high, low] = config.to_be_bytes();
    bus.write(address, &[POINTER_CONFIG, high, low]).await
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

/// How the conversion stands that was started with this config. Only between [`start`] and [`read`]: it relies on
/// the pointer.
pub async fn progress<B: I2c>(bus: &mut B, address: u8, config: u16) -> Result<Progress, B::Error> {
    let mut register = [0; 2];
    bus.read(address, &mut register).await?;
    let register = u16::from_be_bytes(register);
    Ok(match (register | OS == config, register & OS != 0) {
        (false, _) => Progress::Lost,
        (true, true) => Progress::Done,
        (true, false) => Progress::Busy,
    })
}

/// Reads the finished conversion's code.
pub async fn read<B: I2c>(bus: &mut B, address: u8) -> Result<i16, B::Error> {
    let mut code = [0; 2];
    bus.write_read(address, &[POINTER_CONVERSION], &mut code).await?;
    Ok(i16::from_be_bytes(code))
}

#[cfg(test)]
#[expect(clippy::unusual_byte_groupings, reason = "grouped as the register's fields")]
mod tests {
    use embassy_futures::block_on;
    use embedded_hal_async::i2c::ErrorKind;
    use embedded_hal_mock::eh1::i2c::{Mock, Transaction};

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
        let mut bus = Mock::new(&[
            Transaction::write(0x48, std::vec![1, 0b1_001_0111, 0b111_00011]),
            Transaction::read(0x48, std::vec![0b0_001_0111, 0b111_00011]),
            Transaction::read(0x48, std::vec![0b1_001_0111, 0b111_00011]),
            Transaction::write_read(0x48, std::vec![0], std::vec![0xFF, 0xFE]),
        ]);
        block_on(async {
            let config = config(Input::P1P4, Range::V1);
            start(&mut bus, 0x48, config).await.unwrap();
            assert_eq!(progress(&mut bus, 0x48, config).await.unwrap(), Progress::Busy);
            assert_eq!(progress(&mut bus, 0x48, config).await.unwrap(), Progress::Done);
            assert_eq!(read(&mut bus, 0x48).await.unwrap(), -2);
        });
        bus.done();
    }

    /// The reset value, and what a device without registers gives.
    #[test]
    fn a_device_that_keeps_nothing_is_seen() {
        let config = config(Input::P1P4, Range::V1);
        for [high, low] in [[0x85, 0x83], [0xFF, 0xFF], [0, 0]] {
            let mut bus = Mock::new(&[Transaction::read(0x48, std::vec![high, low])]);
            assert_eq!(block_on(progress(&mut bus, 0x48, config)), Ok(Progress::Lost));
            bus.done();
        }
    }

    #[test]
    fn an_absent_converter_is_an_error() {
        let mut bus =
            Mock::new(&[Transaction::write(0x4A, std::vec![1, 0, 0]).with_error(ErrorKind::Other)]);
        assert_eq!(block_on(start(&mut bus, 0x4A, 0)), Err(ErrorKind::Other));
        bus.done();
    }
}
