//! A live zero: voltages that the jig puts on its own posts, with nothing clipped on, read by the live divider and by
//! the posts' own converter beside.

use runproof_protocol::{Drive, Phase, Post, Range, Step};

use crate::capture::{Capture, LiveZero, Node, Reading};
use crate::completeness;
use crate::judge_live::front::LOOKS;
use crate::judge_live::look::{self, CHANNELS};
use crate::judgement::{LiveZeroStatus, LiveZeroed};
use crate::observations::across_ohm;

/// A capture that is no live zero.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoLiveZero {
    /// It has no live-zero phase, or not all of it.
    #[error("the live-zero phase is not whole")]
    NotWhole,
    /// The posts do not stand where they were driven, by so many volts: something is clipped on.
    #[error("something is clipped on: posts are {off_v:.3} V from where they were driven")]
    ClippedOn {
        /// How far from it.
        off_v: f64,
    },
    /// There is a voltage that the jig did not put there, so large, at the posts.
    #[error("there is a voltage on the clips, {volts:.2} V")]
    Voltage {
        /// How large: standard deviation, or the most that was read before anything was driven.
        volts: f64,
    },
    /// Gains or offsets are beyond what the parts can have.
    #[error("the live divider reads what its parts cannot: it may be damaged")]
    Implausible,
    /// It was not kept when it was taken.
    #[error("it does not say when it was taken")]
    NoTime,
}

/// Nothing clipped on, two posts driven apart differ by nearly the supply: 3.3 V less what 9 MΩ take. [judgement]
const APART_V: std::ops::RangeInclusive<f64> = 3.1..=3.5;
/// Driven apart they give way by 0.27 %, as the pulls' star takes 16 µA through pin and protection; more than this,
/// and something of less than half a megohm is clipped on. [judgement]
const GIVES_WAY: f64 = 4e-3;
/// Driven alike, they are alike: offset of the converter, and no current. [judgement]
const ALIKE_V: f64 = 2e-3;
/// Before anything is driven nothing is there: offset and noise are 40 mV at the posts. [judgement]
const NOTHING_V: f64 = 0.5;
/// Readings of one drive scatter by no more than so many times the converter's noise. [judgement]
const SCATTER: f64 = 3.0;
/// The supply is 3.3 V: what both posts go through from LLLL to HHHH.
const SUPPLY_V: f64 = 3.3;

/// What the parts allow, beyond which they are damaged: dividers 0.1 % each, converters' gains 0.15 % each, and a
/// tenth of the input's load; 3 steps of offset, doubled. [judgement]
const GAIN_OFF: f64 = 0.006;
const LOAD_OFF: f64 = 0.3;
const COMMON_MAX: f64 = 0.004;
const OFFSET_STEPS: f64 = 6.0;

impl LiveZero {
    /// The live zero that this capture's live-zero phase is.
    pub fn from_capture(capture: &Capture) -> Result<Self, NoLiveZero> {
        completeness::check(capture, Phase::LiveZero).map_err(|_| NoLiveZero::NotWhole)?;
        let before_v = before_v(capture);
        if !(before_v <= NOTHING_V) {
            return Err(NoLiveZero::Voltage { volts: before_v });
        }
        let mut zero = Self {
            gain: [0.0; 4],
            u_gain: [0.0; 4],
            offset_v: [0.0; 4],
            u_offset_v: [0.0; 4],
            common: [0.0; 4],
            u_common: [0.0; 4],
            jig_c: capture.jig_c(),
            taken_unix_s: capture.head.taken_unix_s.ok_or(NoLiveZero::NoTime)?,
        };
        for look in 0..LOOKS.len() {
            zero.look(capture, look)?;
        }
        if zero.plausible(capture) { Ok(zero) } else { Err(NoLiveZero::Implausible) }
    }

    fn look(&mut self, capture: &Capture, look: usize) -> Result<(), NoLiveZero> {
        let (channel, range) = LOOKS[look];
        let (i, j) = CHANNELS[channel];
        let [high, low] = [Drive::High, Drive::Low].map(|drive| [drive; 4]);
        let drives = [high, low, Drive::high_and_low(i, j), Drive::high_and_low(j, i)];
        let read = |node| {
            let means = drives.map(|drives| mean(capture, node, (i, j), range, drives));
            let [a, b, c, d] = means;
            Some([a?, b?, c?, d?])
        };
        let live = read(Node::Live).ok_or(NoLiveZero::NotWhole)?;
        let driven = read(Node::Drive).ok_or(NoLiveZero::NotWhole)?;
        let at_posts = of_drive_nodes(capture, (i, j));
        let [alike_high, alike_low, forward, backward] =
            driven.each_ref().map(|mean| mean.volts * at_posts);
        let off_v = [
            alike_high.abs() - ALIKE_V,
            alike_low.abs() - ALIKE_V,
            APART_V.start() - forward,
            forward - APART_V.end(),
            APART_V.start() + backward,
            -backward - APART_V.end(),
        ];
        let off_v = off_v.into_iter().fold(f64::NEG_INFINITY, f64::max);
        if !(off_v <= 0.0) {
            return Err(NoLiveZero::ClippedOn { off_v });
        }
        let ratio = look::ratio(capture);
        for (mean, range) in
            live.iter().map(|m| (m, range)).chain(driven.iter().map(|m| (m, Range::V4)))
        {
            if !(mean.scatter_v <= SCATTER * look::noise_v(range)) {
                let at_posts = if range == Range::V4 { 1.0 } else { ratio };
                return Err(NoLiveZero::Voltage { volts: mean.scatter_v * at_posts });
            }
        }
        let apart_v = forward - backward;
        let under_v = (driven[2].volts - driven[3].volts) / 2.0;
        let gives_way = 1.0 - under_v / alone_v(capture, (i, j)).ok_or(NoLiveZero::NotWhole)?;
        if !(gives_way <= GIVES_WAY) {
            return Err(NoLiveZero::ClippedOn { off_v: gives_way * under_v });
        }
        self.gain[look] = (live[2].volts - live[3].volts) * ratio / apart_v;
        let of_live = live[2].u_v.hypot(live[3].u_v) * ratio;
        let of_drive = driven[2].u_v.hypot(driven[3].u_v) * at_posts;
        self.u_gain[look] = of_live.hypot(of_drive) / apart_v;
        self.offset_v[look] = f64::midpoint(live[0].volts, live[1].volts);
        let alike_u_v = live[0].u_v.hypot(live[1].u_v);
        self.u_offset_v[look] = alike_u_v / 2.0;
        self.common[look] = (live[0].volts - live[1].volts) * ratio / SUPPLY_V;
        self.u_common[look] = alike_u_v * ratio / SUPPLY_V;
        Ok(())
    }

    /// Whether it can be of a jig with these parts.
    pub(crate) fn plausible(&self, capture: &Capture) -> bool {
        let divider_ohm = capture.head.jig.divider_ohm;
        LOOKS.into_iter().enumerate().all(|(look, (_, range))| {
            let nominal = look::left_by_load(range, divider_ohm);
            let off = GAIN_OFF + LOAD_OFF * (1.0 - nominal);
            (self.gain[look] - nominal).abs() <= off
                && self.common[look].abs() <= COMMON_MAX
                && self.offset_v[look].abs() <= OFFSET_STEPS * look::step_v(range)
        })
    }
}

/// From the drive converter's input to G: its data line's resistor.
const TO_CONVERTER_OHM: f64 = 1_000.0;

/// What the difference of two posts is of that of their drive nodes: these are loaded by the converter, and across
/// each series resistor flows what the pulls' star and the divider take, 6 mV of 1.65 V.
fn of_drive_nodes(capture: &Capture, (i, j): (Post, Post)) -> f64 {
    let jig = &capture.head.jig;
    let series_ohm = f64::midpoint(jig.series_ohm[i.index()], jig.series_ohm[j.index()]);
    let taken = 1.0 / (jig.pull_ohm + jig.sense_ohm) + 1.0 / jig.divider_ohm;
    (1.0 + 2.0 * TO_CONVERTER_OHM / across_ohm(Range::V4)) / (1.0 + series_ohm * taken)
}

/// By how much the two drive nodes move from low to high with no current, mean of both: their converter's own reading.
fn alone_v(capture: &Capture, (i, j): (Post, Post)) -> Option<f64> {
    let mean = |post: Post, drive: Drive| {
        let volts = capture.readings(Phase::LiveZero).filter(|one| {
            one.step == Step::SelfCalibration
                && one.drives == [drive; 4]
                && (one.channel.node, one.channel.post, one.channel.against)
                    == (Node::Drive, post, None)
        });
        let volts: Vec<f64> = volts.map(|one| one.volts).collect();
        (!volts.is_empty()).then(|| volts.iter().sum::<f64>() / volts.len() as f64)
    };
    let moved = |post| Some(mean(post, Drive::High)? - mean(post, Drive::Low)?);
    Some(f64::midpoint(moved(i)?, moved(j)?))
}

struct Mean {
    volts: f64,
    u_v: f64,
    scatter_v: f64,
}

/// Of one node's difference under one drive, in the patterns where the live divider is read on this range.
fn mean(
    capture: &Capture,
    node: Node,
    (i, j): (Post, Post),
    range: Range,
    drives: [Drive; 4],
) -> Option<Mean> {
    let driven = |one: &&Reading| {
        one.step == Step::LiveZero
            && one.relays_closed
            && one.drives == drives
            && (one.channel.post, one.channel.against) == (i, Some(j))
    };
    let beside: std::collections::BTreeSet<u32> = capture
        .readings(Phase::LiveZero)
        .filter(driven)
        .filter(|one| one.channel.node == Node::Live && one.range == range)
        .map(|one| one.pattern)
        .collect();
    let of_node = capture
        .readings(Phase::LiveZero)
        .filter(driven)
        .filter(|one| one.channel.node == node && beside.contains(&one.pattern))
        .filter(|one| node != Node::Live || one.range == range);
    let readings: Vec<&Reading> = of_node.collect();
    if readings.len() < 4 || readings.iter().any(|one| look::is_beyond_range(one)) {
        return None;
    }
    let count = readings.len() as f64;
    let volts = readings.iter().map(|one| one.volts).sum::<f64>() / count;
    let squares: f64 = readings.iter().map(|one| (one.volts - volts).powi(2)).sum();
    let noise_v = readings.iter().map(|one| look::noise_v(one.range)).fold(0.0, f64::max);
    Some(Mean { volts, u_v: noise_v / count.sqrt(), scatter_v: (squares / (count - 1.0)).sqrt() })
}

/// The most that the live divider read before anything was driven, at the posts; without a look it may be anything.
fn before_v(capture: &Capture) -> f64 {
    let looks = capture.readings(Phase::LiveZero).filter(|one| {
        matches!(one.step, Step::Live | Step::LiveLoaded)
            && one.channel.node == Node::Live
            && one.channel.against.is_some()
    });
    let volts =
        looks.map(|one| if look::is_beyond_range(one) { f64::INFINITY } else { one.volts.abs() });
    volts
        .fold(None, |most: Option<f64>, volts| Some(most.map_or(volts, |most| most.max(volts))))
        .map_or(f64::INFINITY, |volts| volts * look::ratio(capture))
}

/// Asked for again when older than this, or when the jig is so much warmer or colder. [judgement]
const AGE_DAYS_MAX: f64 = 30.0;
const APART_K_MAX: f64 = 10.0;

/// How the capture's live zero serves.
pub(crate) fn live_zeroed(capture: &Capture) -> LiveZeroed {
    let Some(zero) = capture.live_zero() else {
        let status = LiveZeroStatus::None;
        return LiveZeroed { status, age_days: None, warmer_k: None, again: true };
    };
    let seconds = capture.head.taken_unix_s.map(|at| at as f64 - zero.taken_unix_s as f64);
    let age_days = seconds.map(|seconds| seconds / 86_400.0);
    let warmer_k = capture.jig_c().zip(zero.jig_c).map(|(now, then)| now - then);
    let fresh = age_days.is_some_and(|days| (0.0..=AGE_DAYS_MAX).contains(&days));
    let as_warm = warmer_k.is_some_and(|kelvins| kelvins.abs() <= APART_K_MAX);
    let status = match (zero.plausible(capture), fresh && as_warm) {
        (false, _) => LiveZeroStatus::Refused,
        (true, true) => LiveZeroStatus::Fresh,
        (true, false) => LiveZeroStatus::Stale,
    };
    LiveZeroed { status, age_days, warmer_k, again: status != LiveZeroStatus::Fresh }
}
