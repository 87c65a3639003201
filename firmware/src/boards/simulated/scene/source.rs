//! Voltage on a run that is not the jig's.

use std::vec::Vec;

use serde::Deserialize;

use super::super::traffic::Traffic;
use super::End;

/// Between two terminals, or a terminal and earth: what it gives, all added up.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// At this end of the run.
    #[serde(default = "far")]
    pub end: End,
    /// It lifts the first of these terminals over the second; 0 is earth.
    pub between: [u8; 2],
    /// Alternating volts, before a rectifier.
    #[serde(default)]
    pub volts_rms: f64,
    /// Their frequency.
    #[serde(default = "hertz")]
    pub hertz: f64,
    /// How far their sine is ahead of one that begins as the jig starts.
    #[serde(default)]
    pub phase_degrees: f64,
    /// What becomes of them.
    #[serde(default)]
    pub shape: Shape,
    /// What alternates beside, at multiples of the frequency.
    #[serde(default)]
    pub harmonic: Vec<Harmonic>,
    /// Steady volts.
    #[serde(default)]
    pub direct_v: f64,
    /// Data.
    pub traffic: Option<Traffic>,
    /// How it reaches the run.
    pub through: Through,
    /// It comes on so many seconds after the jig's start.
    #[serde(default)]
    pub from_s: f64,
}

fn far() -> End {
    End::Far
}

fn hertz() -> f64 {
    60.0
}

/// What becomes of a sine.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    /// Nothing.
    #[default]
    Sine,
    /// One diode: its negative halves are 0 V.
    HalfWave,
    /// A bridge: its negative halves are turned over.
    FullWave,
}

/// A multiple of a frequency.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Harmonic {
    /// Which.
    pub times: u32,
    /// How much of it.
    pub volts_rms: f64,
    /// How far its own sine is ahead.
    #[serde(default)]
    pub phase_degrees: f64,
}

/// How a voltage reaches the run.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Through {
    /// By wire, with an inner resistance in ohms.
    Ohm(f64),
    /// From a cable alongside, through picofarads.
    CoupledPf(f64),
}

impl Source {
    /// A sine at the far end, from the start.
    #[must_use]
    pub fn alternating(between: [u8; 2], volts_rms: f64, hertz: f64, through: Through) -> Self {
        Self {
            end: End::Far,
            between,
            volts_rms,
            hertz,
            phase_degrees: 0.0,
            shape: Shape::Sine,
            harmonic: Vec::new(),
            direct_v: 0.0,
            traffic: None,
            through,
            from_s: 0.0,
        }
    }

    /// Steady volts at the far end, from the start.
    #[must_use]
    pub fn direct(between: [u8; 2], volts: f64, through: Through) -> Self {
        Self { direct_v: volts, ..Self::alternating(between, 0.0, 60.0, through) }
    }
}
