//! One jig as it was built: every part within its tolerance, drawn from a seed.

use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg32;
use serde::Serialize;

use super::scene::{CONTACT_MOHM, PARTS_AT_C, Scene};
use crate::identity::SUPPLY_LOAD;

/// The parts of one simulated jig, its clips, and the spread of one cable.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Parts {
    pub(super) supply_volts: f64,
    pub(super) pin_ohm: [f64; 4],
    pub(super) series_ohm: [f64; 4],
    pub(super) relay_contact_ohm: [f64; 4],
    pub(super) drive_jaw_ohm: [f64; 4],
    pub(super) sense_jaw_ohm: [f64; 4],
    pub(super) far_clip_ohm: [f64; 4],
    pub(super) divider_ratio: [f64; 4],
    pub(super) ring_ohm: [f64; 4],
    /// Of each conductor's resistance, against the mean of the cable.
    pub(super) sibling: [f64; 4],
    /// The same of its capacitance.
    #[serde(skip)]
    pub(super) core: [f64; 4],
    /// From each sense node to ground.
    pub(super) sense_farad: [f64; 4],
    /// Clamp, pad and tracks at each drive node.
    pub(super) drive_farad: [f64; 4],
    /// From each sense node to its reference line.
    pub(super) reference_farad: [f64; 4],
    /// A pin reads high from here on.
    pub(super) reads_high_volts: [f64; 4],
    /// The edge catcher's two thresholds.
    pub(super) window_volts: [f64; 2],
    /// What it puts across posts 3 and 4 of a live run.
    pub(super) supply_load_ohm: f64,
    /// No part of the circuit.
    #[serde(skip)]
    pub(super) converters: [ConverterParts; 3],
}

/// How far resistors change with temperature, per kelvin: of drives and ring.
const PER_KELVIN: f64 = 25e-6;

/// Streams of chance beside the one that parts are drawn from.
const DRIFTS: u64 = 1 << 32;
const CORES: u64 = 2 << 32;
const CLIPS: u64 = 3 << 32;
const LOADS: u64 = 4 << 32;
const WINDOWS: u64 = 6 << 32;

/// One converter's errors.
#[derive(Clone, Debug)]
pub(super) struct ConverterParts {
    /// Gain error by range.
    pub(super) gain_error: [f64; 4],
    /// Offset by input, in codes.
    pub(super) offset_codes: [f64; 8],
    /// Length of a conversion.
    pub(super) conversion_nanos: u64,
}

/// The ring plug: 33.2, 47.5, 68.1, 150 Ω.
const RING_OHM: [f64; 4] = [33.2, 47.5, 68.1, 150.0];
/// 25 Ω at room temperature, from VOL/VOH of the chip's data sheet at most 57 Ω.
const PIN_OHM: (f64, f64) = (22.0, 57.0);
/// The rail divided by resistors of 1 %, two of which tell.
const WINDOW_VOLTS: [f64; 2] = [0.7, 2.6];
/// A pair of Schottky diodes, a pad and its track. [judgement]
const DRIVE_FARAD: (f64, f64) = (20e-12, 80e-12);
/// The chip's data sheet says between 0.8 and 2.0 V at 3.3 V; its pins are of one die. [judgement]
const READS_HIGH_VOLTS: (f64, f64) = (1.3, 2.0);
const PINS_ALIKE: f64 = 0.02;
/// Data sheet SBAS444E, electrical characteristics: gain error 0.01 % typical, 0.15 % at most; match 0.02 % typical.
const GAIN_SIGMA: f64 = 3e-4;
const GAIN_MATCH_SIGMA: f64 = 2e-4;
/// The same: ±3 LSB.
const OFFSET_CODES: f64 = 3.0;
/// 860 samples a second; the same: ±10 %.
const CONVERSION_NANOS: f64 = 1e9 / 860.0;

impl Parts {
    /// The jig built of parts drawn from `seed`, as it is now; and what else is drawn from there.
    pub(super) fn of(seed: u64, scene: &Scene) -> (Self, Pcg32) {
        let (jig, sibling_spread) = (scene.jig, scene.run.sibling_spread);
        let mut random = Pcg32::seed_from_u64(seed);
        let mut parts = Self::drawn(&mut random, sibling_spread);
        // From a source of their own, so that nothing else is drawn otherwise.
        let mut drifts = Draw(&mut Pcg32::new(seed, DRIFTS));
        let mut warmed = |ohm: [f64; 4], celsius: f64| {
            ohm.map(|ohm| {
                let per_kelvin = drifts.between(-PER_KELVIN, PER_KELVIN);
                ohm * (1.0 + per_kelvin * (celsius - PARTS_AT_C))
            })
        };
        let nominal_ohm = f64::from(SUPPLY_LOAD.0 as u32) / 1e3;
        parts.supply_load_ohm = Draw(&mut Pcg32::new(seed, LOADS)).within(nominal_ohm, 0.05);
        let mut windows = Draw(&mut Pcg32::new(seed, WINDOWS));
        parts.window_volts = WINDOW_VOLTS.map(|volts| windows.within(volts, 0.01));
        let mut cores = Draw(&mut Pcg32::new(seed, CORES));
        parts.core = cores.four(|draw| draw.normal(1.0, scene.run.capacitance_spread));
        parts.series_ohm = warmed(parts.series_ohm, jig.celsius);
        parts.ring_ohm = warmed(parts.ring_ohm, jig.plug_celsius);
        if jig.clipped_before > 0 {
            random = Pcg32::new(seed, CLIPS + u64::from(jig.clipped_before));
            let clips = Self::drawn(&mut random, sibling_spread);
            parts.drive_jaw_ohm = clips.drive_jaw_ohm;
            parts.sense_jaw_ohm = clips.sense_jaw_ohm;
            parts.far_clip_ohm = clips.far_clip_ohm;
        }
        if jig.contact_mohm != CONTACT_MOHM {
            let jaws =
                [&mut parts.drive_jaw_ohm, &mut parts.sense_jaw_ohm, &mut parts.far_clip_ohm];
            for ohm in jaws.into_iter().flatten() {
                *ohm *= jig.contact_mohm / CONTACT_MOHM;
            }
        }
        (parts, random)
    }

    /// Parts within their tolerances.
    fn drawn(random: &mut Pcg32, sibling_spread: f64) -> Self {
        let mut draw = Draw(random);
        Self {
            supply_volts: draw.within(3.3, 0.01),
            pin_ohm: draw.four(|draw| draw.between(PIN_OHM.0, PIN_OHM.1)),
            series_ohm: draw.four(|draw| draw.within(330.0, 0.01) + draw.within(15.75, 0.1)),
            relay_contact_ohm: draw.four(|draw| draw.between(0.03, 0.1)),
            drive_jaw_ohm: draw.four(|draw| draw.between(0.001, 0.1)),
            sense_jaw_ohm: draw.four(|draw| draw.between(0.001, 0.1)),
            far_clip_ohm: draw.four(|draw| draw.between(0.001, 0.1)),
            divider_ratio: draw.four(|draw| draw.within(1.0, 0.001)),
            ring_ohm: RING_OHM.map(|ohm| draw.within(ohm, 0.001)),
            sibling: draw.four(|draw| draw.normal(1.0, sibling_spread)),
            core: [1.0; 4],
            window_volts: WINDOW_VOLTS,
            supply_load_ohm: f64::INFINITY,
            converters: [(); 3].map(|()| draw.converter()),
            sense_farad: draw.four(|draw| draw.within(1e-9, 0.05)),
            drive_farad: draw.four(|draw| draw.between(DRIVE_FARAD.0, DRIVE_FARAD.1)),
            reference_farad: draw.four(|draw| draw.within(1e-9, 0.01)),
            reads_high_volts: draw.reads_high_volts(),
        }
    }
}

struct Draw<'a>(&'a mut Pcg32);

impl Draw<'_> {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0.random_range(low..=high)
    }

    fn within(&mut self, nominal: f64, tolerance: f64) -> f64 {
        nominal * self.between(1.0 - tolerance, 1.0 + tolerance)
    }

    fn normal(&mut self, mean: f64, sigma: f64) -> f64 {
        let standard: f64 = StandardNormal.sample(self.0);
        mean + sigma * standard
    }

    fn four(&mut self, mut one: impl FnMut(&mut Self) -> f64) -> [f64; 4] {
        [(); 4].map(|()| one(self))
    }

    fn reads_high_volts(&mut self) -> [f64; 4] {
        let chip = self.between(READS_HIGH_VOLTS.0, READS_HIGH_VOLTS.1);
        self.four(|draw| draw.within(chip, PINS_ALIKE))
    }

    fn converter(&mut self) -> ConverterParts {
        let gain = self.normal(0.0, GAIN_SIGMA);
        ConverterParts {
            gain_error: self.four(|draw| gain + draw.normal(0.0, GAIN_MATCH_SIGMA)),
            offset_codes: [(); 8].map(|()| self.between(-OFFSET_CODES, OFFSET_CODES)),
            conversion_nanos: self.within(CONVERSION_NANOS, 0.1) as u64,
        }
    }
}
