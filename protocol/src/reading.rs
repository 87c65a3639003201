//! One pattern on the posts, and what the converters read while it stood.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use crate::{Microseconds, Phase, Post};

/// A pattern as it was driven, with its readings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pattern {
    /// Counts the patterns of one phase from 0 without a gap: a missing one was lost on the way.
    pub index: u16,
    /// Which part of the check this belongs to.
    pub phase: Phase,
    /// What it is for.
    pub step: Step,
    /// How posts 1–4 were driven.
    pub drives: [Drive; 4],
    /// How the two pull lines were driven.
    pub pulls: [Drive; 2],
    /// The post relays were closed.
    pub relays_closed: bool,
    /// In the order they were taken.
    pub readings: Vec<Reading, { Pattern::READINGS_MAX }>,
}

impl Pattern {
    /// The most readings one pattern event carries; a longer pattern is sent in several.
    pub const READINGS_MAX: usize = 16;
}

/// What a pattern is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Step {
    /// Relays open, nothing driven: is there voltage on the run?
    Live,
    /// All posts driven alike, so that no current flows: offsets and the converters' gain ratio.
    SelfCalibration,
    /// A first look at each pair, to choose the ranges.
    PreScan,
    /// Each pair in both polarities.
    Pairs,
    /// As live, with the [load](crate::LOAD) across the posts: what only couples in collapses.
    LiveLoaded,
    /// Pulls at half the supply, then each post driven high: what reaches the other three?
    Leakage,
    /// Posts driven with nothing on them: what the live dividers make of it.
    LiveZero,
    /// As live, with the [supply load](crate::Identity::supply_load) across posts 3 and 4.
    SupplyLoaded,
    /// The run is flexed: some posts high, the others low, and so they stay.
    Flex,
}

/// How a line is driven.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Drive {
    /// Not at all: high impedance.
    #[default]
    Off,
    /// To the jig's ground.
    Low,
    /// To the jig's supply.
    High,
}

impl Drive {
    /// One post high, the others not driven.
    #[must_use]
    pub const fn high_at(high: Post) -> [Self; 4] {
        let mut drives = [Self::Off; 4];
        drives[high.index()] = Self::High;
        drives
    }

    /// One post high, another low, the others not driven.
    #[must_use]
    pub const fn high_and_low(high: Post, low: Post) -> [Self; 4] {
        let mut drives = Self::high_at(high);
        drives[low.index()] = Self::Low;
        drives
    }
}

/// One conversion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reading {
    /// What was read.
    pub channel: Channel,
    /// On which range.
    pub range: Range,
    /// The converter's two's-complement code.
    pub code: i16,
    /// When the conversion was started.
    pub at: Microseconds,
}

impl Reading {
    /// The code is at an end of the range: the voltage is beyond it, how far is not known.
    #[must_use]
    pub const fn saturated(&self) -> bool {
        self.code == i16::MAX || self.code == i16::MIN
    }

    /// The voltage; of a [saturated](Self::saturated) reading the end of the range.
    #[must_use]
    pub fn volts(&self) -> f64 {
        // In whole microvolts as long as can be, so that the quotient is the nearest number.
        let product = i64::from(self.code) * i64::from(self.range.full_scale_microvolts());
        product as f64 / (32_768.0 * 1e6)
    }
}

/// A converter and the input it looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Channel {
    /// Which of the three.
    pub converter: Converter,
    /// Its multiplexer.
    pub input: Input,
}

/// The jig's three converters, by the nodes on their inputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Converter {
    /// Sense nodes N1–N4.
    Sense,
    /// Drive nodes G1–G4.
    Drive,
    /// Live-divider nodes D1–D4.
    Live,
}

impl Converter {
    /// All three.
    pub const ALL: [Self; 3] = [Self::Sense, Self::Drive, Self::Live];

    /// 0 to 2, for arrays of three.
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }
}

/// What the converter's multiplexer connects, by posts; a single post is read against ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Input {
    /// Post 1 less post 2.
    P1P2,
    /// Post 1 less post 4.
    P1P4,
    /// Post 2 less post 4.
    P2P4,
    /// Post 3 less post 4.
    P3P4,
    /// Post 1.
    P1,
    /// Post 2.
    P2,
    /// Post 3.
    P3,
    /// Post 4.
    P4,
}

impl Input {
    /// All eight.
    pub const ALL: [Self; 8] =
        [Self::P1P2, Self::P1P4, Self::P2P4, Self::P3P4, Self::P1, Self::P2, Self::P3, Self::P4];

    /// The single-ended input of post 1–4, by index 0–3.
    #[must_use]
    pub const fn single(post: Post) -> Self {
        match post {
            Post::P1 => Self::P1,
            Post::P2 => Self::P2,
            Post::P3 => Self::P3,
            Post::P4 => Self::P4,
        }
    }

    /// The posts on its positive and negative side; no negative means ground.
    #[must_use]
    pub const fn posts(self) -> (Post, Option<Post>) {
        use Post::{P1, P2, P3, P4};
        match self {
            Self::P1P2 => (P1, Some(P2)),
            Self::P1P4 => (P1, Some(P4)),
            Self::P2P4 => (P2, Some(P4)),
            Self::P3P4 => (P3, Some(P4)),
            Self::P1 => (P1, None),
            Self::P2 => (P2, None),
            Self::P3 => (P3, None),
            Self::P4 => (P4, None),
        }
    }
}

/// A converter's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Range {
    /// ±4.096 V.
    V4,
    /// ±2.048 V.
    V2,
    /// ±1.024 V.
    V1,
    /// ±0.256 V.
    V0,
}

impl Range {
    /// All four.
    pub const ALL: [Self; 4] = [Self::V4, Self::V2, Self::V1, Self::V0];

    /// The voltage of code 32 768, in microvolts.
    #[must_use]
    pub const fn full_scale_microvolts(self) -> u32 {
        match self {
            Self::V4 => 4_096_000,
            Self::V2 => 2_048_000,
            Self::V1 => 1_024_000,
            Self::V0 => 256_000,
        }
    }

    /// The voltage of code 32 768.
    #[must_use]
    pub fn full_scale_volts(self) -> f64 {
        f64::from(self.full_scale_microvolts()) / 1e6
    }
}

/// One step of each range: data sheet SBAS444E, full-scale range and LSB size.
#[test]
fn a_code_is_the_data_sheets_lsb() {
    let volts = |range, code| {
        let channel = Channel { converter: Converter::Sense, input: Input::P4 };
        Reading { channel, range, code, at: Microseconds(0) }.volts()
    };
    assert_eq!(volts(Range::V4, 1), 125e-6);
    assert_eq!(volts(Range::V2, 1), 62.5e-6);
    assert_eq!(volts(Range::V1, 1), 31.25e-6);
    assert_eq!(volts(Range::V0, 1), 7.8125e-6);
    assert_eq!(volts(Range::V4, 13_636), 1.7045);
    assert_eq!(volts(Range::V1, i16::MIN), -1.024);
}
