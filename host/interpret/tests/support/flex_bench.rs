//! A jig that watches a flexed run, made of plain resistors by the tests' own network: what it shares with the library is the
//! protocol alone.

use runproof_interpret::flex::FlexSetup;
use runproof_protocol::{
    Channel, Converter, Drive, Edge, Edges, Event, Input, JigParts, Microseconds, Milliohms,
    Pattern, Phase, Plug, Post, Range, Reading, Step,
};

use crate::chance::Chance;
use crate::network::Network;

pub(crate) const SLOT_US: u64 = 1_812;
/// 860 conversions a second.
const CONVERSION_US: u64 = 1_163;
const SUPPLY_V: f64 = 3.3;
/// Pad, resistor and PTC before the drive node.
const PIN_OHM: f64 = 242.0;
const SENSE_OHM: f64 = 3197.0;
const PULL_OHM: f64 = 100_000.0;
const RING_OHM: [f64; 4] = [33.2, 47.5, 68.1, 150.0];
const OPEN_OHM: f64 = 1e9;
const CODE_V: f64 = 125e-6;
const INPUTS: [Input; 3] = [Input::P1P4, Input::P2P4, Input::P3P4];

use Drive::{High, Low};
pub(crate) const ACROSS: [Drive; 4] = [High, High, Low, Low];
pub(crate) const ALONG: [Drive; 4] = [High, Low, High, Low];

/// How the run is at a moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Run {
    /// Of the conductors.
    pub(crate) ohm: [f64; 4],
    /// Between the conductors' far ends; by pair.
    pub(crate) touch_ohm: [f64; 6],
    pub(crate) plug: bool,
}

impl Run {
    pub(crate) fn sound(ohm: [f64; 4]) -> Self {
        Self { ohm, touch_ohm: [OPEN_OHM; 6], plug: true }
    }

    #[cfg(test)]
    pub(crate) fn unplugged(self) -> Self {
        Self { plug: false, ..self }
    }

    pub(crate) fn more(mut self, post: usize, ohm: f64) -> Self {
        self.ohm[post] += ohm;
        self
    }

    pub(crate) fn broken(self, post: usize) -> Self {
        self.more(post, OPEN_OHM)
    }

    #[cfg(test)]
    pub(crate) fn touching(mut self, pair: usize, ohm: f64) -> Self {
        self.touch_ohm[pair] = ohm;
        self
    }
}

/// Of a run, driven so: its nodes' voltages.
type Solved = ((Run, [Drive; 4]), [f64; 12]);

/// The jig: its true series resistors, and noise of one conversion.
pub(crate) struct Jig {
    pub(crate) series_ohm: [f64; 4],
    pub(crate) noise_v: f64,
    pub(crate) hum_v: f64,
    phase: Phase,
    index: u16,
    now: u64,
    next_input: usize,
    along: bool,
    stood: Option<u8>,
    solved: Vec<Solved>,
}

impl Jig {
    pub(crate) fn new(phase: Phase) -> Self {
        Self {
            series_ohm: [345.7, 346.2, 345.9, 346.4],
            noise_v: 20e-6,
            hum_v: 0.0,
            phase,
            index: 0,
            now: 1_000_000,
            next_input: 0,
            along: phase == Phase::FlexAlong,
            stood: None,
            solved: vec![],
        }
    }

    pub(crate) fn setup(&self, baseline_ohm: [Option<f64>; 4]) -> FlexSetup {
        let milli = |ohm: f64| Milliohms((ohm * 1e3).round() as u64);
        FlexSetup {
            phase: self.phase,
            parts: JigParts {
                series: self.series_ohm.map(milli),
                series_tolerance_ppm: 5_000,
                pull: milli(PULL_OHM),
                divider: milli(4_522_000.0),
                sense: milli(SENSE_OHM),
            },
            plug: Plug { ring: RING_OHM.map(milli), tolerance_ppm: 1_000 },
            baseline_ohm,
            step_ohm: FlexSetup::STEP_OHM,
        }
    }

    pub(crate) const fn now(&self) -> u64 {
        self.now
    }

    /// Nodes by kind: sense 0 to 3, drive 4 to 7, posts 8 to 11.
    fn solve(&mut self, run: &Run, drives: [Drive; 4]) -> [f64; 12] {
        if let Some((_, volts)) = self.solved.iter().find(|(of, _)| *of == (*run, drives)) {
            return *volts;
        }
        self.solved.truncate(7);
        let (sense, drive, post, terminal, star) = (1, 5, 9, 13, 17);
        let mut network = Network::new(17);
        for (n, level) in drives.into_iter().enumerate() {
            let volts = if level == High { SUPPLY_V } else { 0.0 };
            network.source(drive + n, volts, PIN_OHM);
            network.resistor(drive + n, post + n, self.series_ohm[n]);
            network.resistor(post + n, sense + n, SENSE_OHM);
            network.resistor(sense + n, star, PULL_OHM);
            network.resistor(post + n, terminal + n, run.ohm[n].max(1e-3));
        }
        for (n, (a, b)) in Post::PAIRS.into_iter().enumerate() {
            network.resistor(terminal + a.index(), terminal + b.index(), run.touch_ohm[n]);
        }
        if run.plug {
            let ring = [(0, 2), (2, 3), (3, 1), (1, 0)];
            for ((a, b), ohm) in ring.into_iter().zip(RING_OHM) {
                network.resistor(terminal + a, terminal + b, ohm);
            }
        }
        let volts = network.solve();
        let volts = std::array::from_fn(|n| volts[n + 1]);
        self.solved.insert(0, ((*run, drives), volts));
        volts
    }

    /// The posts whose sense nodes are in the catcher's window.
    pub(crate) fn carries(&mut self, run: &Run, drives: [Drive; 4]) -> u8 {
        let volts = self.solve(run, drives);
        (0..4).filter(|n| (0.7..2.6).contains(&volts[*n])).fold(0, |bits, n| bits | 1 << n)
    }

    pub(crate) fn drives(&self) -> [Drive; 4] {
        if self.along { ALONG } else { ACROSS }
    }

    /// The catcher's edges; the first of all says how the posts stand.
    fn edges(&mut self, runs: &[(u64, Run)], from: u64, until: u64) -> Vec<Edge> {
        let drives = self.drives();
        let mut edges = vec![];
        let first = [(from, run_at(runs, from))];
        for (at, run) in first.iter().chain(between(runs, from, until)) {
            let carries = self.carries(run, drives);
            let stood = self.stood.replace(carries);
            let changed = stood.map_or(0, |stood| stood ^ carries);
            if stood.is_none() || changed != 0 {
                edges.push(Edge { at: Microseconds(*at), carries, changed });
            }
        }
        edges
    }

    /// Patterns, each behind its edges, while the run is as `runs` say from their times on.
    pub(crate) fn watch(
        &mut self,
        runs: &[(u64, Run)],
        until: u64,
        chance: &mut Chance,
    ) -> Vec<Event> {
        let mut events = vec![];
        while self.now < until {
            let from = self.now;
            let end = from + 8 * SLOT_US;
            for some in self.edges(runs, from, end).chunks(Edges::EDGES_MAX) {
                let edges = some.iter().copied().collect();
                events.push(Event::Edges(Edges {
                    index: self.index,
                    phase: self.phase,
                    dropped: 0,
                    edges,
                }));
                self.index = self.index.wrapping_add(1);
            }
            events.push(Event::Pattern(self.pattern(runs, chance)));
            self.index = self.index.wrapping_add(1);
            if self.phase == Phase::FlexShorts {
                self.along = !self.along;
                // The drives settle, and the catcher begins anew.
                self.now += 600;
                self.stood = None;
            }
        }
        events
    }

    fn pattern(&mut self, runs: &[(u64, Run)], chance: &mut Chance) -> Pattern {
        let mut pattern = Pattern {
            index: self.index,
            phase: self.phase,
            step: Step::Flex,
            drives: self.drives(),
            pulls: [Drive::Off; 2],
            relays_closed: true,
            readings: heapless::Vec::new(),
        };
        for _ in 0..8 {
            let n = self.next_input % 3;
            self.next_input += 1;
            let [sense_v, drive_v] = self.converted(runs, n, pattern.drives);
            let hum_v = self.hum_v * (self.now as f64 * 1e-6 * 60.0 * std::f64::consts::TAU).sin();
            let channels = [(Converter::Sense, sense_v + hum_v), (Converter::Drive, drive_v)];
            for (converter, volts) in channels {
                let volts = volts + chance.normal(self.noise_v);
                let reading = Reading {
                    channel: Channel { converter, input: INPUTS[n] },
                    range: Range::V4,
                    code: (volts / CODE_V).round() as i16,
                    at: Microseconds(self.now),
                };
                pattern.readings.push(reading).expect("sixteen");
            }
            self.now += SLOT_US;
        }
        pattern
    }

    /// What the conversion that begins now averages.
    fn converted(&mut self, runs: &[(u64, Run)], n: usize, drives: [Drive; 4]) -> [f64; 2] {
        let (from, until) = (self.now, self.now + CONVERSION_US);
        let mut mean = [0.0; 2];
        let mut add = |jig: &mut Self, run: &Run, us: u64| {
            let volts = jig.solve(run, drives);
            let share = us as f64 / CONVERSION_US as f64;
            mean[0] += (volts[n] - volts[3]) * share;
            mean[1] += (volts[4 + n] - volts[7]) * share;
        };
        let (mut at, mut run) = (from, run_at(runs, from));
        for (change, next) in between(runs, from, until) {
            add(self, &run, change - at);
            (at, run) = (*change, *next);
        }
        add(self, &run, until - at);
        mean
    }
}

/// What changes between two times.
fn between(runs: &[(u64, Run)], from: u64, until: u64) -> &[(u64, Run)] {
    let place = |time| runs.partition_point(|(at, _)| *at < time);
    &runs[place(from + 1)..place(until).max(place(from + 1))]
}

fn run_at(runs: &[(u64, Run)], at: u64) -> Run {
    runs[runs.partition_point(|(from, _)| *from <= at) - 1].1
}
