//! What the live divider read before anything was driven: is there voltage on the run?

mod hum;
mod together;

pub(crate) use hum::{Hum, hum};

use runproof_protocol::{DIVIDER_FOOT, Drive, HAZARD, Phase, Post, Step};
pub(crate) use together::{TOGETHER_V, together_v};

use crate::capture::{Capture, Node, Reading};
use crate::judgement::{Cause, FindingKind, Unit};
use crate::obstacle::Obstacle;

/// Less than this between two posts may be the divider and its converter: 3 steps of offset and as much
/// noise are 40 mV at the posts. [judgement]
const FOREIGN_V: f64 = 0.5;

/// The differences that are read; the two others are at most the sum of their ways over post 4.
const DIFFERENCES: [(Post, Post); 4] =
    [(Post::P1, Post::P2), (Post::P3, Post::P4), (Post::P1, Post::P4), (Post::P2, Post::P4)];

/// The largest voltages between any two posts before a phase was driven.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Seen {
    /// By the high-impedance divider alone.
    pub(crate) alone_v: f64,
    /// Under the load.
    pub(crate) loaded_v: f64,
}

/// Whether the run was looked at, alone and under the load, before the phase drove it.
pub(crate) fn looked(capture: &Capture, phase: Phase) -> bool {
    let driven = |reading: &&Reading| reading.relays_closed || reading.drives != [Drive::Off; 4];
    let first_driven = capture.readings(phase).find(driven).map(|reading| reading.pattern);
    [Step::Live, Step::LiveLoaded].into_iter().all(|step| {
        DIFFERENCES.into_iter().all(|difference| {
            let mut readings = looks(capture, phase, step, difference);
            readings.any(|reading| first_driven.is_none_or(|first| reading.pattern < first))
        })
    })
}

/// No reading shows voltage under the load, and none is beyond its range; what only couples in is
/// returned.
pub(crate) fn check(capture: &Capture, phase: Phase) -> Result<Seen, Obstacle> {
    let seen = Seen {
        alone_v: largest_v(capture, phase, Step::Live),
        loaded_v: largest_v(capture, phase, Step::LiveLoaded),
    };
    let live = |reading: &&Reading| matches!(reading.step, Step::Live | Step::LiveLoaded);
    let beyond = capture.readings(phase).filter(live).any(is_beyond_range);
    if beyond || !(seen.loaded_v <= HAZARD.0 as f64 / 1e6) {
        let largest_v = if beyond { seen.alone_v.max(seen.loaded_v) } else { seen.loaded_v };
        return Err(Obstacle::new(FindingKind::Hazard).value(largest_v, Unit::Volt));
    }
    if seen.loaded_v > FOREIGN_V {
        let foreign = Obstacle::new(FindingKind::ForeignVoltage);
        return Err(foreign.value(seen.loaded_v, Unit::Volt));
    }
    Ok(seen)
}

/// A phase that nobody looked before proves nothing good.
pub(crate) fn check_looked(capture: &Capture, phase: Phase) -> Result<(), Obstacle> {
    if looked(capture, phase) { Ok(()) } else { Err(Obstacle::incomplete(Cause::NotLooked)) }
}

fn is_beyond_range(reading: &Reading) -> bool {
    let step_v = reading.range.full_scale_volts() / 32_768.0;
    reading.saturated || !(reading.volts.abs() < reading.range.full_scale_volts() - 1.5 * step_v)
}

fn largest_v(capture: &Capture, phase: Phase, step: Step) -> f64 {
    let ratio = capture.head.jig.divider_ohm / DIVIDER_FOOT.ohms();
    let [one_two, to_3, to_1, to_2] = DIFFERENCES.map(|difference| {
        let posts_v = looks(capture, phase, step, difference).map(|one| one.volts.abs() * ratio);
        posts_v.fold(0.0, f64::max)
    });
    one_two.max(to_1 + to_3).max(to_2 + to_3)
}

fn looks(
    capture: &Capture,
    phase: Phase,
    step: Step,
    (post, against): (Post, Post),
) -> impl Iterator<Item = &Reading> {
    capture.readings(phase).filter(move |reading| {
        reading.step == step
            && reading.channel.node == Node::Live
            && (reading.channel.post, reading.channel.against) == (post, Some(against))
            && reading.drives == [Drive::Off; 4]
            && reading.pulls == [Drive::Off; 2]
            && !reading.relays_closed
    })
}
