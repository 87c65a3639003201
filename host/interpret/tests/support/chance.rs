//! Chance that can be repeated: a linear congruential generator.

pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        let mut chance = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0xD1B5_4A32_D192_ED03);
        for _ in 0..4 {
            chance.unit();
        }
        chance
    }

    /// From 0 to 1. The constants are Knuth's, of MMIX.
    pub(crate) fn unit(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    #[cfg(test)]
    pub(crate) fn within(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.unit()
    }

    /// Normal, near enough: the sum of twelve.
    pub(crate) fn normal(&mut self, sigma: f64) -> f64 {
        sigma * ((0..12).map(|_| self.unit()).sum::<f64>() - 6.0)
    }
}
