//! Which waves are on the run: the mains' frequency and its harmonics, and a second source's.

use super::fit::{Fitted, Sample, fit, least_chi_squared};

/// Where the mains can be. [judgement]
const LEAST_HERTZ: f64 = 45.0;
const MOST_HERTZ: f64 = 65.0;
const GRID_HERTZ: f64 = 0.5;
const MAINS_HERTZ: [f64; 2] = [50.0, 60.0];
const MAINS_OFF_HERTZ: f64 = 1.0;
/// Two sources nearer to each other than this are one: the look is a fifth of a second.
const APART_HERTZ: f64 = 3.0;

/// While the frequency is searched.
const SEARCHED: [u8; 4] = [1, 2, 3, 4];
/// What can be kept: rectifiers have even ones, beyond the fourth as well.
const KEPT: [u8; 6] = [1, 2, 3, 4, 6, 8];
/// A wave is there from so many of its standard deviations on. [judgement]
const SIGNIFICANT: f64 = 5.0;
/// And is only looked for where the first one leaves so much more than noise. [judgement]
const MUCH: f64 = 50.0;
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
        let Some(rough) = rough(channels) else { return found };
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
        let much = |(chi_squared, free): (f64, usize)| chi_squared > MUCH * free as f64;
        if !alone.iter().flatten().any(|one| much(*one)) {
            return;
        }
        let with = |hertz: f64| {
            let mut frequencies = self.frequencies();
            frequencies.push(hertz);
            frequencies
        };
        let at = |hertz: f64| misfit(channels, &with(hertz));
        let Some(second) = best(at, LEAST_HERTZ, MOST_HERTZ, Some(first)) else { return };
        let both = chi_squareds(channels, &with(second));
        let explains = alone.iter().zip(&both).any(|(alone, both)| match (alone, both) {
            (Some(one), Some((both, _))) => much(*one) && *both < SECOND_LEAVES * one.0,
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
    channels.iter().map(|samples| least_chi_squared(samples, frequencies)).collect()
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

/// Where the mains is, about. D3-D4 is read 157 times a second, so that 60 Hz looks like the second harmonic of 48.6 Hz
/// there, and like the fourth of 54.3: harmonics are only searched for near 50 and 60 Hz, where they look like no other.
fn rough(channels: &[Vec<Sample>]) -> Option<f64> {
    let plain = |hertz: f64| misfit(channels, &[hertz]);
    let rich = |hertz: f64| {
        let count: usize = channels.iter().map(Vec::len).sum();
        let more = 2 * channels.len() * (SEARCHED.len() - 1);
        misfit(channels, &multiples(hertz, &SEARCHED)) + more as f64 * (count as f64).ln()
    };
    let alone = best(plain, LEAST_HERTZ, MOST_HERTZ, None);
    let mains = MAINS_HERTZ
        .into_iter()
        .filter_map(|mains| best(rich, mains - MAINS_OFF_HERTZ, mains + MAINS_OFF_HERTZ, None));
    let mains = mains.map(|hertz| (rich(hertz), hertz));
    let each = alone.map(|hertz| (plain(hertz), hertz)).into_iter().chain(mains);
    each.min_by(|a, b| a.0.total_cmp(&b.0)).map(|found| found.1)
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

#[cfg(test)]
mod tests {
    use super::super::fit::left_by_aperture;
    use super::*;

    /// 24 V of 59.97 Hz beside 37 mV, in steps of 2.5 mV at 860 Hz for 200 ms, and what another program's four-parameter
    /// fit (IEEE Std 1057) found in it; the conversions are taken to be instants there.
    #[test]
    fn another_programs_four_parameter_fit() {
        let samples: Vec<Sample> = (0..172)
            .map(|n| {
                let seconds = f64::from(n) / 860.0;
                let turned = std::f64::consts::TAU * 59.97 * seconds + 0.5;
                let volts = 24.0 * 2.0_f64.sqrt() * turned.sin() + 0.037;
                let volts = (volts / 2.5e-3).round() * 2.5e-3;
                Sample { seconds, volts, noise_v: 2.5e-3 / 12.0_f64.sqrt() }
            })
            .collect();
        let waves = Waves::of(&[samples.clone(), vec![], vec![]]);
        assert_eq!((waves.harmonics.as_slice(), waves.second_hertz), ([1].as_slice(), None));
        let hertz = waves.hertz.expect("a wave");
        assert!((hertz - 59.970_002_224_406_41).abs() < 1e-6, "{hertz}");
        let found = fit(&samples, &[hertz]).expect("enough").coefficients;
        let left = left_by_aperture(hertz);
        let expected = [0.037_006_517_001_28, 16.272_131_525_25, 29.786_222_383_29];
        for (found, expected) in [found[0], found[1] * left, found[2] * left].iter().zip(expected) {
            assert!((found - expected).abs() < 2e-5, "{found}, expected {expected}");
        }
        let rms_v = left * found[1].hypot(found[2]) / 2.0_f64.sqrt();
        assert!((rms_v - 24.000_013_627_518).abs() < 1e-6, "{rms_v}");
        // Of the frequency known to be 60 Hz: the three-parameter fit.
        let found = fit(&samples, &[60.0]).expect("enough").coefficients;
        let left = left_by_aperture(60.0);
        let expected = [0.032_572_67, 15.709_850_24, 30.092_866_49];
        for (found, expected) in [found[0], found[1] * left, found[2] * left].iter().zip(expected) {
            assert!((found - expected).abs() < 1e-7, "{found}, expected {expected}");
        }
    }

    /// A published example of a metrology toolbox: 2 V of 100 Hz, phase 1 rad, beside 0.2 V, 10 kHz, a second.
    #[test]
    fn a_toolboxs_example() {
        let samples: Vec<Sample> = (0..10_000)
            .map(|n| {
                let seconds = f64::from(n) / 1e4;
                let volts = 2.0 * (std::f64::consts::TAU * 100.0 * seconds + 1.0).sin() + 0.2;
                Sample { seconds, volts, noise_v: 1e-3 }
            })
            .collect();
        let found = fit(&samples, &[100.0]).expect("enough").coefficients;
        let (cosine, sine) =
            (found[1] * left_by_aperture(100.0), found[2] * left_by_aperture(100.0));
        assert!((cosine.hypot(sine) - 2.0).abs() < 1e-12 && (found[0] - 0.2).abs() < 1e-12);
        assert!((cosine.atan2(sine) - 1.0).abs() < 1e-12);
    }
}
