//! How well a number of a live run is known: by its causes (JCGM 100:2008, 5.1), the largest rectangle kept as one.

use std::f64::consts::PI;

use runproof_protocol::{Post, Range};

use super::fit::dot;
use super::front::{Front, made_of};
use super::look::{CHANNELS, CONVERSION_S, step_v};
use super::window::Window;
use crate::judgement::budget::coverage;

/// A divider's ratio is anywhere within this (parts of 0.1 %).
const DIVIDER: f64 = 1e-3;
/// A converter's gain, standard deviation: 0.01 % typical, 0.15 % at most (SBAS444E); [judgement] between.
const GAIN: f64 = 3e-4;
/// Its ranges against each other: 0.02 % typical.
const MATCH: f64 = 2e-4;
/// Its offset, in steps (the same).
const OFFSET_STEPS: f64 = 3.0;
/// The input's load is anywhere within this of its typical value: the data sheet has no limits. [judgement]
const LOAD: f64 = 0.1;
/// A conversion's length (the same): ±10 %.
const LENGTH: f64 = 0.1;
/// What a live zero's gain drifts until the next one. [judgement]
const DRIFT: f64 = 1e-4;
/// What the step of the code can leave in a mean of readings on ±2.048 V, whose noise is less than a third of it, in
/// steps: e^(−2π²σ²)/π.
const STEP_LEFT: f64 = 0.06;

/// Variances of the parts, by noise alone.
pub(super) fn noise(window: &Window, posts: (Post, Post)) -> Vec<f64> {
    let count = 1 + 2 * window.frequencies.len();
    let mut sum = vec![0.0; count];
    for (channel, share) in made_of(posts).into_iter().enumerate() {
        let Some(fit) = window.fits[channel].as_ref().filter(|_| share != 0.0) else { continue };
        for (n, sum) in sum.iter_mut().enumerate() {
            *sum += share * share * fit.covariance[(n, n)];
        }
    }
    sum
}

/// Half of the interval that holds with 95 % what changes by `along` with the parts of the difference.
pub(super) fn expanded(window: &Window, posts: (Post, Post), along: &[f64]) -> f64 {
    let mut causes = Causes::default();
    let shares = made_of(posts);
    let value = window.between(posts).map_or(f64::INFINITY, |parts| dot(&parts, along));
    for (channel, share) in shares.into_iter().enumerate().filter(|(_, share)| *share != 0.0) {
        causes.channel(window, channel, share, along);
    }
    let trusted = window.front.zero.filter(|_| window.front.trusts_zero);
    match trusted {
        // The zero's own voltages were read by another converter.
        Some(_) => {
            causes.normal(GAIN.hypot(MATCH) * value);
            causes.anywhere(DRIFT * value);
        }
        None => {
            causes.normal(GAIN * value);
            for post in [posts.0, posts.1] {
                let seen = dot(&window.posts[post.index()], along).abs();
                causes.anywhere(DIVIDER * (seen + along[0].abs() * window.apart_v));
            }
            for range in Range::ALL {
                let on_range = |(channel, share): (usize, f64)| {
                    let read = window.channel(channel).filter(|_| window.ranges[channel] == range);
                    read.map_or(0.0, |read| share * dot(read, along))
                };
                let read: f64 = shares.into_iter().enumerate().map(on_range).sum();
                causes.normal(MATCH * read);
                causes.anywhere(LOAD * window.front.taken_by_load(range) * read);
            }
        }
    }
    if let Some(parts) = window.between(posts) {
        let by_length = window.frequencies.iter().enumerate().map(|(n, hertz)| {
            let x = PI * hertz * CONVERSION_S;
            let read = parts[1 + 2 * n] * along[1 + 2 * n] + parts[2 + 2 * n] * along[2 + 2 * n];
            LENGTH * (1.0 - x / x.tan()) * read
        });
        causes.anywhere(by_length.sum());
    }
    causes.expanded()
}

/// Variance of what is normal, and half widths of what may be anywhere.
#[derive(Default)]
struct Causes {
    variance: f64,
    few: f64,
    anywhere: Vec<f64>,
}

impl Causes {
    fn normal(&mut self, deviation: f64) {
        self.variance += deviation * deviation;
    }

    fn anywhere(&mut self, half_width: f64) {
        self.anywhere.push(half_width.abs());
    }

    /// What one channel brings with it: noise, offset, and its zero.
    fn channel(&mut self, window: &Window, channel: usize, share: f64, along: &[f64]) {
        let Some(fit) = window.fits[channel].as_ref() else {
            self.variance = f64::INFINITY;
            return;
        };
        let noise = fit.variance_along(along);
        let student = coverage::student(fit.free as f64) / coverage::NORMAL;
        self.few += share * share * noise * student * student;
        let range = window.ranges[channel];
        let (ratio, direct) = (window.front.ratio, (share * along[0]).abs());
        if range != Range::V0 {
            self.normal(STEP_LEFT * step_v(range) * ratio * direct / 2.0_f64.sqrt());
        }
        let look = Front::look_of(channel, range);
        let trusted = window.front.zero.filter(|_| window.front.trusts_zero).zip(look);
        let Some((zero, look)) = trusted else {
            let gain = 1.0 - window.front.taken_by_load(range);
            self.anywhere(OFFSET_STEPS * step_v(range) * ratio / gain * direct);
            return;
        };
        let read = window.channel(channel).map_or(0.0, |read| dot(read, along));
        let (i, j) = CHANNELS[channel];
        let [i, j] = [i, j].map(|post| dot(&window.posts[post.index()], along));
        self.normal(zero.u_offset_v[look] * ratio * direct);
        self.normal(share * zero.u_gain[look] * read);
        self.normal(share * zero.u_common[look] * f64::midpoint(i, j));
        self.anywhere(zero.common[look] * window.apart_v * direct);
    }

    fn expanded(mut self) -> f64 {
        self.anywhere.sort_by(f64::total_cmp);
        let largest = self.anywhere.pop().unwrap_or(0.0);
        let others: f64 = self.anywhere.iter().map(|half| half * half / 3.0).sum();
        coverage::half_width(largest, (self.variance + self.few + others).sqrt())
    }
}
