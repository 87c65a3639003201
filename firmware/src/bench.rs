//! What stands between the engine and the posts: drive lines, pull lines, relays.

use core::convert::Infallible;

use embedded_hal::digital::OutputPin;
use runproof_protocol::Drive;

/// A three-state line, for which embedded-hal has no trait.
pub trait Line {
    /// Drives the line, or lets it float.
    fn set(&mut self, drive: Drive);
}

/// The jig's lines.
#[derive(Debug)]
pub struct Bench<L, R> {
    posts: [L; 4],
    pulls: [L; 2],
    relays: R,
    relays_closed: bool,
    load: R,
}

impl<L: Line, R: OutputPin<Error = Infallible>> Bench<L, R> {
    /// Takes the lines and makes them safe: see [`release`](Self::release).
    pub fn new(posts: [L; 4], pulls: [L; 2], relays: R, load: R) -> Self {
        let mut bench = Self { posts, pulls, relays, relays_closed: false, load };
        bench.release();
        bench
    }

    /// Drives the four posts.
    pub fn drive(&mut self, drives: [Drive; 4]) {
        for (line, drive) in self.posts.iter_mut().zip(drives) {
            line.set(drive);
        }
    }

    /// Drives the two pull lines.
    pub fn pull(&mut self, drives: [Drive; 2]) {
        for (line, drive) in self.pulls.iter_mut().zip(drives) {
            line.set(drive);
        }
    }

    /// Switches the coil that joins all four posts to drives and sense nodes.
    pub fn close_relays(&mut self) {
        let Ok(()) = self.relays.set_high();
        self.relays_closed = true;
    }

    /// Whether the relays' coil is on.
    pub fn relays_closed(&self) -> bool {
        self.relays_closed
    }

    /// Switches the coil that puts the load across the posts, or takes it off.
    pub fn load(&mut self, on: bool) {
        let Ok(()) = self.load.set_state(on.into());
    }

    /// Nothing driven, relays open, no load: the state in which the jig leaves the run alone.
    pub fn release(&mut self) {
        self.drive([Drive::Off; 4]);
        self.pull([Drive::Off; 2]);
        self.load(false);
        let Ok(()) = self.relays.set_low();
        self.relays_closed = false;
    }
}
