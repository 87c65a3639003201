//! What the readings of a phase add up to, in whole microvolts and milliohms: for thresholds only.

use runproof_protocol::{Converter, Drive, Event, Input, Pattern, Post, Reading, Step};

use crate::identity::{PULL, SENSE, SERIES};

/// Repeats that differ by more are not still: hum, or a hand on the wire. [judgement]
const STILL_MICROVOLTS: i32 = 3_000;

/// More than this is no path: converters differ, and their inputs draw a little, so that an open pair looks
/// like 50 kΩ. What leaks more is seen by leakage. [judgement]
const PATH_MAX_MILLIOHMS: i32 = 20_000_000;

/// What the pulls take from a sense node behind its resistors, in parts per thousand of what is left.
const LOST_PER_MILLE: i32 = (1_000 * SENSE.0 / PULL.0) as i32;

const SERIES_MILLIOHMS: i32 = SERIES.0 as i32;

/// The posts meet as through the end plug's ring and two conductors of some length. [judgement]
const AS_THROUGH_THE_PLUG_MILLIOHMS: core::ops::RangeInclusive<i32> = 15_000..=500_000;

/// Of a pair of posts driven against each other; the polarities are taken together, so that what does not
/// change with them counts for nothing.
#[derive(Clone, Copy, Debug, Default)]
struct Pair {
    /// Posts 1–3 against post 4, and post 4 against ground.
    against_4: [i32; 3],
    post_4: i32,
    /// The drive nodes of the pair's first and second post.
    driven: [i32; 2],
    /// How many patterns there were, and what the last one's differences were.
    patterns: i32,
    last: [i32; 3],
}

/// Sums of one phase.
#[derive(Clone, Debug)]
pub struct Seen {
    step: Step,
    pairs: [Pair; 6],
    /// Sense nodes with nothing driven, and with each post driven high.
    leakage: [[i32; 4]; 5],
    still: bool,
}

impl Seen {
    /// Nothing seen yet; resistances come from patterns of this step.
    #[must_use]
    pub fn of(step: Step) -> Self {
        let pairs = [Pair::default(); 6];
        Self { step, pairs, leakage: [[0; 4]; 5], still: true }
    }

    /// Adds what an event brings.
    pub fn see(&mut self, event: &Event) {
        let Event::Pattern(pattern) = event else { return };
        if pattern.step == Step::Leakage && pattern.relays_closed {
            self.see_leakage(pattern);
        }
        if pattern.step != self.step {
            return;
        }
        for (place, (first, second)) in Post::PAIRS.into_iter().enumerate() {
            let sign = match (pattern.drives[first.index()], pattern.drives[second.index()]) {
                (Drive::High, Drive::Low) => 1,
                (Drive::Low, Drive::High) => -1,
                _ => continue,
            };
            self.see_pair(place, sign, pattern);
        }
    }

    fn see_pair(&mut self, place: usize, sign: i32, pattern: &Pattern) {
        let (first, second) = Post::PAIRS[place];
        let pair = &mut self.pairs[place];
        let mut now = [0; 3];
        for reading in &pattern.readings {
            let volts = sign * microvolts(reading);
            match (reading.channel.converter, reading.channel.input) {
                (Converter::Sense, Input::P1P4) => now[0] = volts,
                (Converter::Sense, Input::P2P4) => now[1] = volts,
                (Converter::Sense, Input::P3P4) => now[2] = volts,
                (Converter::Sense, Input::P4) => pair.post_4 += volts,
                (Converter::Drive, input) if input == Input::single(first) => {
                    pair.driven[0] += volts / 2
                }
                (Converter::Drive, input) if input == Input::single(second) => {
                    pair.driven[1] += volts / 2
                }
                _ => {}
            }
        }
        // The first two are of one polarity, and so are the last two.
        if pair.patterns % 2 == 1 {
            let moved =
                now.iter().zip(pair.last).any(|(now, last)| (now - last).abs() > STILL_MICROVOLTS);
            self.still &= !moved;
        }
        for (sum, now) in pair.against_4.iter_mut().zip(now) {
            *sum += now;
        }
        pair.last = now;
        pair.patterns += 1;
    }

    fn see_leakage(&mut self, pattern: &Pattern) {
        let driven = pattern.drives.iter().position(|drive| *drive == Drive::High);
        let sums = &mut self.leakage[driven.map_or(0, |post| post + 1)];
        for reading in &pattern.readings {
            for post in Post::ALL {
                if reading.channel.input == Input::single(post) {
                    sums[post.index()] += microvolts(reading) / Pattern::READINGS_MAX as i32;
                }
            }
        }
    }

    /// Repeats were alike.
    pub(super) fn is_still(&self) -> bool {
        self.still
    }

    /// By which a post moves when another is driven high, half of the supply away; the largest of both ways.
    pub(super) fn leaks_microvolts(&self, one: Post, other: Post) -> i32 {
        let moved = |driven: Post, post: Post| {
            (self.leakage[driven.index() + 1][post.index()] - self.leakage[0][post.index()]).abs()
        };
        moved(one, other).max(moved(other, one))
    }

    /// Between the posts of a pair; nothing where no current flows.
    pub(super) fn milliohms(&self, pair: usize) -> Option<i32> {
        let (first, second) = Post::PAIRS[pair];
        let Pair { against_4, post_4, driven, .. } = self.pairs[pair];
        // Against ground, with what the pulls took put back: they draw all four to their mean.
        let mean = against_4.iter().sum::<i32>() / 4;
        let at = |post: Post| {
            let from_4 = against_4.get(post.index()).copied().unwrap_or(0);
            from_4 + post_4 + (from_4 - mean) * LOST_PER_MILLE / 1_000
        };
        let across = at(first) - at(second);
        // What comes from the first post, and what goes into the second.
        let current = (driven[0] - at(first) + at(second) - driven[1]) / 2;
        if current <= 0 {
            return None;
        }
        // More would not fit; less than nothing says no more when it is less.
        let times = (across / current).max(-PATH_MAX_MILLIOHMS / SERIES_MILLIOHMS);
        if times > PATH_MAX_MILLIOHMS / SERIES_MILLIOHMS {
            return None;
        }
        let ohms = times * SERIES_MILLIOHMS + part_of_series(across % current, current);
        (ohms < PATH_MAX_MILLIOHMS).then_some(ohms)
    }

    pub(super) fn pairs_as_through_the_plug(&self) -> usize {
        let through = |pair: &usize| {
            self.milliohms(*pair).is_some_and(|one| AS_THROUGH_THE_PLUG_MILLIOHMS.contains(&one))
        };
        (0..6).filter(through).count()
    }
}

/// This part of a series resistor, in milliohms. Bit by bit: to divide 64 bits takes 1 KB of flash.
fn part_of_series(part: i32, of: i32) -> i32 {
    let (mut ohms, mut left) = (0, 0);
    for bit in (0..SERIES_MILLIOHMS.ilog2() + 1).rev() {
        left = 2 * left + part * (SERIES_MILLIOHMS >> bit & 1);
        ohms = 2 * ohms + left / of;
        left %= of;
    }
    ohms
}

fn microvolts(reading: &Reading) -> i32 {
    // Every full scale is a multiple of 2^11 µV.
    (i32::from(reading.code) * (reading.range.full_scale_microvolts() >> 11).cast_signed()) >> 4
}
