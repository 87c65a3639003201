//! What an interruption does to serial data: whether it is as long as a bit.

use serde::{Deserialize, Serialize};

use super::Lasted;

/// Usual rates of the data pair, in bits a second.
pub const BAUDS: [u32; 3] = [9_600, 19_200, 38_400];

/// A start bit, eight of data, a stop bit.
pub const BITS_OF_CHARACTER: u32 = 10;

/// A receiver samples sixteen times a bit and takes the majority of the three in the middle, so two of sixteen can turn it.
/// Common practice, no source.
const SAMPLES_OF_BIT: f64 = 16.0;
const SAMPLES_THAT_TURN: f64 = 2.0;

/// How long a bit takes.
#[must_use]
pub fn bit_us(baud: u32) -> f64 {
    1e6 / f64::from(baud)
}

/// How long a character takes.
#[must_use]
pub fn character_us(baud: u32) -> f64 {
    bit_us(baud) * f64::from(BITS_OF_CHARACTER)
}

/// What an interruption does to data that it meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Corrupts {
    /// Shorter than what turns a bit.
    No,
    /// It can turn a bit, if it meets its middle.
    Can,
    /// It covers the middle of a bit wherever it falls.
    Will,
}

/// What an interruption of this length does.
#[must_use]
pub fn corrupts(us: f64, baud: u32) -> Corrupts {
    let bit = bit_us(baud);
    if us >= bit {
        Corrupts::Will
    } else if us >= bit * SAMPLES_THAT_TURN / SAMPLES_OF_BIT {
        Corrupts::Can
    } else {
        Corrupts::No
    }
}

impl Lasted {
    /// What it does to data at this rate; of one that was faster than can be timed, at most.
    #[must_use]
    pub fn corrupts(self, baud: u32) -> Corrupts {
        let us = self.micros() as f64;
        match self {
            Self::AtMostMicros(_) => corrupts(us, baud).min(Corrupts::Can),
            _ => corrupts(us, baud),
        }
    }
}

#[test]
fn bits_are_as_long_as_their_rate_says() {
    for baud in BAUDS {
        assert!((bit_us(baud) * f64::from(baud) - 1e6).abs() < 1e-6, "{baud}");
        assert!((character_us(baud) - 1e7 / f64::from(baud)).abs() < 1e-6, "{baud}");
        let bit = 1e6 / f64::from(baud);
        assert_eq!(corrupts(bit, baud), Corrupts::Will);
        assert_eq!(corrupts(bit * 0.999, baud), Corrupts::Can);
        assert_eq!(corrupts(bit / 8.0, baud), Corrupts::Can);
        assert_eq!(corrupts(bit / 8.0 * 0.999, baud), Corrupts::No);
    }
}

/// 104 µs, 52 µs and 26 µs, as any table of rates has it.
#[test]
fn a_break_of_sixty_microseconds_meets_three_rates() {
    let at = |baud| Lasted::Micros(60).corrupts(baud);
    assert_eq!(BAUDS.map(at), [Corrupts::Can, Corrupts::Will, Corrupts::Will]);
    let fast = |baud| Lasted::AtMostMicros(10).corrupts(baud);
    assert_eq!(BAUDS.map(fast), [Corrupts::No, Corrupts::Can, Corrupts::Can]);
    assert_eq!(Lasted::AtMostMicros(30).corrupts(38_400), Corrupts::Can);
}
