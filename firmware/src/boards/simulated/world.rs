//! All that a microcontroller's pins and bus see: lines in, converters' bytes out.
//!
//! Every call says when it happens; times never run backwards.

use std::collections::VecDeque;
use std::vec::Vec;

use rand_pcg::Pcg32;
use runproof_protocol::{Converter, Drive};

use super::Nanoseconds;
use super::catcher::Catcher;
use super::contacts::Contacts;
use super::converters::ConverterModel;
use super::electronics::{Electronics, Lines, Looks};
use super::flexing::{Away, Flexing};
use super::parts::Parts;
use super::release::Releases;
use super::scene::{EndPlug, Run, Scene};
use super::wiring::Stands;
use crate::converter::ads1115;

/// The person at the far end hears that the open phase is over, and puts the plug in.
const PLUG_MOVES_AFTER_NANOS: u64 = 100_000_000;

/// A plug phase holds the relays closed for longer, a glance for less.
const PLUG_PHASE_NANOS: u64 = 250_000_000;

/// The bench around the microcontroller.
#[derive(Debug)]
pub struct World {
    scene: Scene,
    seed: u64,
    parts: Parts,
    random: Pcg32,
    now: Nanoseconds,
    lines: Lines,
    relays: Contacts,
    load: Contacts,
    supply_load: Contacts,
    ring: Contacts,
    stands: Stands,
    changes: Changes,
    converters: [ConverterModel; 3],
    addressed: Option<Converter>,
    solved: Option<Electronics>,
    releases: Releases,
    flexing: Flexing,
    catcher: Catcher,
    /// How posts stood at each of the catcher's edges, and when, since they were asked for.
    edges: VecDeque<(Nanoseconds, u8)>,
}

/// More edges than this are not kept for somebody who does not ask.
const EDGES_MAX: usize = 10_000;

/// When the run itself changes: each once.
#[derive(Clone, Debug, Default)]
struct Changes {
    /// What a scene says happens at a time, the earliest last.
    at: Vec<Nanoseconds>,
    /// The pulls have been driven with the relays closed: an open phase is being measured.
    open_phase_seen: bool,
    /// The posts' coil was switched on last.
    closed_at: Nanoseconds,
    /// The plug goes in, or out.
    plug: Option<Nanoseconds>,
}

impl World {
    /// A jig with parts drawn from `seed`, clipped to the run of `scene`.
    #[must_use]
    pub fn new(scene: Scene, seed: u64) -> Self {
        let (parts, random) = Parts::of(seed, &scene);
        Self {
            converters: parts.converters.clone().map(ConverterModel::new),
            parts,
            random,
            now: 0,
            lines: Lines::default(),
            relays: Contacts::default(),
            load: Contacts::default(),
            supply_load: Contacts::default(),
            ring: Contacts::default(),
            stands: Stands {
                plug_in: matches!(scene.plug, EndPlug::In | EndPlug::GoesOut),
                seconds: 0.0,
                away: Away::default(),
            },
            changes: Changes { at: scene.changes(), ..Changes::default() },
            addressed: None,
            solved: None,
            releases: Releases::default(),
            flexing: Flexing::new(&scene, seed),
            catcher: Catcher::default(),
            edges: VecDeque::new(),
            scene,
            seed,
        }
    }

    /// Somebody puts another run on the clips, or the same one otherwise; its contacts are others each time.
    pub fn clip(&mut self, run: Run, plug_in: bool, at: Nanoseconds) {
        self.advance(at);
        self.scene.run = run;
        self.scene.jig.clipped_before += 1;
        self.parts = Parts::of(self.seed, &self.scene).0;
        self.stands.plug_in = if self.is_switched() { self.ring.closed() } else { plug_in };
        self.solved = None;
        self.releases.forget();
    }

    /// Drives post 1–4, by index 0–3.
    pub fn drive(&mut self, post: usize, drive: Drive, at: Nanoseconds) {
        self.switch(at, |lines| {
            if let Some(line) = lines.posts.get_mut(post) {
                *line = drive;
            }
        });
    }

    /// Drives a pull line.
    pub fn pull(&mut self, line: usize, drive: Drive, at: Nanoseconds) {
        self.switch(at, |lines| {
            if let Some(line) = lines.pulls.get_mut(line) {
                *line = drive;
            }
        });
        self.changes.open_phase_seen |= drive != Drive::Off && self.relays.closed();
    }

    /// Holds the other end of every reference capacitor, or lets it float.
    pub fn refer(&mut self, drive: Drive, at: Nanoseconds) {
        self.switch(at, |lines| lines.referred = drive != Drive::Off);
    }

    /// When the line of post 0–3, let go under both pulls, reads high; nothing if it does not.
    pub fn rises_at(&mut self, post: usize, at: Nanoseconds) -> Option<Nanoseconds> {
        self.advance(at);
        self.releases.rises_at(post, &self.scene, &self.parts, &self.lines, self.stands)
    }

    fn switch(&mut self, at: Nanoseconds, change: impl FnOnce(&mut Lines)) {
        self.advance(at);
        let before = self.lines;
        change(&mut self.lines);
        if self.lines != before {
            self.solved = None;
            self.releases.change(before, &self.lines, at, &mut self.random);
            self.catcher.rest();
            self.follow();
        }
    }

    /// Switches the posts' relays' coil; the contacts follow.
    pub fn coil(&mut self, on: bool, at: Nanoseconds) {
        self.advance(at);
        let was_on = self.relays.coil_on();
        self.relays.coil(on, at, &mut self.random);
        if on {
            self.changes.closed_at = if was_on { self.changes.closed_at } else { at };
            if !was_on && self.scene.run.warms_k_per_min != 0.0 {
                self.stands.seconds = at as f64 / 1e9;
                self.solved = None;
            }
            return;
        }
        let open_phase = self.changes.open_phase_seen;
        let plug_phase = was_on && !open_phase && at - self.changes.closed_at >= PLUG_PHASE_NANOS;
        let changes = match self.scene.plug {
            EndPlug::GoesIn => open_phase && !self.stands.plug_in,
            EndPlug::GoesOut => plug_phase && self.stands.plug_in,
            EndPlug::In | EndPlug::Out | EndPlug::Switched => false,
        };
        if changes {
            self.changes.plug.get_or_insert(at + PLUG_MOVES_AFTER_NANOS);
        }
        if self.scene.plug == EndPlug::GoesOut {
            self.changes.open_phase_seen = false;
        }
    }

    /// Switches the load's coil.
    pub fn load_coil(&mut self, on: bool, at: Nanoseconds) {
        self.advance(at);
        self.load.coil(on, at, &mut self.random);
    }

    /// Whether the jig has a load for the supply of a live run.
    #[must_use]
    pub fn has_supply_load(&self) -> bool {
        self.scene.jig.supply_load
    }

    /// Switches its coil, if it has one.
    pub fn supply_load_coil(&mut self, on: bool, at: Nanoseconds) {
        self.advance(at);
        if self.has_supply_load() {
            self.supply_load.coil(on, at, &mut self.random);
        }
    }

    /// Switches the coil of the ring's relays, if there is a fixture that has them.
    pub fn ring_coil(&mut self, on: bool, at: Nanoseconds) {
        self.advance(at);
        if self.is_switched() {
            self.ring.coil(on, at, &mut self.random);
        }
    }

    fn is_switched(&self) -> bool {
        self.scene.plug == EndPlug::Switched
    }

    /// Whether nothing is driven and all coils are off.
    #[must_use]
    pub fn released(&self) -> bool {
        !self.relays.coil_on()
            && !self.load.coil_on()
            && !self.supply_load.coil_on()
            && !self.ring.coil_on()
            && self.lines.posts.iter().chain(&self.lines.pulls).all(|line| *line == Drive::Off)
    }

    /// How posts 1–4 are driven.
    #[must_use]
    pub fn drives(&self) -> [Drive; 4] {
        self.lines.posts
    }

    /// The voltage at each post against the jig's mid voltage, as the followers show it.
    pub fn followed_v(&mut self, at: Nanoseconds) -> [f64; 4] {
        self.advance(at);
        let radians = |hertz: f64| std::f64::consts::TAU * hertz * at as f64 * 1e-9;
        self.electronics().followed().each_ref().map(|emf| emf.at(at as f64 * 1e-9, radians))
    }

    /// What flows through each pair of the key's lights, in amperes; none, where it is not turned over.
    pub fn lights_a(&mut self, at: Nanoseconds) -> Vec<f64> {
        self.advance(at);
        self.electronics().lights_a()
    }

    /// How warm the jig is, in °C.
    #[must_use]
    pub fn celsius(&self) -> f64 {
        self.scene.jig.celsius
    }

    /// How long a conversion of converter 0–2 takes, by its own oscillator.
    #[must_use]
    pub fn conversion_nanos(&self, converter: usize) -> Nanoseconds {
        self.parts.converters.get(converter).map_or(0, |one| one.conversion_nanos)
    }

    /// A transfer begins; false if nobody has that address.
    pub fn bus_start(&mut self, address: u8, at: Nanoseconds) -> bool {
        self.advance(at);
        self.addressed = Converter::ALL.into_iter().find(|one| ads1115::address(*one) == address);
        if let Some(converter) = self.addressed {
            self.converters[converter.index()].addressed();
        }
        self.addressed.is_some()
    }

    /// A byte to the addressed converter; false if there is none.
    pub fn bus_write(&mut self, byte: u8, at: Nanoseconds) -> bool {
        self.advance(at);
        let Some(converter) = self.addressed else {
            return false;
        };
        self.converters[converter.index()].write(byte, at);
        true
    }

    /// A byte from the addressed converter; all ones if there is none.
    pub fn bus_read(&mut self, at: Nanoseconds) -> u8 {
        self.advance(at);
        self.addressed.map_or(0xFF, |converter| self.converters[converter.index()].give())
    }

    /// The transfer is over.
    pub fn bus_stop(&mut self, at: Nanoseconds) {
        self.advance(at);
        self.addressed = None;
    }

    /// Which posts' sense nodes stand between the edge catcher's thresholds, the lowest bit first.
    pub fn between(&mut self, at: Nanoseconds) -> u8 {
        self.advance(at);
        if let Some(between) = self.catcher.between() {
            return between;
        }
        let [low, high] = self.parts.window_volts;
        let seconds = at as f64 * 1e-9;
        let radians = |hertz: f64| std::f64::consts::TAU * hertz * seconds;
        let senses = self.electronics().senses();
        let is_between = senses.map(|emf| (low..high).contains(&emf.at(seconds, radians)));
        is_between.iter().rev().fold(0, |posts, between| posts << 1 | u8::from(*between))
    }

    /// The edges since the last call, the first first: when, and how posts stand from then on.
    pub fn edges(&mut self, at: Nanoseconds) -> impl Iterator<Item = (Nanoseconds, u8)> {
        self.advance(at);
        self.edges.drain(..)
    }

    /// When the posts may stand otherwise next, if nobody switches anything.
    pub fn edge_due(&mut self, at: Nanoseconds) -> Option<Nanoseconds> {
        self.advance(at);
        self.catcher.between()?;
        self.catcher.due().into_iter().chain(self.flexing.due()).min()
    }

    /// The run is driven as it is flexed: all posts, and not alike.
    fn is_followed(&self) -> bool {
        let [first, rest @ ..] = self.lines.posts;
        self.lines.contacts_closed
            && !self.lines.posts.contains(&Drive::Off)
            && rest.iter().any(|drive| *drive != first)
    }

    fn follow(&mut self) {
        if self.is_followed() {
            self.catcher.change(self.now, &self.scene, &self.parts, &self.lines, self.stands);
        } else if self.catcher.between().is_some() {
            self.catcher.rest();
        }
    }

    fn electronics(&mut self) -> &mut Electronics {
        let Self { solved, scene, parts, lines, stands, .. } = self;
        solved.get_or_insert_with(|| Electronics::new(scene, parts, lines, *stands))
    }

    /// Lets time pass, from one change of the circuit to the next.
    fn advance(&mut self, to: Nanoseconds) {
        while self.now < to {
            let ends = self.converters.iter().filter_map(ConverterModel::due);
            let contacts = [&self.relays, &self.load, &self.supply_load, &self.ring];
            let contacts = contacts.into_iter().filter_map(Contacts::due);
            let run = self.changes.at.last().copied().into_iter().chain(self.changes.plug);
            let moves = self.flexing.due().into_iter().chain(self.catcher.due());
            let next = ends
                .chain(contacts)
                .chain(run)
                .chain(moves)
                .fold(to, Nanoseconds::min)
                .max(self.now);
            self.pass(next);
        }
    }

    /// The circuit stands still from now to `to`.
    fn pass(&mut self, to: Nanoseconds) {
        let span = (self.now, to);
        let looks: Looks = [0, 1, 2].map(|n: usize| self.converters[n].look());
        if looks.iter().any(Option::is_some) {
            self.electronics();
            let Self { solved: Some(solved), converters, random, .. } = self else { return };
            for (converter, seen) in converters.iter_mut().zip(solved.seen(&looks)) {
                if let Some(seen) = seen {
                    converter.pass(seen, span, random);
                }
            }
        }
        self.now = to;
        self.change();
    }

    /// What changes in the circuit now.
    fn change(&mut self) {
        let now = self.now;
        let relays = self.relays.advance(now, &mut self.random);
        let load = self.load.advance(now, &mut self.random);
        let supply_load = self.supply_load.advance(now, &mut self.random);
        let ring = self.ring.advance(now, &mut self.random);
        if self.is_switched() {
            self.stands.plug_in = self.ring.closed();
        }
        self.lines.contacts_closed = self.relays.closed();
        self.lines.loaded = self.load.closed();
        self.lines.supply_loaded = self.supply_load.closed();
        let plug = self.changes.plug.is_some_and(|due| due <= now);
        if plug {
            self.stands.plug_in = !self.stands.plug_in;
            self.changes.plug = None;
            self.changes.open_phase_seen = false;
        }
        let timed = self.changes.at.pop_if(|due| *due <= now).is_some();
        if timed {
            // Beyond what the change was due at, however that was rounded.
            self.stands.seconds = (now as f64 + 0.5) / 1e9;
        }
        let moved = self.flexing.advance(now, &mut self.stands.away);
        let looked_at = self.catcher.due().is_some_and(|due| due <= now);
        if self.catcher.advance(now) && self.edges.len() < EDGES_MAX {
            self.edges.extend(self.catcher.between().map(|between| (now, between)));
        }
        let changed = relays || load || supply_load || ring || plug || timed || moved;
        if changed {
            self.solved = None;
            self.releases.forget();
        }
        if changed || looked_at && self.catcher.looks_again(now) {
            self.follow();
        }
    }
}
