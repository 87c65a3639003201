//! The mean of repeated readings, with the noise that the converter must be expected to have.

use runproof_protocol::{Drive, Phase, Post, Range, Step};

use crate::capture::{Capture, Channel, Node, Reading};
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

/// Those of one phase with the pulls off and the relays closed: all that means are taken of.
pub(crate) struct Readings<'a>(Vec<&'a Reading>);

impl<'a> Readings<'a> {
    pub(crate) fn of(capture: &'a Capture, phase: Phase) -> Self {
        let of_phase = capture.readings(phase);
        let closed = of_phase.filter(|reading| {
            reading.pulls == [Drive::Off; 2] && reading.relays_closed && reading.volts.is_finite()
        });
        Self(closed.collect())
    }
}

/// What one channel read under one pattern.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Mean {
    pub(crate) volts: f64,
    /// The widest range of its readings.
    pub(crate) range: Range,
    /// Variance of the mean.
    pub(crate) variance_v2: f64,
    /// From the least to the most of its repeats.
    pub(crate) spread_v: f64,
    /// They differ by no more than noise does.
    pub(crate) steady: bool,
}

impl Mean {
    /// The mean of all readings of this channel with the posts driven so.
    pub(crate) fn of(
        readings: &Readings,
        step: Step,
        drives: [Drive; 4],
        channel: Channel,
    ) -> Result<Self, Obstacle> {
        let (mut count, mut sum, mut variance_sum) = (0.0, 0.0, 0.0);
        let (mut least, mut most, mut range) = (f64::INFINITY, f64::NEG_INFINITY, Range::V0);
        let readings = readings.0.iter().filter(|reading| {
            reading.step == step && reading.drives == drives && reading.channel == channel
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
            spread_v: most - least,
            steady: most - least <= SPREAD_MAX_SIGMAS * (2.0 * variance_v2(range)).sqrt(),
        })
    }

    /// Of a post's own voltage against ground.
    pub(crate) fn single(
        readings: &Readings,
        step: Step,
        drives: [Drive; 4],
        node: Node,
        post: Post,
    ) -> Result<Self, Obstacle> {
        Self::of(readings, step, drives, Channel { node, post, against: None })
    }
}

fn posts(channel: Channel) -> Vec<Post> {
    [Some(channel.post), channel.against].into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use runproof_protocol::Microseconds;

    use super::*;
    use crate::capture::{Head, JigConstants, Plug, Reading};
    use crate::published::{MICHELSO, MICHELSO_MEAN, num_acc_3};

    const CHANNEL: Channel = Channel { node: Node::Sense, post: Post::P1, against: None };
    const DRIVES: [Drive; 4] = [Drive::High, Drive::Low, Drive::Off, Drive::Off];

    fn mean_of(volts: &[f64]) -> Mean {
        let jig = JigConstants {
            serial: String::new(),
            board: String::new(),
            firmware: String::new(),
            series_ohm: [330.0; 4],
            series_tolerance: 0.01,
            sense_ohm: 3_200.0,
            pull_ohm: 1e5,
            divider_ohm: 4.5e6,
            supply_load_ohm: None,
        };
        let plug =
            Plug { id: String::new(), ring_ohm: [33.2, 47.5, 68.1, 150.0], tolerance: 0.001 };
        let mut capture =
            Capture::new(Head { made_by: String::new(), taken_unix_s: None, jig, plug });
        for volts in volts {
            capture.push(Reading {
                phase: Phase::Plug,
                step: Step::Pairs,
                pattern: 0,
                drives: DRIVES,
                pulls: [Drive::Off; 2],
                relays_closed: true,
                channel: CHANNEL,
                range: Range::V1,
                volts: *volts,
                saturated: false,
                at: Microseconds(0),
            });
        }
        let mean = Mean::of(&Readings::of(&capture, Phase::Plug), Step::Pairs, DRIVES, CHANNEL);
        mean.unwrap_or_else(|obstacle| panic!("{obstacle:?}"))
    }

    /// NIST StRD, Michelso and NumAcc3: the certified means.
    #[test]
    fn the_certified_means_of_nist() {
        let michelso = mean_of(&MICHELSO.map(|beyond| 299.0 + f64::from(beyond) / 100.0));
        assert!((michelso.volts / MICHELSO_MEAN - 1.0).abs() < 1e-14, "{}", michelso.volts);
        let num_acc_3 = mean_of(&num_acc_3());
        assert!((num_acc_3.volts / 1_000_000.2 - 1.0).abs() < 1e-13, "{}", num_acc_3.volts);
    }

    /// A mean of n has 1/n of the variance of one (JCGM 100:2008, 4.2.3).
    #[test]
    fn a_hundred_readings_have_a_hundredth_of_the_variance() {
        let one = mean_of(&[0.5]);
        assert!((one.variance_v2 / variance_v2(Range::V1) - 1.0).abs() < 1e-14);
        let hundred = mean_of(&[0.5; 100]);
        assert!((100.0 * hundred.variance_v2 / one.variance_v2 - 1.0).abs() < 1e-14);
    }
}
