//! The chip's own temperature, on the ADC that the watch has while something is measured.

use runproof_protocol::Millicelsius;

use super::watch::{Followers, THERMOMETER, look};
use crate::thermometer::Thermometer;

/// The sensor is switched on by its first look; these settle it. [judgement]
const SETTLING_LOOKS: u16 = 32;
const LOOKS: u16 = 16;

/// 0.706 V at 27 °C, 1.721 mV less for each kelvin (the chip's data sheet, ADC, temperature sensor).
const MICROVOLTS_AT_27_C: i32 = 706_000;
const MICROVOLTS_PER_KELVIN: i32 = 1_721;

const SUPPLY_MICROVOLTS: u64 = 3_300_000;
const BITS: u32 = 12;

impl Thermometer for Followers {
    /// Takes 0.1 ms. How far it is off is one thing for each chip: differences are what it is for.
    fn read(&self) -> Option<Millicelsius> {
        for _ in 0..SETTLING_LOOKS {
            look(THERMOMETER);
        }
        let codes: u16 = (0..LOOKS).map(|_| look(THERMOMETER)).sum();
        let microvolts = ((u64::from(codes) * SUPPLY_MICROVOLTS) >> BITS) as i32 / i32::from(LOOKS);
        let above = (MICROVOLTS_AT_27_C - microvolts) * 1_000 / MICROVOLTS_PER_KELVIN;
        Some(Millicelsius(27_000 + above))
    }
}
