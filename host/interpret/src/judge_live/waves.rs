//! Which waves are on the run: the mains' frequency and its harmonics, and a second source's.

use super::fit::{Fitted, Sample, fit};

/// Where the mains can be. [judgement]
const LEAST_HERTZ: f64 = 45.0;
const MOST_HERTZ: f64 = 65.0;
const GRID_HERTZ: f64 = 0.5;
/// Two sources nearer to each other than this are one: the look is a fifth of a second.
const APART_HERTZ: f64 = 3.0;

/// While the frequency is searched.
const SEARCHED: [u8; 4] = [1, 2, 3, 4];
/// What can be kept: rectifiers have even ones, beyond the fourth as well.
const KEPT: [u8; 6] = [1, 2, 3, 4, 6, 8];
/// A wave is there from so many of its standard deviations on. [judgement]
const SIGNIFICANT: f64 = 5.0;
/// A second source has to explain so much of what the first one leaves. [judgement]
const SECOND_LEAVES: f64 = 0.25;

/// The waves of a look.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Waves {
    /// Of the mains; absent where nothing alternates.
    pub(crate) hertz: Option<f64>,
    /// Standard uncertainty of that, by noise.
    pub(crate) u_hertz: f64,
    /// Which of its harmonics are there; 1 is itself.
    pub(crate) harmonics: Vec<u8>,
    /// A second source's.
    pub(crate) second_hertz: Option<f64>,
}

impl Waves {
    /// All frequencies that are fitted, the second source's last.
    pub(crate) fn frequencies(&self) -> Vec<f64> {
        let mains = self.hertz.into_iter();
        let each =
            mains.flat_map(|hertz| self.harmonics.iter().map(move |n| f64::from(*n) * hertz));
        each.chain(self.second_hertz).collect()
    }

    /// What the channels have in common.
    pub(crate) fn of(channels: &[Vec<Sample>]) -> Self {
        let mut found = Self::none();
        let at = |hertz: f64| misfit(channels, &multiples(hertz, &SEARCHED));
        let Some(rough) = best(at, LEAST_HERTZ, MOST_HERTZ, None) else {
            return found;
        };
        let harmonics = kept(channels, rough);
        if harmonics.is_empty() {
            return found;
        }
        let hertz = golden(
            |hertz| misfit(channels, &multiples(hertz, &harmonics)),
            rough - GRID_HERTZ,
            rough + GRID_HERTZ,
        );
        found.hertz = Some(hertz);
        found.harmonics = harmonics;
        found.look_for_second(channels);
        if found.second_hertz.is_some() {
            found.refine(channels);
        }
        found.u_hertz = found.uncertainty(channels);
        found
    }

    pub(crate) fn none() -> Self {
        Self { hertz: None, u_hertz: 0.0, harmonics: vec![], second_hertz: None }
    }

    fn look_for_second(&mut self, channels: &[Vec<Sample>]) {
        let Some(first) = self.hertz else { return };
        let alone = chi_squareds(channels, &self.frequencies());
        let with = |hertz: f64| {
            let mut frequencies = self.frequencies();
            frequencies.push(hertz);
            frequencies
        };
        let at = |hertz: f64| misfit(channels, &with(hertz));
        let Some(second) = best(at, LEAST_HERTZ, MOST_HERTZ, Some(first)) else { return };
        let both = chi_squareds(channels, &with(second));
        let explains = alone.iter().zip(&both).any(|(alone, both)| match (alone, both) {
            (Some((alone, free)), Some((both, _))) => {
                *alone > 50.0 * *free as f64 && *both < SECOND_LEAVES * alone
            }
            _ => false,
        });
        self.second_hertz = explains.then_some(second);
    }

    fn refine(&mut self, channels: &[Vec<Sample>]) {
        for _ in 0..4 {
            if let (Some(first), Some(second)) = (self.hertz, self.second_hertz) {
                let with = |first, second| {
                    let mut all = multiples(first, &self.harmonics);
                    all.push(second);
                    all
                };
                let near = |hertz: f64| (hertz - GRID_HERTZ, hertz + GRID_HERTZ);
                let (least, most) = near(first);
                let first = golden(|hertz| misfit(channels, &with(hertz, second)), least, most);
                let (least, most) = near(second);
                let second = golden(|hertz| misfit(channels, &with(first, hertz)), least, most);
                self.hertz = Some(first);
                self.second_hertz = Some(second);
            }
        }
    }

    /// By how χ² rises beside its least.
    fn uncertainty(&self, channels: &[Vec<Sample>]) -> f64 {
        const BESIDE_HERTZ: f64 = 0.02;
        let Some(hertz) = self.hertz else { return 0.0 };
        let at = |hertz: f64| {
            chi_squareds(channels, &Self { hertz: Some(hertz), ..self.clone() }.frequencies())
        };
        let [below, here, above] = [-1.0, 0.0, 1.0].map(|side| at(hertz + side * BESIDE_HERTZ));
        let information: f64 = (0..channels.len())
            .filter_map(|n| {
                let ((below, _), (here, free), (above, _)) = (below[n]?, here[n]?, above[n]?);
                let curved = (below - 2.0 * here + above) / (2.0 * BESIDE_HERTZ * BESIDE_HERTZ);
                Some(curved.max(0.0) / (here / free as f64).max(1.0))
            })
            .sum();
        if information > 0.0 { information.sqrt().recip() } else { f64::INFINITY }
    }
}

fn multiples(hertz: f64, harmonics: &[u8]) -> Vec<f64> {
    harmonics.iter().map(|n| f64::from(*n) * hertz).collect()
}

/// χ² and what is free for it, by channel.
fn chi_squareds(channels: &[Vec<Sample>], frequencies: &[f64]) -> Vec<Option<(f64, usize)>> {
    let each = channels.iter().map(|samples| fit(samples, frequencies));
    each.map(|found| found.map(|found| (found.chi_squared, found.free))).collect()
}

/// How badly these frequencies explain the channels, each by its own noise, traffic and all: −2 ln of the likelihood
/// with each channel's deviation at its best.
fn misfit(channels: &[Vec<Sample>], frequencies: &[f64]) -> f64 {
    let each = chi_squareds(channels, frequencies).into_iter().zip(channels);
    each.filter_map(|(found, samples)| {
        let count = samples.len() as f64;
        found.map(|(chi_squared, _)| count * (chi_squared / count + 0.01).ln())
    })
    .sum()
}

/// Which harmonics are there, in any channel.
fn kept(channels: &[Vec<Sample>], hertz: f64) -> Vec<u8> {
    let fits: Vec<Fitted> =
        channels.iter().filter_map(|samples| fit(samples, &multiples(hertz, &KEPT))).collect();
    let there = |n: usize| {
        fits.iter().any(|found| {
            let (cosine, sine) = (1 + 2 * n, 2 + 2 * n);
            let variance = found.covariance[(cosine, cosine)] + found.covariance[(sine, sine)];
            let amplitude = found.coefficients[cosine].hypot(found.coefficients[sine]);
            amplitude * amplitude > SIGNIFICANT * SIGNIFICANT * variance
        })
    };
    KEPT.into_iter().enumerate().filter(|(n, _)| there(*n)).map(|(_, harmonic)| harmonic).collect()
}

/// The best frequency; not within [`APART_HERTZ`] of another.
fn best(at: impl Fn(f64) -> f64, least: f64, most: f64, beside: Option<f64>) -> Option<f64> {
    let count = ((most - least) / GRID_HERTZ).round() as u32;
    let grid = (0..=count).map(|n| least + f64::from(n) * GRID_HERTZ);
    let grid = grid.filter(|hertz| beside.is_none_or(|other| (hertz - other).abs() >= APART_HERTZ));
    let rough = grid.map(|hertz| (at(hertz), hertz)).min_by(|a, b| a.0.total_cmp(&b.0))?.1;
    Some(golden(at, rough - GRID_HERTZ, rough + GRID_HERTZ))
}

/// Golden-section search.
fn golden(at: impl Fn(f64) -> f64, mut least: f64, mut most: f64) -> f64 {
    const SHARE: f64 = 0.618_033_988_749_894_9;
    let [mut a, mut b] = [most - SHARE * (most - least), least + SHARE * (most - least)];
    let [mut at_a, mut at_b] = [at(a), at(b)];
    for _ in 0..32 {
        if at_a <= at_b {
            most = b;
            (b, at_b) = (a, at_a);
            a = most - SHARE * (most - least);
            at_a = at(a);
        } else {
            least = a;
            (a, at_a) = (b, at_b);
            b = least + SHARE * (most - least);
            at_b = at(b);
        }
    }
    f64::midpoint(least, most)
}
