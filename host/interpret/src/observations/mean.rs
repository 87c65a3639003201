//! The mean of repeated readings, with the noise that the converter must be expected to have.

use runproof_protocol::{Drive, Phase, Post, Range, Step};

use crate::capture::{Capture, Channel, Node};
use crate::judgement::Cause;
use crate::obstacle::Obstacle;

/// Noise of the ADS1115 at 860 SPS, peak to peak (TI SBAS444E, table 6-1).
const fn noise_peak_to_peak_v(range: Range) -> f64 {
    match range {
        Range::V4 => 266.93e-6,
        Range::V2 => 118.63e-6,
        Range::V1 => 64.26e-6,
        Range::V0 => 35.83e-6,
    }
}

/// A normal distribution's peak to peak is taken as so many standard deviations: all but 0.1 %.
const PEAK_TO_PEAK_SIGMAS: f64 = 6.6;

/// Variance of one reading: noise, and the step of the code (rectangular, JCGM 100:2008, 4.3.7).
pub(crate) fn variance_v2(range: Range) -> f64 {
    let noise_v = noise_peak_to_peak_v(range) / PEAK_TO_PEAK_SIGMAS;
    let step_v = range.full_scale_volts() / 32_768.0;
    noise_v.powi(2) + step_v.powi(2) / 12.0
}

/// Repeats on ±1.024 V that differ by more are not the converter's noise (ten of its standard
/// deviations) but hum or something that changes; on the other ranges in the ratio of their noise.
const SPREAD_MAX_SIGMAS: f64 = 0.2e-3 / 18.7e-6;

/// What one channel read under one pattern.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Mean {
    pub(crate) volts: f64,
    /// The widest range of its readings.
    pub(crate) range: Range,
    /// Variance of the mean.
    pub(crate) variance_v2: f64,
    /// Its repeats differ by no more than noise does.
    pub(crate) steady: bool,
}

impl Mean {
    /// The mean of all readings of this channel with the posts driven so, the pulls off and the
    /// relays closed.
    pub(crate) fn of(
        capture: &Capture,
        phase: Phase,
        step: Step,
        drives: [Drive; 4],
        channel: Channel,
    ) -> Result<Self, Obstacle> {
        let (mut count, mut sum, mut variance_sum) = (0.0, 0.0, 0.0);
        let (mut least, mut most, mut range) = (f64::INFINITY, f64::NEG_INFINITY, Range::V0);
        let readings = capture.readings(phase).filter(|reading| {
            reading.step == step
                && reading.drives == drives
                && reading.channel == channel
                && reading.pulls == [Drive::Off; 2]
                && reading.relays_closed
                && reading.volts.is_finite()
        });
        for reading in readings {
            if reading.saturated {
                return Err(Obstacle::incomplete(Cause::Saturated).posts(posts(channel)));
            }
            let variance = variance_v2(reading.range);
            count += 1.0;
            sum += reading.volts;
            variance_sum += variance;
            least = least.min(reading.volts);
            most = most.max(reading.volts);
            if reading.range.full_scale_volts() > range.full_scale_volts() {
                range = reading.range;
            }
        }
        if count == 0.0 {
            return Err(Obstacle::incomplete(Cause::ReadingsMissing).posts(posts(channel)));
        }
        Ok(Self {
            volts: sum / count,
            range,
            variance_v2: variance_sum / (count * count),
            steady: most - least <= SPREAD_MAX_SIGMAS * (2.0 * variance_v2(range)).sqrt(),
        })
    }

    /// Of a post's own voltage against ground.
    pub(crate) fn single(
        capture: &Capture,
        phase: Phase,
        step: Step,
        drives: [Drive; 4],
        node: Node,
        post: Post,
    ) -> Result<Self, Obstacle> {
        Self::of(capture, phase, step, drives, Channel { node, post, against: None })
    }
}

fn posts(channel: Channel) -> Vec<Post> {
    [Some(channel.post), channel.against].into_iter().flatten().collect()
}
