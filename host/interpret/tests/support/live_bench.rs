//! A jig with parts as they come, on a powered run: what its live divider reads, as a capture.

use std::f64::consts::TAU;

use runproof_interpret::capture::{
    Capture, Channel, Ending, Head, JigConstants, Node, PhaseEnd, Plug, Reading, Warmth,
};
use runproof_protocol::{Drive, Microseconds, Phase, Post, Range, Step};

use crate::chance::Chance;
use crate::network::Network;

const TOP_OHM: f64 = 4.5e6;
const FOOT_OHM: f64 = 22e3;
const STAR_OHM: f64 = 23.5e3;
const MID_V: f64 = 1.65;
const SLOT_US: u64 = 1590;
const CONVERSION_S: f64 = 1.0 / 860.0;
const SENSE_OHM: f64 = 3197.279;
/// From a pin to G, and from there to the post.
const PIN_OHM: f64 = 280.0;
const SERIES_OHM: f64 = 346.0;
/// Seconds since 1970 at which every capture is taken.
pub(crate) const NOW: u64 = 1_790_000_000;

/// Node of a post, 1 to 4; earth; the jig's mid voltage is 0.
pub(crate) const EARTH: usize = 5;
/// A node of the run that is no post: where the supply's return is.
pub(crate) const FAR: usize = 6;
const STAR: usize = 7;
const NODES: usize = 7;

/// A voltage by time.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Wave {
    Sine {
        rms_v: f64,
        hertz: f64,
        turn: f64,
    },
    Half {
        peak_v: f64,
        hertz: f64,
        turn: f64,
    },
    Full {
        peak_v: f64,
        hertz: f64,
        turn: f64,
    },
    Direct {
        volts: f64,
    },
    /// Levels at random, `seconds` each, for so much of each `frame_s`; then nothing.
    Traffic {
        volts: f64,
        bit_s: f64,
        frame_s: f64,
        busy: f64,
        seed: u64,
    },
}

impl Wave {
    fn at(self, seconds: f64) -> f64 {
        let sine = |hertz: f64, turn: f64| (TAU * (hertz * seconds + turn)).sin();
        match self {
            Self::Sine { rms_v, hertz, turn } => rms_v * 2.0_f64.sqrt() * sine(hertz, turn),
            Self::Half { peak_v, hertz, turn } => peak_v * sine(hertz, turn).max(0.0),
            Self::Full { peak_v, hertz, turn } => peak_v * sine(hertz, turn).abs(),
            Self::Direct { volts } => volts,
            Self::Traffic { volts, bit_s, frame_s, busy, seed } => {
                let frame = (seconds / frame_s).floor();
                if seconds / frame_s - frame > busy {
                    return 0.0;
                }
                let bit = (seconds / bit_s).floor() as u64;
                let mixed = (bit ^ seed).wrapping_mul(0x9E37_79B9_7F4A_7C15);
                if (mixed ^ (mixed >> 29)) & 0x100 == 0 { volts } else { -volts }
            }
        }
    }
}

/// A voltage between two nodes behind a resistance: `plus` against `minus`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Source {
    pub(crate) plus: usize,
    pub(crate) minus: usize,
    pub(crate) ohm: f64,
    pub(crate) wave: Wave,
}

/// What is on the run, and the jig's parts as they are.
#[derive(Clone, Debug)]
pub(crate) struct LiveBench {
    pub(crate) sources: Vec<Source>,
    pub(crate) resistors: Vec<(usize, usize, f64)>,
    divider: [f64; 4],
    /// By range, V4 V2 V1 V0: of the live converter and of the posts' own.
    gain: [[f64; 4]; 2],
    offset_codes: [[f64; 4]; 2],
    conversion_s: f64,
    load: [f64; 4],
    supply_v: f64,
    seed: u64,
}

impl LiveBench {
    /// Nothing on it, and parts anywhere within their tolerances.
    pub(crate) fn new(seed: u64) -> Self {
        let chance = &mut Chance::new(seed);
        let gains = |chance: &mut Chance| {
            let base = 1.0 + chance.normal(3e-4);
            [(); 4].map(|()| base + chance.normal(2e-4))
        };
        Self {
            sources: vec![],
            resistors: vec![],
            divider: [(); 4].map(|()| chance.within(0.999, 1.001)),
            gain: [gains(chance), gains(chance)],
            offset_codes: [(); 2].map(|()| [(); 4].map(|()| chance.within(-3.0, 3.0))),
            conversion_s: CONVERSION_S * chance.within(0.9, 1.1),
            load: [(); 4].map(|()| chance.within(0.9, 1.1)),
            supply_v: chance.within(3.267, 3.333),
            seed,
        }
    }

    pub(crate) fn with(mut self, plus: usize, minus: usize, ohm: f64, wave: Wave) -> Self {
        self.sources.push(Source { plus, minus, ohm, wave });
        self
    }

    pub(crate) fn joined(mut self, a: usize, b: usize, ohm: f64) -> Self {
        self.resistors.push((a, b, ohm));
        self
    }

    fn network(&self, loaded: bool) -> Network {
        let mut network = Network::new(NODES);
        for source in &self.sources {
            network.resistor(source.plus, source.minus, source.ohm);
        }
        for (a, b, ohm) in &self.resistors {
            network.resistor(*a, *b, *ohm);
        }
        for (k, part) in self.divider.iter().enumerate() {
            network.resistor(k + 1, 0, TOP_OHM * part + FOOT_OHM);
            if loaded {
                network.resistor(k + 1, STAR, STAR_OHM);
            }
        }
        network
    }

    /// By source, what a volt of it makes of each post against the mid voltage.
    fn shares(&self, loaded: bool) -> Vec<[f64; 4]> {
        let each = self.sources.iter().map(|source| {
            let mut network = self.network(loaded);
            network.current(source.plus, 1.0 / source.ohm);
            network.current(source.minus, -1.0 / source.ohm);
            let volts = network.solve();
            [volts[1], volts[2], volts[3], volts[4]]
        });
        each.collect()
    }

    /// Mean and rms of what alternates, between two posts, numbered from 1: the truth.
    pub(crate) fn truth(&self, i: usize, j: usize, loaded: bool) -> (f64, f64) {
        let shares = self.shares(loaded);
        const INSTANTS: u32 = 24_000;
        // Whole cycles; of several frequencies, of the first: the others of a test are whole numbers beside it.
        let first = self.sources.iter().find_map(|one| match one.wave {
            Wave::Sine { hertz, .. } | Wave::Half { hertz, .. } | Wave::Full { hertz, .. } => {
                Some(hertz)
            }
            _ => None,
        });
        let lasts_s = first.map_or(1.0, |hertz| hertz.round() / hertz);
        let at = |n: u32| {
            let seconds = lasts_s * f64::from(n) / f64::from(INSTANTS);
            let each = self.sources.iter().zip(&shares);
            each.map(|(one, share)| one.wave.at(seconds) * (share[i - 1] - share[j - 1]))
                .sum::<f64>()
        };
        let values: Vec<f64> = (0..INSTANTS).map(at).collect();
        let mean = values.iter().sum::<f64>() / f64::from(INSTANTS);
        let square = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / f64::from(INSTANTS);
        (mean, square.sqrt())
    }

    /// The live phase, whole.
    pub(crate) fn capture(&self) -> Capture {
        let mut pen = self.pen(Phase::Live);
        pen.looks();
        pen.end()
    }

    /// The live-zero phase: nothing is clipped on but what is there all the same.
    pub(crate) fn zero_capture(&self) -> Capture {
        let mut pen = self.pen(Phase::LiveZero);
        pen.order = [(1, 2), (3, 4), (1, 4), (2, 4)];
        pen.looks();
        pen.pattern = 20;
        for pattern in 12..20 {
            pen.calibrate(pattern);
        }
        for (posts, range) in
            [((1, 2), Range::V0), ((1, 2), Range::V2), ((3, 4), Range::V2), ((1, 4), Range::V2)]
        {
            pen.zero(posts, range);
        }
        pen.end()
    }

    fn pen(&self, phase: Phase) -> Pen<'_> {
        let mut capture = Capture::new(head());
        let warmth = Warmth { phase, jig_c: 25.0 };
        capture.entries.push(runproof_interpret::capture::Entry::Warmth(warmth));
        Pen {
            bench: self,
            chance: Chance::new(self.seed ^ 0x5EED ^ u64::from(phase == Phase::Live)),
            capture,
            phase,
            pattern: 0,
            now_us: 1_000_000,
            order: [(1, 2), (3, 4), (1, 2), (1, 4)],
        }
    }
}

pub(crate) fn head() -> Head {
    let jig = JigConstants {
        serial: String::new(),
        board: "test bench".into(),
        firmware: String::new(),
        series_ohm: [SERIES_OHM; 4],
        series_tolerance: 0.015,
        sense_ohm: SENSE_OHM,
        pull_ohm: 100_000.0,
        divider_ohm: TOP_OHM + FOOT_OHM,
        supply_load_ohm: None,
    };
    let plug = Plug { id: String::new(), ring_ohm: [33.2, 47.5, 68.1, 150.0], tolerance: 0.001 };
    Head { made_by: "test".into(), taken_unix_s: Some(NOW), jig, plug }
}

struct Pen<'a> {
    bench: &'a LiveBench,
    chance: Chance,
    capture: Capture,
    phase: Phase,
    pattern: u32,
    now_us: u64,
    order: [(usize, usize); 4],
}

impl Pen<'_> {
    /// Patterns 0 to 7 alone, 8 to 11 under the load.
    fn looks(&mut self) {
        let alone = self.bench.shares(false);
        let mut narrow = self.phase == Phase::Live;
        for pattern in 0..8 {
            self.pattern = pattern;
            let order = self.order;
            let mut saturated = false;
            for n in 0..16 {
                let range = if order[n % 4] == (1, 2) && narrow { Range::V0 } else { Range::V2 };
                saturated |= self.live(Step::Live, &alone, order[n % 4], range);
            }
            narrow &= !saturated;
        }
        self.now_us += 25_000;
        let loaded = self.bench.shares(true);
        for pattern in 8..12 {
            self.pattern = pattern;
            let mut order = self.order;
            if self.phase == Phase::Live {
                order[2] = (4, 0);
            }
            let mut saturated = false;
            for n in 0..16 {
                let range = match order[n % 4] {
                    (_, 0) => Range::V4,
                    (1, 2) if narrow => Range::V0,
                    _ => Range::V2,
                };
                saturated |= self.live(Step::LiveLoaded, &loaded, order[n % 4], range);
            }
            narrow &= !saturated;
        }
    }

    /// One reading of the live divider; says whether it was beyond its range.
    fn live(
        &mut self,
        step: Step,
        shares: &[[f64; 4]],
        posts: (usize, usize),
        range: Range,
    ) -> bool {
        let begin_s = self.now_us as f64 * 1e-6 + 25e-6;
        let mut mean = [0.0; 4];
        const PARTS: u32 = 24;
        for n in 0..PARTS {
            let seconds =
                begin_s + (f64::from(n) + 0.5) / f64::from(PARTS) * self.bench.conversion_s;
            for (source, share) in self.bench.sources.iter().zip(shares) {
                let volts = source.wave.at(seconds) / f64::from(PARTS);
                mean.iter_mut().zip(share).for_each(|(mean, share)| *mean += volts * share);
            }
        }
        let foot = |k: usize| self.bench.foot_v(k, mean[k - 1]);
        let volts = match posts {
            (i, 0) => (MID_V + foot(i)) * self.bench.left_by_ground(),
            (i, j) => (foot(i) - foot(j)) * self.bench.left(range),
        };
        self.read(step, [Drive::Off; 4], false, (Node::Live, posts), range, volts)
    }

    /// Four drives of one look of the zero, four patterns each.
    fn zero(&mut self, (i, j): (usize, usize), range: Range) {
        let [post_i, post_j] = [i, j].map(|n| Post::ALL[n - 1]);
        let drives = [
            [Drive::High; 4],
            [Drive::Low; 4],
            Drive::high_and_low(post_i, post_j),
            Drive::high_and_low(post_j, post_i),
        ];
        for drives in drives {
            for _ in 0..4 {
                for _ in 0..8 {
                    let mut network = self.bench.network(false);
                    for (k, drive) in drives.iter().enumerate() {
                        let volts = match drive {
                            Drive::High => self.bench.supply_v - MID_V,
                            Drive::Low => -MID_V,
                            Drive::Off => continue,
                        };
                        network.source(k + 1, volts, PIN_OHM + SERIES_OHM);
                    }
                    for post in 1..=4 {
                        network.resistor(post, STAR, 100e3 + SENSE_OHM);
                    }
                    let seconds = self.now_us as f64 * 1e-6;
                    for source in &self.bench.sources {
                        let amperes = source.wave.at(seconds) / source.ohm;
                        network.current(source.plus, amperes);
                        network.current(source.minus, -amperes);
                    }
                    let posts_v = network.solve();
                    let foot = |k: usize| self.bench.foot_v(k, posts_v[k]);
                    let live = (foot(i) - foot(j)) * self.bench.left(range);
                    let drive_v = |k: usize| {
                        let pin_v = match drives[k - 1] {
                            Drive::High => self.bench.supply_v - MID_V,
                            Drive::Low => -MID_V,
                            Drive::Off => posts_v[k],
                        };
                        let part = SERIES_OHM / (SERIES_OHM + PIN_OHM);
                        posts_v[k] + (pin_v - posts_v[k]) * part
                    };
                    let driven = (drive_v(i) - drive_v(j)) / (1.0 + 2.0 * 1_000.0 / 15e6);
                    let step = Step::LiveZero;
                    self.read(step, drives, true, (Node::Drive, (i, j)), Range::V4, driven);
                    self.now_us -= SLOT_US;
                    self.read(step, drives, true, (Node::Live, (i, j)), range, live);
                }
                self.pattern += 1;
            }
        }
    }

    /// A pattern of self-calibration, as far as a phase needs it to be whole.
    fn calibrate(&mut self, pattern: u32) {
        let kept = std::mem::replace(&mut self.pattern, pattern);
        let drives = [if pattern.is_multiple_of(2) { Drive::High } else { Drive::Low }; 4];
        let volts = if pattern.is_multiple_of(2) { self.bench.supply_v } else { 0.0 };
        for post in 1..=4 {
            for node in [Node::Sense, Node::Drive] {
                self.read(Step::SelfCalibration, drives, true, (node, (post, 0)), Range::V4, volts);
            }
        }
        self.pattern = kept;
    }

    fn read(
        &mut self,
        step: Step,
        drives: [Drive; 4],
        relays_closed: bool,
        (node, (i, j)): (Node, (usize, usize)),
        range: Range,
        volts: f64,
    ) -> bool {
        let which = Range::ALL.iter().position(|one| *one == range).expect("a range");
        let converter = usize::from(node != Node::Live);
        let step_v = range.full_scale_volts() / 32_768.0;
        let peak_to_peak_v = [266.93e-6, 118.63e-6, 64.26e-6, 35.83e-6][which];
        let channel = match (i, j) {
            (1, 2) => 0,
            (3, 4) => 1,
            (1, 4) => 2,
            _ => 3,
        };
        let read = volts * self.bench.gain[converter][which]
            + self.bench.offset_codes[converter][channel] * step_v
            + self.chance.normal(peak_to_peak_v / 6.6);
        let code = (read / step_v).round().clamp(-32_768.0, 32_767.0);
        let saturated = code <= -32_768.0 || code >= 32_767.0;
        self.capture.push(Reading {
            phase: self.phase,
            step,
            pattern: self.pattern,
            drives,
            pulls: [Drive::Off; 2],
            relays_closed,
            channel: Channel {
                node,
                post: Post::ALL[i - 1],
                against: j.checked_sub(1).map(|j| Post::ALL[j]),
            },
            range,
            volts: code * step_v,
            saturated,
            at: Microseconds(self.now_us),
        });
        self.now_us += SLOT_US;
        saturated
    }

    fn end(mut self) -> Capture {
        let patterns = match self.phase {
            Phase::LiveZero => self.pattern,
            _ => self.pattern + 1,
        };
        self.capture.end(PhaseEnd { phase: self.phase, ending: Ending::Done { patterns } });
        self.capture
    }
}

impl LiveBench {
    fn foot_v(&self, k: usize, post_v: f64) -> f64 {
        post_v * FOOT_OHM / (TOP_OHM * self.divider[k - 1] + FOOT_OHM)
    }

    /// What the converter's input leaves of a difference.
    fn left(&self, range: Range) -> f64 {
        let which = Range::ALL.iter().position(|one| *one == range).expect("a range");
        let across_ohm = [15e6, 4.9e6, 2.4e6, 0.71e6][which] / self.load[which];
        1.0 / (1.0 + 2.0 * FOOT_OHM * TOP_OHM / (TOP_OHM + FOOT_OHM) / across_ohm)
    }

    fn left_by_ground(&self) -> f64 {
        1.0 / (1.0 + FOOT_OHM * TOP_OHM / (TOP_OHM + FOOT_OHM) / 6e6)
    }
}
