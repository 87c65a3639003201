//! How many of a sample do not conform: the binomial and the hypergeometric distribution.
//!
//! Neighbouring probabilities have a simple ratio, so all follow from the most likely one, and their sum is what they
//! are divided by: no factorial, whose logarithm costs the digits that a lot of half a million needs.

/// A distribution of counts from `least` to `most`, by the ratio of each probability to the one before.
struct Counts<R> {
    least: u64,
    most: u64,
    likeliest: u64,
    /// P(count + 1) / P(count).
    ratio: R,
}

/// What is smaller than this beside the rest adds nothing to it.
const NOTHING: f64 = 1e-22;

impl<R: Fn(u64) -> f64> Counts<R> {
    /// P(count ≤ `limit`) and P(count > `limit`), both to full precision, be they ever so small.
    fn split(&self, limit: u64) -> (f64, f64) {
        if limit >= self.most {
            return (1.0, 0.0);
        }
        if limit < self.least {
            return (0.0, 1.0);
        }
        let (mut below, mut above) = (0.0, 0.0);
        let mut add = |count: u64, weight: f64| {
            let side = if count <= limit { &mut below } else { &mut above };
            *side += weight;
            weight > NOTHING * *side
        };
        add(self.likeliest, 1.0);
        let mut weight = 1.0;
        for count in self.likeliest + 1..=self.most {
            weight *= (self.ratio)(count - 1);
            // Past the limit, and too small to count on its side.
            if weight == 0.0 || !add(count, weight) && count > limit {
                break;
            }
        }
        weight = 1.0;
        for count in (self.least..self.likeliest).rev() {
            weight /= (self.ratio)(count);
            if weight == 0.0 || !add(count, weight) && count <= limit {
                break;
            }
        }
        (below / (below + above), above / (below + above))
    }
}

/// The chance of at most, and of more than, `limit` nonconforming ones among `sample`, each with chance `fraction`.
pub(crate) fn binomial(sample: u32, fraction: f64, limit: u32) -> (f64, f64) {
    let (sample, limit) = (u64::from(sample), u64::from(limit));
    let certain = if fraction <= 0.0 {
        Some(0)
    } else if fraction >= 1.0 {
        Some(sample)
    } else {
        None
    };
    let odds = fraction / (1.0 - fraction);
    let likeliest = ((sample + 1) as f64 * fraction) as u64;
    Counts {
        least: certain.unwrap_or(0),
        most: certain.unwrap_or(sample),
        likeliest: certain.unwrap_or(likeliest.min(sample)),
        ratio: |count| (sample - count) as f64 / (count + 1) as f64 * odds,
    }
    .split(limit)
}

/// The same of a sample that is drawn from a lot of `lot` units, `nonconforming` of which are so. Neither sample nor
/// nonconforming units are more than the lot.
pub(crate) fn hypergeometric(lot: u32, nonconforming: u32, sample: u32, limit: u32) -> (f64, f64) {
    let [lot, nonconforming, sample] = [lot, nonconforming, sample].map(u64::from);
    let least = (sample + nonconforming).saturating_sub(lot);
    let most = sample.min(nonconforming);
    let likeliest =
        (u128::from(sample + 1) * u128::from(nonconforming + 1) / u128::from(lot + 2)) as u64;
    Counts {
        least,
        most,
        likeliest: likeliest.clamp(least, most),
        ratio: |count| {
            (nonconforming - count) as f64 / (count + 1) as f64
                * ((sample - count) as f64 / (lot + count + 1 - nonconforming - sample) as f64)
        },
    }
    .split(u64::from(limit))
}

/// The chance that a sample from a lot has none of its nonconforming units; as soon as it is below `enough`, anything
/// below that.
pub(crate) fn none_found(lot: u32, nonconforming: u32, sample: u32, enough: f64) -> f64 {
    let [lot, nonconforming, sample] = [lot, nonconforming, sample].map(u64::from);
    let (few, many) = (nonconforming.min(sample), nonconforming.max(sample));
    let mut chance = 1.0;
    for drawn in 0..few {
        chance *= lot.saturating_sub(many + drawn) as f64 / (lot - drawn) as f64;
        if chance < enough {
            break;
        }
    }
    chance
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: f64, expected: f64) {
        assert!((found / expected - 1.0).abs() < 1e-13, "{found}, not {expected}");
    }

    #[test]
    fn small_ones_are_as_counted_by_hand() {
        near(binomial(3, 0.5, 1).0, 0.5);
        near(binomial(3, 0.5, 1).1, 0.5);
        near(binomial(2, 0.1, 0).0, 0.81);
        // Two of five, two drawn: none in 3 of 10 ways, one in 6.
        near(hypergeometric(5, 2, 2, 0).0, 0.3);
        near(hypergeometric(5, 2, 2, 1).0, 0.9);
        near(hypergeometric(5, 4, 3, 2).0, 0.6);
        near(none_found(5, 2, 2, 0.0), 0.3);
    }

    #[test]
    fn the_far_tail_keeps_its_digits() {
        near(binomial(1000, 0.5, 0).0, 0.5f64.powi(1000));
        near(binomial(100, 0.01, 99).1, 0.01f64.powi(100));
        assert_eq!(binomial(100_000, 0.9, 0).0, 0.0);
    }

    #[test]
    fn extremes_are_certain() {
        assert_eq!(binomial(0, 0.3, 0), (1.0, 0.0));
        assert_eq!(binomial(5, 0.0, 0), (1.0, 0.0));
        assert_eq!(binomial(5, 1.0, 4), (0.0, 1.0));
        assert_eq!(binomial(5, 1.0, 5), (1.0, 0.0));
        assert_eq!(hypergeometric(0, 0, 0, 0), (1.0, 0.0));
        assert_eq!(hypergeometric(10, 10, 3, 2), (0.0, 1.0));
        assert_eq!(hypergeometric(10, 3, 10, 2), (0.0, 1.0));
        assert_eq!(none_found(10, 3, 8, 0.0), 0.0);
    }
}
