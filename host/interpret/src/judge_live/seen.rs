//! All that the live phase showed, before anything is held against a limit.

use runproof_protocol::{Phase, Post, Range, Step};

use super::fit::fit;
use super::front::Front;
use super::look::{self, CHANNELS};
use super::waves::Waves;
use super::whole;
use super::window::{Window, rms};
use crate::capture::Capture;
use crate::judgement::budget::coverage;
use crate::judgement::{LiveCause, LiveZeroStatus, LiveZeroed, Measured};
use crate::live_zero::live_zeroed;

/// What the divider rests at, and how far from it that may be. [judgement]
const MID_V: f64 = 1.65;
const MID_OFF: f64 = 0.05;
/// What is fitted under the load, which is short: no more of the harmonics that are there.
const LOADED_HARMONICS: [u8; 3] = [1, 2, 4];
/// The jig's crystal is anywhere within this, ageing and all. [judgement]
const CRYSTAL: f64 = 30e-6;

/// What was there.
pub(crate) struct Seen {
    pub(crate) whole: Result<(), LiveCause>,
    pub(crate) zero: LiveZeroed,
    /// Differences of which a reading was beyond its range.
    pub(crate) beyond: Vec<(Post, Post)>,
    /// By channel, what stood there at some instant at least, whether its reading was within its range or not.
    pub(crate) at_least_v: [f64; 3],
    /// By channel, whether its wider range was too small as well, so that no fit explains what is there.
    pub(crate) is_clipped: [bool; 3],
    pub(crate) waves: Waves,
    pub(crate) hertz: Option<Measured>,
    pub(crate) alone: Window,
    pub(crate) loaded: Window,
    /// What all posts do together, rms.
    pub(crate) together_v: Option<Measured>,
}

impl Seen {
    pub(crate) fn of(capture: &Capture) -> Self {
        let zero = live_zeroed(capture);
        let used = matches!(zero.status, LiveZeroStatus::Fresh | LiveZeroStatus::Stale);
        let trusted = zero.status == LiveZeroStatus::Fresh;
        let front = Front::of(capture, capture.live_zero().copied().filter(|_| used), trusted);
        let begin_us = capture.readings(Phase::Live).map(|one| one.at.0).min().unwrap_or(0);
        let samples = front.samples(capture, Step::Live, begin_us);
        let under = front.samples(capture, Step::LiveLoaded, begin_us);
        let waves = Waves::of(&samples);
        let mut fewer = waves.clone();
        fewer.harmonics.retain(|harmonic| LOADED_HARMONICS.contains(harmonic));
        let mut alone = Window::of(capture, &front, Step::Live, samples, &waves);
        let mut loaded = Window::of(capture, &front, Step::LiveLoaded, under, &fewer);
        let mut together_v = None;
        if let Some((together, apart_v, u)) = together(capture, &front, &loaded, begin_us) {
            together_v = Some(Measured { value: rms(&together[1..]), u });
            alone.stand(&moved(&together, &loaded.frequencies, &alone.frequencies), apart_v);
            loaded.stand(&together, apart_v);
        }
        if waves.hertz.is_none() {
            together_v = of_mains(capture, &front, begin_us);
        }
        let hertz = waves.hertz.map(|value| {
            let u = coverage::half_width(CRYSTAL * value, waves.u_hertz);
            Measured { value, u }
        });
        Self {
            whole: whole::check(capture),
            zero,
            beyond: beyond(capture),
            at_least_v: at_least_v(capture),
            is_clipped: is_clipped(capture),
            waves,
            hertz,
            alone,
            loaded,
            together_v,
        }
    }
}

/// What all posts do together against the mid voltage, how far from it they may be direct, and how well it is known.
fn together(
    capture: &Capture,
    front: &Front,
    loaded: &Window,
    begin_us: u64,
) -> Option<(Vec<f64>, f64, f64)> {
    let post_4 = fit(&front.alone(capture, Step::LiveLoaded, begin_us), &loaded.frequencies)?;
    if loaded.fits.iter().any(Option::is_none) {
        return None;
    }
    let mut together: Vec<f64> = post_4
        .coefficients
        .iter()
        .zip(&loaded.posts[Post::P4.index()])
        .map(|(read, of_itself)| read - of_itself)
        .collect();
    let off_v = (together[0] - MID_V * front.ratio).abs();
    let apart_v = (off_v - MID_OFF * MID_V * front.ratio).max(0.0);
    together[0] = 0.0;
    let noise: f64 = (1..together.len()).map(|n| post_4.covariance[(n, n)]).sum();
    let u = 2.0 * (noise / 2.0).sqrt() + PART * rms(&post_4.coefficients[1..]);
    Some((together, apart_v, u))
}

/// Where nothing alternates between the posts: what all of them do together at the mains' frequency, 50 or 60 Hz,
/// whichever explains more.
fn of_mains(capture: &Capture, front: &Front, begin_us: u64) -> Option<Measured> {
    let samples = front.alone(capture, Step::LiveLoaded, begin_us);
    let found = MAINS_HERTZ.iter().filter_map(|hertz| {
        let fitted = fit(&samples, &[*hertz])?;
        let noise = fitted.covariance[(1, 1)] + fitted.covariance[(2, 2)];
        let value = rms(&fitted.coefficients[1..]);
        Some(Measured { value, u: 2.0 * (noise / 2.0).sqrt() + BESIDE * value })
    });
    found.max_by(|a, b| a.value.total_cmp(&b.value))
}

const MAINS_HERTZ: [f64; 2] = [50.0, 60.0];
/// A mains that is half a hertz off loses so much of itself in a tenth of a second, divider and all. [judgement]
const BESIDE: f64 = 0.02;

/// Divider, converter, its load and its conversion's length together, of what post 4 reads alone. [judgement]
const PART: f64 = 4e-3;

/// The same waves, as another window lists them.
pub(super) fn moved(parts: &[f64], from: &[f64], to: &[f64]) -> Vec<f64> {
    let mut moved = vec![0.0; 1 + 2 * to.len()];
    for (n, hertz) in to.iter().enumerate() {
        if let Some(m) = from.iter().position(|other| other == hertz) {
            moved[1 + 2 * n] = parts[1 + 2 * m];
            moved[2 + 2 * n] = parts[2 + 2 * m];
        }
    }
    moved
}

/// So much of what a reading says is there at least: divider and converter. [judgement]
const SURELY: f64 = 0.99;

fn at_least_v(capture: &Capture) -> [f64; 3] {
    let mut most_v = [0.0_f64; 3];
    let steps = [Step::Live, Step::LiveLoaded];
    let readings = steps.into_iter().flat_map(|step| look::readings(capture, step));
    for reading in readings.filter(|one| one.volts.is_finite()) {
        let Some(channel) = look::channel_of(reading.channel) else { continue };
        let volts = reading.volts.abs().min(reading.range.full_scale_volts());
        most_v[channel] = most_v[channel].max(SURELY * look::ratio(capture) * volts);
    }
    most_v
}

fn is_clipped(capture: &Capture) -> [bool; 3] {
    let mut clipped = [false; 3];
    let steps = [Step::Live, Step::LiveLoaded];
    let readings = steps.into_iter().flat_map(|step| look::readings(capture, step));
    let wide = readings.filter(|one| one.range != Range::V0 && look::is_beyond_range(one));
    for channel in wide.filter_map(|one| look::channel_of(one.channel)) {
        clipped[channel] = true;
    }
    clipped
}

/// Which differences were beyond a range; of post 4 alone, all that it is part of.
fn beyond(capture: &Capture) -> Vec<(Post, Post)> {
    let steps = [Step::Live, Step::LiveLoaded];
    let readings = steps.into_iter().flat_map(|step| look::readings(capture, step));
    let beyond: Vec<_> = readings.filter(|one| look::is_beyond_range(one)).collect();
    let is = |posts: &(Post, Post)| {
        beyond.iter().any(|one| (one.channel.post, one.channel.against) == (posts.0, Some(posts.1)))
    };
    let mut found: Vec<_> = CHANNELS.into_iter().filter(is).collect();
    let others = beyond.iter().filter(|one| look::channel_of(one.channel).is_none());
    for one in others {
        let posts = (one.channel.post, one.channel.against.unwrap_or(one.channel.post));
        if !found.contains(&posts) {
            found.push(posts);
        }
    }
    found
}
