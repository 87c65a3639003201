//! Data on a pair as a function of time: packets of chance bits, with gaps.
//!
//! Time is cut into slots of `packet_bits + idle_bits`; in each a packet begins 0 to `idle_bits` late. Chance
//! is SplitMix64's, of which any number can be had without those before it.

use serde::Deserialize;

/// Packets of bits without return to zero.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Traffic {
    /// A one is so many volts, a zero as many the other way round; a gap is 0 V.
    pub volts: f64,
    /// Bits a second.
    pub baud: f64,
    /// Of one packet.
    pub packet_bits: u32,
    /// Between two packets, on the mean; none to twice as many.
    pub idle_bits: u32,
    /// What its bits are drawn from.
    #[serde(default)]
    pub seed: u64,
}

impl Traffic {
    /// 1, −1, or 0 in a gap.
    #[must_use]
    pub(super) fn level(&self, seconds: f64) -> f64 {
        self.bit((seconds * self.baud) as u64)
    }

    /// The integral of the level over time, in seconds.
    #[must_use]
    pub(super) fn area(&self, from_s: f64, to_s: f64) -> f64 {
        let (from, to) = (from_s * self.baud, to_s * self.baud);
        let bits = from as u64..=to as u64;
        let whole: f64 = bits
            .map(|bit| {
                let within = to.min(bit as f64 + 1.0) - from.max(bit as f64);
                if within > 0.0 { within * self.bit(bit) } else { 0.0 }
            })
            .sum();
        whole / self.baud
    }

    fn bit(&self, bit: u64) -> f64 {
        let (packet, idle) = (u64::from(self.packet_bits), u64::from(self.idle_bits));
        let (slot, at) = (bit / (packet + idle), bit % (packet + idle));
        let numbers = slot.wrapping_mul(1 + packet.div_ceil(64));
        let late = split_mix(self.seed, numbers) % (idle + 1);
        match at.checked_sub(late) {
            Some(at) if at < packet => {
                let word = split_mix(self.seed, numbers.wrapping_add(1 + at / 64));
                if word >> (at % 64) & 1 == 1 { 1.0 } else { -1.0 }
            }
            _ => 0.0,
        }
    }
}

/// Number `index` of SplitMix64 from a seed: Steele, Lea, Flood, "Fast splittable pseudorandom number
/// generators", 2014.
fn split_mix(seed: u64, index: u64) -> u64 {
    let state = seed.wrapping_add(0x9E37_79B9_7F4A_7C15_u64.wrapping_mul(index.wrapping_add(1)));
    let once = (state ^ state >> 30).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let twice = (once ^ once >> 27).wrapping_mul(0x94D0_49BB_1331_11EB);
    twice ^ twice >> 31
}

#[cfg(test)]
mod tests {
    use std::vec::Vec;

    use super::*;

    /// Published check values of this seed, from memory.
    #[test]
    fn chance_is_split_mix() {
        let numbers = [0, 1, 2, 3, 4].map(|index| split_mix(1_234_567, index));
        let published = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!(numbers, published);
    }

    const BUSY: Traffic =
        Traffic { volts: 2.0, baud: 38_400.0, packet_bits: 100, idle_bits: 40, seed: 7 };

    /// The integral against the sum of a hundred looks into each bit, over spans that begin and end within bits.
    #[test]
    fn its_average_is_that_of_its_levels() {
        let step_s = 1.0 / BUSY.baud / 100.0;
        let mut differing = 0;
        for n in 0..50_u32 {
            let from = n * 3_217;
            let steps = 4_465 + n;
            let looks: f64 =
                (from..from + steps).map(|k| BUSY.level((f64::from(k) + 0.5) * step_s)).sum();
            let area = BUSY.area(f64::from(from) * step_s, f64::from(from + steps) * step_s);
            assert!((area - looks * step_s).abs() < 1e-9 * step_s * f64::from(steps), "{n}");
            differing += usize::from((looks / f64::from(steps)).abs() > 0.01);
        }
        assert!(differing > 25, "{differing}");
    }

    /// One packet a slot, as many ones as zeros nearly, and a gap for the rest of the time.
    #[test]
    fn packets_take_their_share_of_the_time() {
        const SLOTS: u64 = 400;
        let levels: Vec<f64> = (0..SLOTS * 140).map(|bit| BUSY.bit(bit)).collect();
        let count = |level: f64| levels.iter().filter(|one| **one == level).count();
        assert_eq!(count(1.0) + count(-1.0), 400 * 100);
        // Binomial: ±100 is one σ of 40,000 halves.
        assert!(count(1.0).abs_diff(20_000) < 400, "{}", count(1.0));
    }
}
