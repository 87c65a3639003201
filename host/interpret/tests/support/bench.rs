//! A jig with parts as they come, on a run: what its converters read, as a capture.

use runproof_interpret::capture::{
    Capture, Channel, Ending, Head, JigConstants, Node, PhaseEnd, Plug, Reading,
};
use runproof_protocol::{Drive, Microseconds, Phase, Post, Range, Step};

use crate::chance::Chance;
use crate::network::Network;

const SERIES_OHM: f64 = 330.0;
const RING_OHM: [f64; 4] = [33.2, 47.5, 68.1, 150.0];
const RING: [(usize, usize); 4] = [(0, 2), (2, 3), (3, 1), (1, 0)];
const SENSE_OHM: f64 = 4700.0;
const BRIDGE_OHM: f64 = 10_000.0;
const PULL_OHM: f64 = 200_000.0;
const DIVIDER_OHM: f64 = 4_522_000.0;
const PULL_LINE_OHM: f64 = 250.0;
const MID_V: f64 = 1.65;
const OPEN_OHM: f64 = 1e10;

/// The run, and the jig's parts as they are.
#[derive(Clone, Debug)]
pub(crate) struct Bench {
    /// Wire alone, by post.
    pub(crate) wire_ohm: [f64; 4],
    pub(crate) reaches: [usize; 4],
    pub(crate) open: [bool; 4],
    /// Between two conductors: which, at which fraction of their length, of how many ohms.
    pub(crate) short: Option<(usize, usize, f64, f64)>,
    pub(crate) plug: bool,
    far_ohm: [f64; 4],
    near_ohm: [f64; 4],
    series_ohm: [f64; 4],
    ring_ohm: [f64; 4],
    drive_ohm: [f64; 4],
    supply_v: f64,
    /// By converter: gain on ±4.096 V, gain on ±1.024 V, offset in steps.
    converters: [[f64; 3]; 2],
    /// The inputs' impedance, of the typical one.
    input: f64,
    noise_seed: u64,
}

impl Bench {
    /// A straight run of like conductors, and parts anywhere within their tolerances.
    pub(crate) fn new(wire_ohm: f64, seed: u64) -> Self {
        let chance = &mut Chance::new(seed);
        let four = |chance: &mut Chance, f: fn(&mut Chance) -> f64| [(); 4].map(|()| f(chance));
        Self {
            wire_ohm: four(chance, |c| 1.0 + c.normal(0.01)).map(|spread| wire_ohm * spread),
            reaches: [0, 1, 2, 3],
            open: [false; 4],
            short: None,
            plug: true,
            far_ohm: four(chance, |c| c.within(0.0, 0.05)),
            near_ohm: four(chance, |c| c.within(0.0, 0.05) + c.within(0.03, 0.1)),
            series_ohm: four(chance, |c| SERIES_OHM * c.within(0.99, 1.01)),
            ring_ohm: RING_OHM.map(|ohm| ohm * chance.within(0.999, 1.001)),
            drive_ohm: four(chance, |c| 242.0 + c.within(25.0, 45.0)),
            supply_v: chance.within(3.2, 3.4),
            converters: [(); 2].map(|()| {
                let gain = 1.0 + chance.within(-1e-3, 1e-3);
                [gain, gain + chance.within(-2e-4, 2e-4), chance.within(-3.0, 3.0)]
            }),
            input: chance.within(0.85, 1.15),
            noise_seed: seed ^ 0xABCD,
        }
    }

    /// Both phases, as a jig takes them.
    pub(crate) fn capture(&self) -> Capture {
        let chance = Chance::new(self.noise_seed);
        let capture = Capture::new(head());
        let mut pen = Pen { bench: self, chance, capture, phase: Phase::Open, pattern: 0 };
        pen.phase(Phase::Open);
        pen.phase(Phase::Plug);
        pen.capture
    }

    /// Node voltages with the posts driven so and some of the converters' inputs selected.
    fn solve(&self, state: State, selected: &[Channel], range: Range) -> Vec<f64> {
        let mut network = Network::new(26);
        let State { drives, pulls, plug_in } = state;
        for (line, drive) in [25, 26].into_iter().zip(pulls) {
            match drive {
                Drive::High => network.source(line, self.supply_v, PULL_LINE_OHM),
                Drive::Low => network.source(line, 0.0, PULL_LINE_OHM),
                Drive::Off => {}
            }
        }
        for (k, drive) in drives.into_iter().enumerate() {
            match drive {
                Drive::High => network.source(g(k), self.supply_v, self.drive_ohm[k]),
                Drive::Low => network.source(g(k), 0.0, self.drive_ohm[k]),
                Drive::Off => {}
            }
            network.resistor(g(k), q(k), self.series_ohm[k]);
            network.resistor(q(k), p(k), self.near_ohm[k]);
            network.resistor(q(k), n(k), BRIDGE_OHM);
            network.resistor(p(k), n(k), SENSE_OHM);
            for pull_line in [25, 26] {
                network.resistor(n(k), pull_line, PULL_OHM);
            }
            network.source(p(k), MID_V, DIVIDER_OHM);
            let at = self.short.map_or(0.5, |short| short.2);
            network.resistor(p(k), m(k), self.wire_ohm[k] * at + 1e-6);
            let rest_ohm = self.wire_ohm[k] * (1.0 - at) + self.far_ohm[k];
            let rest_ohm = if self.open[k] { OPEN_OHM } else { rest_ohm };
            network.resistor(m(k), t(self.reaches[k]), rest_ohm);
        }
        if let Some((a, b, _, ohm)) = self.short {
            network.resistor(m(a), m(b), ohm);
        }
        if self.plug && plug_in {
            for ((a, b), ohm) in RING.into_iter().zip(self.ring_ohm) {
                network.resistor(t(a), t(b), ohm);
            }
        }
        // Input impedances: ADS1115, TI SBAS444E, electrical characteristics.
        for channel in selected.iter().filter(|channel| channel.node == Node::Sense) {
            let (to, ohm) = match (channel.against, range) {
                (Some(other), Range::V4) => (n(other.index()), 15e6),
                (Some(other), _) => (n(other.index()), 2.4e6),
                (None, _) => (0, 6e6),
            };
            network.resistor(n(channel.post.index()), to, ohm * self.input);
        }
        network.solve()
    }
}

/// What is driven, and whether the plug may be in.
#[derive(Clone, Copy)]
struct State {
    drives: [Drive; 4],
    pulls: [Drive; 2],
    plug_in: bool,
}

/// Drive node.
fn g(k: usize) -> usize {
    1 + k
}

/// The jig's side of the drive relay.
fn q(k: usize) -> usize {
    5 + k
}

/// The post.
fn p(k: usize) -> usize {
    9 + k
}

/// Sense node.
fn n(k: usize) -> usize {
    13 + k
}

/// Where the run's short is, if it has one.
fn m(k: usize) -> usize {
    17 + k
}

/// The plug's terminal. Behind these the two pull lines.
fn t(k: usize) -> usize {
    21 + k
}

fn single(node: Node, post: Post) -> Channel {
    Channel { node, post, against: None }
}

fn head() -> Head {
    let jig = JigConstants {
        serial: String::new(),
        board: "test bench".into(),
        firmware: String::new(),
        series_ohm: [SERIES_OHM; 4],
        series_tolerance: 0.01,
        sense_ohm: 1.0 / (1.0 / SENSE_OHM + 1.0 / BRIDGE_OHM),
        pull_ohm: PULL_OHM / 2.0,
        divider_ohm: DIVIDER_OHM,
        supply_load_ohm: None,
    };
    let plug = Plug { id: String::new(), ring_ohm: RING_OHM, tolerance: 0.001 };
    Head { made_by: "test".into(), taken_unix_s: None, jig, plug }
}

/// Writes a capture, pattern by pattern.
struct Pen<'a> {
    bench: &'a Bench,
    chance: Chance,
    capture: Capture,
    phase: Phase,
    pattern: u32,
}

impl Pen<'_> {
    /// One phase whole: nothing live, self-calibration, pairs; and leakage with the plug out.
    fn phase(&mut self, phase: Phase) {
        (self.phase, self.pattern) = (phase, 0);
        self.live(Step::Live);
        self.live(Step::LiveLoaded);
        for drive in [Drive::High, Drive::Low].repeat(4) {
            for post in Post::ALL {
                let both = [single(Node::Sense, post), single(Node::Drive, post)];
                self.read(Step::SelfCalibration, [drive; 4], &both, Range::V4);
            }
            self.pattern += 1;
        }
        let mut fits = vec![];
        for (i, j) in Post::PAIRS {
            let largest_v = self.pair(Step::PreScan, (i, j), (i, j), Range::V4);
            fits.push(if largest_v <= 0.9 { Range::V1 } else { Range::V4 });
        }
        for ((i, j), range) in Post::PAIRS.into_iter().zip(fits) {
            for (high, low) in [(i, j), (i, j), (j, i), (j, i)] {
                self.pair(Step::Pairs, (i, j), (high, low), range);
            }
        }
        if phase == Phase::Open {
            self.leakage();
        }
        let ending = Ending::Done { patterns: self.pattern };
        self.capture.end(PhaseEnd { phase, ending });
    }

    /// Nothing is on the run: four differences of nothing.
    fn live(&mut self, step: Step) {
        for (post, against) in [(1, 2), (3, 4), (1, 4), (2, 4)] {
            let [post, against] = [post, against].map(|n| Post::ALL[n - 1]);
            self.capture.push(Reading {
                phase: self.phase,
                step,
                pattern: self.pattern,
                drives: [Drive::Off; 4],
                pulls: [Drive::Off; 2],
                relays_closed: false,
                channel: Channel { node: Node::Live, post, against: Some(against) },
                range: Range::V1,
                volts: 0.0,
                saturated: false,
                at: Microseconds(0),
            });
        }
        self.pattern += 1;
    }

    /// Nothing driven, then each post, with the pulls at half the supply.
    fn leakage(&mut self) {
        let driven = Post::ALL.map(Drive::high_at);
        for drives in [[Drive::Off; 4]].into_iter().chain(driven) {
            for _ in 0..4 {
                for post in Post::ALL {
                    let channels = [single(Node::Sense, post)];
                    self.read(Step::Leakage, drives, &channels, Range::V4);
                }
            }
            self.pattern += 1;
        }
    }

    /// One pattern of the pair i, j. Returns the largest of the three differences.
    fn pair(
        &mut self,
        step: Step,
        (i, j): (Post, Post),
        (high, low): (Post, Post),
        range: Range,
    ) -> f64 {
        let drives = Drive::high_and_low(high, low);
        let mut largest_v = 0.0_f64;
        for (post, side) in [(Post::P1, i), (Post::P2, j), (Post::P3, i)] {
            let difference = Channel { node: Node::Sense, post, against: Some(Post::P4) };
            let both = [difference, single(Node::Drive, side)];
            largest_v = largest_v.max(self.read(step, drives, &both, range).abs());
        }
        let last = [single(Node::Sense, Post::P4), single(Node::Drive, j)];
        self.read(step, drives, &last, Range::V4);
        self.pattern += 1;
        largest_v
    }

    /// Reads some channels at once, `range` for differences; returns the first one's volts.
    fn read(&mut self, step: Step, drives: [Drive; 4], channels: &[Channel], range: Range) -> f64 {
        let half_supply = [Drive::High, Drive::Low];
        let pulls = if step == Step::Leakage { half_supply } else { [Drive::Off; 2] };
        let state = State { drives, pulls, plug_in: self.phase == Phase::Plug };
        let nodes = self.bench.solve(state, channels, range);
        let mut read_v = vec![];
        for channel in channels {
            let range = if channel.against.is_some() { range } else { Range::V4 };
            let node_v = |post: Post| match channel.node {
                Node::Sense => nodes[n(post.index())],
                Node::Drive | Node::Live => nodes[g(post.index())],
            };
            let truth_v = node_v(channel.post) - channel.against.map_or(0.0, node_v);
            let (volts, saturated) = self.convert(truth_v, channel.node, range);
            read_v.push(volts);
            self.capture.push(Reading {
                phase: self.phase,
                step,
                pattern: self.pattern,
                drives,
                pulls,
                relays_closed: true,
                channel: *channel,
                range,
                volts,
                saturated,
                at: Microseconds(0),
            });
        }
        read_v[0]
    }

    /// Gain, noise (ADS1115, TI SBAS444E, table 6-1, 860 SPS, peak to peak / 6.6), and step.
    fn convert(&mut self, truth_v: f64, node: Node, range: Range) -> (f64, bool) {
        let [wide, narrow, offset] = self.bench.converters[usize::from(node == Node::Drive)];
        let (gain, noise_v) = match range {
            Range::V4 => (wide, 266.93e-6 / 6.6),
            _ => (narrow, 64.26e-6 / 6.6),
        };
        let step_v = range.full_scale_volts() / 32_768.0;
        let noisy_v = truth_v * gain + self.chance.normal(noise_v);
        let code = (noisy_v / step_v + offset).round();
        (code.clamp(-32_768.0, 32_767.0) * step_v, !(-32_768.0..32_767.0).contains(&code))
    }
}
