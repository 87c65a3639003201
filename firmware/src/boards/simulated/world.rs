//! All that a microcontroller's pins and bus see: lines in, converters' bytes out.
//!
//! Every call says when it happens; times never run backwards.

use rand::SeedableRng;
use rand_pcg::Pcg32;
use runproof_protocol::{Converter, Drive};

use super::Nanoseconds;
use super::converters::ConverterModel;
use super::electronics::{Electronics, Lines, Looks};
use super::parts::Parts;
use super::scene::Scene;
use crate::converter::ads1115;

/// A relay's contacts close this long after the coil is on, and open after it is off.
const CLOSING_NANOS: u64 = 15_000_000;
const OPENING_NANOS: u64 = 4_000_000;

/// The bench around the microcontroller.
#[derive(Debug)]
pub struct World {
    scene: Scene,
    parts: Parts,
    random: Pcg32,
    now: Nanoseconds,
    lines: Lines,
    coil_on: bool,
    contacts_due: Option<Nanoseconds>,
    converters: [ConverterModel; 3],
    addressed: Option<Converter>,
    solved: Option<Electronics>,
}

impl World {
    /// A jig with parts drawn from `seed`, clipped to the run of `scene`.
    #[must_use]
    pub fn new(scene: Scene, seed: u64) -> Self {
        let mut random = Pcg32::seed_from_u64(seed);
        let parts = Parts::drawn(&mut random);
        Self {
            converters: parts.converters.clone().map(ConverterModel::new),
            scene,
            parts,
            random,
            now: 0,
            lines: Lines::default(),
            coil_on: false,
            contacts_due: None,
            addressed: None,
            solved: None,
        }
    }

    /// Drives post 1–4, by index 0–3.
    pub fn drive(&mut self, post: usize, drive: Drive, at: Nanoseconds) {
        self.advance(at);
        if let Some(line) = self.lines.posts.get_mut(post) {
            *line = drive;
            self.solved = None;
        }
    }

    /// Drives a pull line.
    pub fn pull(&mut self, line: usize, drive: Drive, at: Nanoseconds) {
        self.advance(at);
        if let Some(line) = self.lines.pulls.get_mut(line) {
            *line = drive;
            self.solved = None;
        }
    }

    /// Switches the relays' coil; the contacts follow.
    pub fn coil(&mut self, on: bool, at: Nanoseconds) {
        self.advance(at);
        if on != self.coil_on {
            self.coil_on = on;
            self.contacts_due = Some(at + if on { CLOSING_NANOS } else { OPENING_NANOS });
        }
    }

    /// Whether nothing is driven and the coil is off.
    #[must_use]
    pub fn released(&self) -> bool {
        !self.coil_on
            && self.lines.posts.iter().chain(&self.lines.pulls).all(|line| *line == Drive::Off)
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
        if self.converters[converter.index()].write(byte, at) {
            self.solved = None;
        }
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

    /// Lets time pass, from one change of the circuit to the next.
    fn advance(&mut self, to: Nanoseconds) {
        while self.now < to {
            let ends = self.converters.iter().filter_map(ConverterModel::due);
            let next = ends.chain(self.contacts_due).fold(to, Nanoseconds::min).max(self.now);
            self.pass(next);
        }
    }

    /// The circuit stands still from now to `to`.
    fn pass(&mut self, to: Nanoseconds) {
        let span = (self.now, to);
        let looks: Looks = [0, 1, 2].map(|n: usize| self.converters[n].look());
        if looks.iter().any(Option::is_some) {
            let hertz = self.scene.foreign.as_ref().map_or(0.0, |foreign| foreign.hertz);
            let solved = self.solved.get_or_insert_with(|| {
                Electronics::new(&self.scene, &self.parts, &self.lines, &looks)
            });
            for (converter, look) in Converter::ALL.into_iter().zip(looks) {
                let Some((input, _)) = look else { continue };
                let seen = solved.seen(converter, input);
                self.converters[converter.index()].pass(seen, hertz, span, &mut self.random);
            }
        }
        self.now = to;
        if self.contacts_due.is_some_and(|due| due <= to) {
            self.contacts_due = None;
            self.lines.contacts_closed = self.coil_on;
            self.solved = None;
        }
        if looks.iter().zip(&self.converters).any(|(look, model)| *look != model.look()) {
            self.solved = None; // an input stage was switched off
        }
    }
}
