//! From readings of the live divider to voltages at the posts: by its nominal parts, or by a live zero.

use runproof_protocol::{Post, Range, Step};

use super::fit::Sample;
use super::look;
use crate::capture::{Capture, LiveZero, Reading};

/// What a live zero has looks of: channel and range.
pub(crate) const LOOKS: [(usize, Range); 4] =
    [(0, Range::V0), (0, Range::V2), (1, Range::V2), (2, Range::V2)];

/// The front end, as far as it is known.
#[derive(Clone, Debug)]
pub(crate) struct Front {
    /// Volts at the posts for a volt at the converter.
    pub(crate) ratio: f64,
    divider_ohm: f64,
    /// Corrects by it.
    pub(crate) zero: Option<LiveZero>,
    /// And trusts it.
    pub(crate) trusts_zero: bool,
}

impl Front {
    pub(crate) fn of(capture: &Capture, zero: Option<LiveZero>, trusts_zero: bool) -> Self {
        let divider_ohm = capture.head.jig.divider_ohm;
        Self { ratio: look::ratio(capture), divider_ohm, zero, trusts_zero }
    }

    /// Which look of the zero tells of it.
    pub(crate) fn look_of(channel: usize, range: Range) -> Option<usize> {
        LOOKS.into_iter().position(|look| look == (channel, range))
    }

    /// The part of a difference that the input's load takes.
    pub(crate) fn taken_by_load(&self, range: Range) -> f64 {
        1.0 - look::left_by_load(range, self.divider_ohm)
    }

    /// The readings of a step as voltages at the posts, by channel; what is beyond its range is left out.
    pub(crate) fn samples(&self, capture: &Capture, step: Step, begin_us: u64) -> [Vec<Sample>; 3] {
        let mut channels = [const { Vec::new() }; 3];
        for reading in look::readings(capture, step).filter(|one| !look::is_beyond_range(one)) {
            if let Some(channel) = look::channel_of(reading.channel) {
                channels[channel].push(self.sample(reading, channel, begin_us));
            }
        }
        channels
    }

    /// Post 4 alone against the jig's ground, as so many volts at the post.
    pub(crate) fn alone(&self, capture: &Capture, step: Step, begin_us: u64) -> Vec<Sample> {
        let readings = look::readings(capture, step).filter(|one| !look::is_beyond_range(one));
        let post_4 =
            readings.filter(|one| (one.channel.post, one.channel.against) == (Post::P4, None));
        let sample = |reading: &Reading| {
            let left = look::left_by_ground(reading.range, self.divider_ohm);
            let volts = self.ratio / left;
            Sample {
                seconds: look::middle_s(reading, begin_us),
                volts: reading.volts * volts,
                noise_v: look::noise_v(reading.range) * volts,
            }
        };
        post_4.map(sample).collect()
    }

    /// The range that most of a channel's readings are on: of its offset and load.
    pub(crate) fn range_of(capture: &Capture, step: Step, channel: usize) -> Range {
        let on = |range: Range| {
            let readings = look::readings(capture, step).filter(|one| !look::is_beyond_range(one));
            readings
                .filter(|one| look::channel_of(one.channel) == Some(channel) && one.range == range)
                .count()
        };
        Range::ALL.into_iter().max_by_key(|range| on(*range)).unwrap_or(Range::V2)
    }

    fn sample(&self, reading: &Reading, channel: usize, begin_us: u64) -> Sample {
        let zero = self.zero.as_ref().zip(Self::look_of(channel, reading.range));
        let (gain, offset_v) = match zero {
            Some((zero, look)) => (zero.gain[look], zero.offset_v[look]),
            None => (look::left_by_load(reading.range, self.divider_ohm), 0.0),
        };
        let volts = self.ratio / gain;
        Sample {
            seconds: look::middle_s(reading, begin_us),
            volts: (reading.volts - offset_v) * volts,
            noise_v: look::noise_v(reading.range) * volts,
        }
    }
}

/// What post `i` is against post 4, in channels.
const AGAINST_4: [[f64; 3]; 4] = [[0.0, 0.0, 1.0], [-1.0, 0.0, 1.0], [0.0, 1.0, 0.0], [0.0; 3]];

/// Which channels make the difference of two posts.
pub(crate) fn made_of((i, j): (Post, Post)) -> [f64; 3] {
    let [i, j] = [i, j].map(|post| AGAINST_4[post.index()]);
    [0, 1, 2].map(|channel| i[channel] - j[channel])
}
