//! All that a microcontroller's pins and bus see: lines in, converters' bytes out.
//!
//! Every call says when it happens; times never run backwards.

mod bus;
mod edges;
mod time;

use std::collections::VecDeque;
use std::vec::Vec;

use rand_pcg::Pcg32;
use runproof_protocol::{Converter, Drive};

use super::Nanoseconds;
use super::catcher::Catcher;
use super::contacts::Contacts;
use super::converters::ConverterModel;
use super::electronics::{Electronics, Lines};
use super::flexing::{Away, Flexing};
use super::parts::Parts;
use super::release::Releases;
use super::scene::{EndPlug, Run, Scene};
use super::wiring::Stands;

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

    fn electronics(&mut self) -> &mut Electronics {
        let Self { solved, scene, parts, lines, stands, .. } = self;
        solved.get_or_insert_with(|| Electronics::new(scene, parts, lines, *stands))
    }
}
