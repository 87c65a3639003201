//! One step of the live phase, explained: what is between any two posts.

use std::f64::consts::SQRT_2;

use runproof_protocol::{Post, Range, Step};

use super::fit::{Fitted, Sample, fit};
use super::front::{Front, made_of};
use super::look::CHANNELS;
use super::waves::Waves;
use crate::capture::Capture;

/// A step of the live phase.
#[derive(Clone, Debug)]
pub(crate) struct Window {
    pub(crate) front: Front,
    pub(crate) frequencies: Vec<f64>,
    pub(crate) samples: [Vec<Sample>; 3],
    pub(crate) fits: [Option<Fitted>; 3],
    pub(crate) ranges: [Range; 3],
    /// Each channel's constant and waves, corrected by what both posts have in common.
    channels: [Option<Vec<f64>>; 3],
    /// Each post against the mid voltage.
    pub(crate) posts: [Vec<f64>; 4],
    /// What the mean of all posts may be against the mid voltage beside, in volts, direct.
    pub(crate) apart_v: f64,
}

impl Window {
    pub(crate) fn of(
        capture: &Capture,
        front: &Front,
        step: Step,
        samples: [Vec<Sample>; 3],
        waves: &Waves,
    ) -> Self {
        let frequencies = waves.frequencies();
        let fits = samples.each_ref().map(|samples| fit(samples, &frequencies));
        let channels = fits.each_ref().map(|fit| Some(fit.as_ref()?.coefficients.clone()));
        let mut window = Self {
            front: front.clone(),
            samples,
            fits,
            ranges: [0, 1, 2].map(|channel| Front::range_of(capture, step, channel)),
            channels,
            posts: [(); 4].map(|()| vec![0.0; 1 + 2 * frequencies.len()]),
            apart_v: 0.0,
            frequencies,
        };
        window.stand(&vec![0.0; window.posts[0].len()], 0.0);
        window
    }

    /// All posts move `together` against the mid voltage, and are direct at most `apart_v` from it.
    pub(crate) fn stand(&mut self, together: &[f64], apart_v: f64) {
        self.apart_v = apart_v;
        self.locate(together);
        let Some(zero) = self.front.zero else { return };
        for (channel, (i, j)) in CHANNELS.into_iter().enumerate() {
            let look = Front::look_of(channel, self.ranges[channel]);
            let (Some(look), Some(fit)) = (look, &self.fits[channel]) else { continue };
            let [i, j] = [i, j].map(|post| &self.posts[post.index()]);
            let common = i.iter().zip(j).map(|(i, j)| zero.common[look] * f64::midpoint(*i, *j));
            let each = fit.coefficients.iter().zip(common).map(|(read, common)| read - common);
            self.channels[channel] = Some(each.collect());
        }
        self.locate(together);
    }

    fn locate(&mut self, together: &[f64]) {
        let against_4 = Post::ALL.map(|post| {
            let nothing = || vec![0.0; together.len()];
            self.between((post, Post::P4)).unwrap_or_else(nothing)
        });
        for n in 0..together.len() {
            let mean = against_4.iter().map(|post| post[n]).sum::<f64>() / 4.0;
            for (post, against) in self.posts.iter_mut().zip(&against_4) {
                post[n] = against[n] - mean + together[n];
            }
        }
    }

    /// Constant and waves of one post against another; none where a channel that it takes is not there.
    pub(crate) fn between(&self, posts: (Post, Post)) -> Option<Vec<f64>> {
        let mut sum = vec![0.0; 1 + 2 * self.frequencies.len()];
        for (channel, share) in made_of(posts).into_iter().enumerate().filter(|(_, k)| *k != 0.0) {
            let read = self.channels[channel].as_ref()?;
            sum.iter_mut().zip(read).for_each(|(sum, read)| *sum += share * read);
        }
        Some(sum)
    }

    /// Of one channel, corrected.
    pub(crate) fn channel(&self, channel: usize) -> Option<&[f64]> {
        self.channels[channel].as_deref()
    }

    /// What the fit leaves between two posts, rms: at most.
    pub(crate) fn left_v(&self, posts: (Post, Post)) -> Option<f64> {
        let made = made_of(posts).into_iter().enumerate().filter(|(_, share)| *share != 0.0);
        let left = made.map(|(channel, _)| Some(self.fits[channel].as_ref()?.left_v));
        left.sum()
    }

    /// What the converters alone would leave, of one channel.
    pub(crate) fn noise_v(&self, channel: usize) -> f64 {
        let samples = &self.samples[channel];
        let squares: f64 = samples.iter().map(|sample| sample.noise_v * sample.noise_v).sum();
        (squares / samples.len().max(1) as f64).sqrt()
    }

    /// What the converters alone would leave between two posts: at most.
    pub(crate) fn converters_noise_v(&self, posts: (Post, Post)) -> f64 {
        let made = made_of(posts).into_iter().enumerate().filter(|(_, share)| *share != 0.0);
        made.map(|(channel, _)| self.noise_v(channel)).sum()
    }

    /// With other readings of one channel in which nothing alternates.
    pub(crate) fn with_quiet(&self, channel: usize, samples: Vec<Sample>) -> Option<Self> {
        let mut quiet = fit(&samples, &[])?;
        let count = 1 + 2 * self.frequencies.len();
        quiet.coefficients.resize(count, 0.0);
        quiet.covariance = quiet.covariance.resize(count, count, 0.0);
        let mut window = self.clone();
        window.channels[channel] = Some(quiet.coefficients.clone());
        window.fits[channel] = Some(quiet);
        window.samples[channel] = samples;
        Some(window)
    }

    /// The most at any instant of a cycle, by the fit.
    pub(crate) fn peak_v(&self, posts: (Post, Post)) -> Option<f64> {
        let between = self.between(posts)?;
        let amplitude = |n: usize| between[1 + 2 * n].hypot(between[2 + 2 * n]);
        let sum: f64 = (0..self.frequencies.len()).map(amplitude).sum();
        let bound = between[0].abs() + sum;
        let Some(first) = self.frequencies.first().filter(|_| sum > 0.0) else {
            return Some(bound);
        };
        if self.frequencies.iter().any(|hertz| !is_multiple(*hertz, *first)) {
            return Some(bound);
        }
        const INSTANTS: u32 = 360;
        let at = |n: u32| {
            let seconds = f64::from(n) / f64::from(INSTANTS) / first;
            let waves = self.frequencies.iter().enumerate().map(|(n, hertz)| {
                let (sine, cosine) = (std::f64::consts::TAU * hertz * seconds).sin_cos();
                between[1 + 2 * n] * cosine + between[2 + 2 * n] * sine
            });
            (between[0] + waves.sum::<f64>()).abs()
        };
        Some((0..INSTANTS).map(at).fold(0.0, f64::max) * 1.000_1)
    }

    /// The amplitude of each wave of one frequency, as a vector: cosine and sine.
    pub(crate) fn wave(&self, posts: (Post, Post), n: usize) -> Option<[f64; 2]> {
        let between = self.between(posts)?;
        Some([*between.get(1 + 2 * n)?, *between.get(2 + 2 * n)?])
    }
}

fn is_multiple(hertz: f64, of: f64) -> bool {
    let times = hertz / of;
    (times - times.round()).abs() < 1e-6
}

/// rms of cosine and sine parts.
pub(crate) fn rms(parts: &[f64]) -> f64 {
    parts.iter().map(|part| part * part).sum::<f64>().sqrt() / SQRT_2
}
