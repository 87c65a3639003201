//! What stands between the engine and the posts: drive lines, pull lines, reference capacitors, relays.

use core::convert::Infallible;
use core::future::Future;

use embedded_hal::digital::OutputPin;
use runproof_protocol::{Drive, Post};

/// A three-state line, for which embedded-hal has no trait.
pub trait Line {
    /// Drives the line, or lets it float.
    fn set(&mut self, drive: Drive);

    /// Of a line that floats: ready when it reads high.
    fn high(&mut self) -> impl Future<Output = ()>;
}

/// The jig's lines and coils.
#[derive(Debug)]
pub struct Bench<L, R> {
    posts: [L; 4],
    pulls: [L; 2],
    references: [L; 4],
    relays: R,
    relays_closed: bool,
    load: R,
    loaded: bool,
    supply_load: Option<R>,
    ring: R,
}

impl<L: Line, R: OutputPin<Error = Infallible>> Bench<L, R> {
    /// Takes the lines and makes them safe: see [`release`](Self::release). Not every jig has a supply load, and few have a
    /// fixture for made-up leads, whose ring `ring` switches.
    pub fn new(
        posts: [L; 4],
        pulls: [L; 2],
        references: [L; 4],
        relays: R,
        load: R,
        supply_load: Option<R>,
        ring: R,
    ) -> Self {
        let mut bench = Self {
            posts,
            pulls,
            references,
            relays,
            relays_closed: false,
            load,
            loaded: false,
            supply_load,
            ring,
        };
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

    /// Lets one post go under both pulls; ready when its line reads high.
    pub fn let_rise(&mut self, post: Post) -> impl Future<Output = ()> {
        self.pull([Drive::High; 2]);
        let line = &mut self.posts[post.index()];
        line.set(Drive::Off);
        line.high()
    }

    /// Puts each post's reference capacitor between its sense node and ground, or lets it float.
    pub fn refer(&mut self, on: bool) {
        let drive = if on { Drive::Low } else { Drive::Off };
        self.references.iter_mut().for_each(|line| line.set(drive));
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
        self.loaded = on;
    }

    /// Whether the load's coil is on.
    pub fn loaded(&self) -> bool {
        self.loaded
    }

    /// Whether there is a load for the supply of a live run.
    pub fn has_supply_load(&self) -> bool {
        self.supply_load.is_some()
    }

    /// Switches the coil that puts the supply load, if there is one, across posts 3 and 4, or takes it off.
    pub fn load_supply(&mut self, on: bool) {
        if let Some(coil) = &mut self.supply_load {
            let Ok(()) = coil.set_state(on.into());
        }
    }

    /// Joins the far ends of a lead in the fixture by its ring, or leaves them open.
    pub fn join_far_ends(&mut self, on: bool) {
        let Ok(()) = self.ring.set_state(on.into());
    }

    /// Nothing driven, relays open, no load: the state in which the jig leaves the run alone.
    pub fn release(&mut self) {
        self.drive([Drive::Off; 4]);
        self.pull([Drive::Off; 2]);
        self.refer(false);
        self.load(false);
        self.load_supply(false);
        self.join_far_ends(false);
        let Ok(()) = self.relays.set_low();
        self.relays_closed = false;
    }
}
