//! Which units are tested: drawn at random from a seed that is written down, so that anybody can draw them again.
//!
//! The algorithm, with 64-bit words that wrap:
//!
//! ```text
//! word():      state += 0x9E3779B97F4A7C15               SplitMix64 (Steele, Lea, Flood, OOPSLA 2014);
//!              z = state                                 state is the seed at first
//!              z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
//!              z = (z ^ (z >> 27)) * 0x94D049BB133111EB
//!              return z ^ (z >> 31)
//! below(m):    the first word() that is less than 2^64 - 2^64 mod m, modulo m
//! draw:        units = 1, 2, … lot size
//!              for i = 0 … sample - 1: exchange units[i] and units[i + below(lot size - i)]
//!              the first sample units
//! ```
//!
//! A larger sample with the same seed begins with the smaller one.

use std::collections::BTreeMap;

/// More are to be drawn than there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{sample} units cannot be drawn from {lot_size}")]
pub struct NotEnoughUnits {
    /// Those asked for.
    pub sample: u32,
    /// Those that there are.
    pub lot_size: u32,
}

/// Draws `sample` of the units 1 to `lot_size`, in the order in which they are drawn.
///
/// # Errors
///
/// [`NotEnoughUnits`].
pub fn draw(lot_size: u32, sample: u32, seed: u64) -> Result<Vec<u32>, NotEnoughUnits> {
    if sample > lot_size {
        return Err(NotEnoughUnits { sample, lot_size });
    }
    let mut words = Words { state: seed };
    // Only the places that were exchanged; the others hold themselves.
    let mut exchanged = BTreeMap::new();
    let drawn = (0..sample).map(|place| {
        let other = place + words.below(lot_size - place);
        let here = exchanged.get(&place).copied().unwrap_or(place);
        exchanged.insert(other, here).unwrap_or(other)
    });
    // When a place is exchanged with itself, what was there is what comes out.
    Ok(drawn.map(|place| place + 1).collect())
}

struct Words {
    state: u64,
}

impl Words {
    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = self.state;
        let z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Below `end`, which is not 0, each as likely.
    fn below(&mut self, end: u32) -> u32 {
        let end = u64::from(end);
        // 2^64 mod end.
        let left_over = (u64::MAX % end + 1) % end;
        loop {
            let word = self.next();
            if word <= u64::MAX - left_over {
                return (word % end) as u32;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Reference outputs of the published generator for this seed, as its implementations in other languages test them.
    #[test]
    fn the_words_are_splitmix64() {
        let mut words = Words { state: 1_234_567 };
        let found = [(); 5].map(|()| words.next());
        let expected: [u64; 5] = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!(found, expected);
    }

    #[test]
    fn each_pair_of_five_is_as_likely() {
        let mut times = BTreeMap::new();
        for seed in 0..20_000 {
            let drawn = draw(5, 2, seed).unwrap();
            *times.entry((drawn[0], drawn[1])).or_insert(0_u32) += 1;
        }
        assert_eq!(times.len(), 20);
        // 1000 each; of chi-square with 19 degrees of freedom 43.8 is exceeded once in a thousand.
        let chi_square: f64 =
            times.values().map(|n| (f64::from(*n) - 1000.0).powi(2) / 1000.0).sum();
        assert!(chi_square < 43.8, "{chi_square}");
    }

    #[test]
    fn all_or_none_can_be_drawn() {
        assert_eq!(draw(0, 0, 7), Ok(vec![]));
        assert_eq!(draw(9, 0, 7), Ok(vec![]));
        let mut all = draw(100, 100, 7).unwrap();
        all.sort_unstable();
        assert_eq!(all, (1..=100).collect::<Vec<_>>());
        assert_eq!(draw(3, 4, 7), Err(NotEnoughUnits { sample: 4, lot_size: 3 }));
        assert!(draw(u32::MAX, 8, 7).unwrap().iter().all(|unit| *unit >= 1));
    }
}
