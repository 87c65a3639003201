//! The engine's lines, bus and clock on a simulated [`World`], in virtual time.

use core::cell::{Cell, RefCell};
use core::convert::Infallible;
use core::future::{pending, poll_fn};
use core::task::Poll;
use std::rc::Rc;

use embedded_hal::digital;
use embedded_hal_async::i2c::{self, ErrorKind, I2c, NoAcknowledgeSource, Operation};
use runproof_protocol::{Drive, Edge, HAZARD, Microseconds, Microvolts, Millicelsius};

use super::Nanoseconds;
use super::world::World;
use crate::bench::Line;
use crate::clock::Clock;
use crate::converter::Bus;
use crate::edges::Caught;
use crate::thermometer::Thermometer;
use crate::watch::Watch;

/// A byte and its acknowledge at 400 kHz.
const BYTE_NANOS: u64 = 9 * 2_500;
/// Between two looks of the watch.
const WATCH_NANOS: u64 = 100_000;
/// Start and stop.
const FRAMING_NANOS: u64 = 2 * 2_500;

/// What the simulated lines, bus and clock share.
#[derive(Debug)]
pub(super) struct Board {
    pub(super) world: RefCell<World>,
    pub(super) now: Cell<Nanoseconds>,
    /// The earliest time that anything waits for.
    pub(super) due: Cell<Nanoseconds>,
    /// Transfers that were dropped before their end.
    pub(super) cut_transfers: Cell<usize>,
}

impl Board {
    pub(super) fn new(world: World) -> Self {
        Self {
            world: RefCell::new(world),
            now: Cell::new(0),
            due: Cell::new(Nanoseconds::MAX),
            cut_transfers: Cell::new(0),
        }
    }

    async fn until(&self, at: Nanoseconds) {
        poll_fn(|_| {
            if self.now.get() >= at {
                return Poll::Ready(());
            }
            self.due.set(self.due.get().min(at));
            Poll::Pending
        })
        .await;
    }

    async fn pass(&self, nanos: u64) {
        self.until(self.now.get() + nanos).await;
    }
}

impl Clock for Rc<Board> {
    fn now(&self) -> Microseconds {
        Microseconds(self.now.get() / 1_000)
    }

    async fn until(&self, at: Microseconds) {
        Board::until(self, at.0 * 1_000).await;
    }
}

/// A drive line.
#[derive(Debug)]
pub(super) struct PostLine {
    pub(super) board: Rc<Board>,
    pub(super) wired: Wired,
}

/// The watch: each 100 µs it looks at the four followers.
pub struct Followers {
    pub(super) board: Rc<Board>,
    pub(super) watching: Cell<bool>,
    /// What the edge catcher has caught, and how posts stood at the last of it.
    pub(super) caught: Caught,
    pub(super) stood: Cell<u8>,
}

impl Watch for Followers {
    fn prepare(&self) {}

    fn begin(&self) {
        self.watching.set(true);
    }

    fn end(&self) -> Option<Microvolts> {
        self.watching.set(false);
        None
    }

    fn rearm(&self) {}

    async fn tripped(&self) -> Microvolts {
        let mut beyond_before = false;
        loop {
            self.board.pass(WATCH_NANOS).await;
            if !self.watching.get() {
                continue;
            }
            let posts = self.look().into_iter().map(|post| Microvolts(post.0.abs()));
            let largest = posts.fold(Microvolts(0), Microvolts::max);
            let beyond = largest > HAZARD;
            if beyond && beyond_before {
                return largest;
            }
            beyond_before = beyond;
        }
    }

    fn observe(&self) {}

    /// The simulated followers have no noise: one look does.
    fn observed(&self) -> [Microvolts; 4] {
        self.look()
    }

    fn between(&self) -> u8 {
        self.board.world.borrow_mut().between(self.board.now.get())
    }

    fn catch(&self) {
        let now = self.board.now.get();
        let mut world = self.board.world.borrow_mut();
        world.edges(now).for_each(drop);
        self.caught.clear();
        self.stood.set(world.between(now));
        self.caught.put((now / 1_000) as u32, self.stood.get(), 0);
    }

    fn caught(&self, now: Microseconds, first: bool) -> Option<Edge> {
        for (at, between) in self.board.world.borrow_mut().edges(now.0 * 1_000) {
            let before = self.stood.replace(between);
            self.caught.put((at / 1_000) as u32, between, before ^ between);
        }
        self.caught.take(now, first)
    }

    fn dropped(&self) -> u16 {
        self.caught.dropped()
    }
}

impl Thermometer for Rc<Board> {
    fn read(&self) -> Option<Millicelsius> {
        Some(Millicelsius((self.world.borrow().celsius() * 1e3) as i32))
    }
}

impl Followers {
    pub(super) fn new(board: &Rc<Board>) -> Self {
        let (watching, stood) = (Cell::new(false), Cell::new(0));
        Self { board: Rc::clone(board), watching, caught: Caught::new(), stood }
    }

    fn look(&self) -> [Microvolts; 4] {
        let posts_v = self.board.world.borrow_mut().followed_v(self.board.now.get());
        posts_v.map(|v| Microvolts((v * 1e6) as i64))
    }
}

/// Where a line leads.
#[derive(Clone, Copy, Debug)]
pub(super) enum Wired {
    Post(usize),
    Pull(usize),
    Reference,
}

impl Line for PostLine {
    fn set(&mut self, drive: Drive) {
        let now = self.board.now.get();
        let mut world = self.board.world.borrow_mut();
        match self.wired {
            Wired::Post(post) => world.drive(post, drive, now),
            Wired::Pull(line) => world.pull(line, drive, now),
            Wired::Reference => world.refer(drive, now),
        }
    }

    async fn high(&mut self) {
        let Wired::Post(post) = self.wired else { return pending().await };
        let now = self.board.now.get();
        let rises_at = self.board.world.borrow_mut().rises_at(post, now);
        match rises_at {
            Some(at) => Board::until(&self.board, at).await,
            None => pending().await,
        }
    }
}

/// A relay's coil.
#[derive(Debug)]
pub(super) struct Coil {
    pub(super) board: Rc<Board>,
    pub(super) which: Which,
}

/// What a coil switches.
#[derive(Clone, Copy, Debug)]
pub(super) enum Which {
    /// The four posts' relays.
    Relays,
    /// The load.
    Load,
    /// The supply load.
    SupplyLoad,
    /// The ring of a fixture.
    Ring,
}

impl Coil {
    fn switch(&self, on: bool) {
        let now = self.board.now.get();
        let mut world = self.board.world.borrow_mut();
        match self.which {
            Which::Relays => world.coil(on, now),
            Which::Load => world.load_coil(on, now),
            Which::SupplyLoad => world.supply_load_coil(on, now),
            Which::Ring => world.ring_coil(on, now),
        }
    }
}

impl digital::ErrorType for Coil {
    type Error = Infallible;
}

impl digital::OutputPin for Coil {
    fn set_low(&mut self) -> Result<(), Infallible> {
        self.switch(false);
        Ok(())
    }

    fn set_high(&mut self) -> Result<(), Infallible> {
        self.switch(true);
        Ok(())
    }
}

/// The converters' bus; a transfer takes its time.
#[derive(Debug)]
pub(super) struct SimulatedBus(pub(super) Rc<Board>);

impl i2c::ErrorType for SimulatedBus {
    type Error = ErrorKind;
}

impl I2c for SimulatedBus {
    async fn transaction(
        &mut self,
        address: u8,
        operations: &mut [Operation<'_>],
    ) -> Result<(), ErrorKind> {
        let board = &self.0;
        let cut = CountIfCut(board);
        for operation in operations {
            board.pass(FRAMING_NANOS / 2 + BYTE_NANOS).await;
            if !board.world.borrow_mut().bus_start(address, board.now.get()) {
                cut.ended();
                return Err(ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address));
            }
            match operation {
                Operation::Write(bytes) => {
                    for byte in *bytes {
                        board.pass(BYTE_NANOS).await;
                        board.world.borrow_mut().bus_write(*byte, board.now.get());
                    }
                }
                Operation::Read(bytes) => {
                    for byte in bytes.iter_mut() {
                        board.pass(BYTE_NANOS).await;
                        *byte = board.world.borrow_mut().bus_read(board.now.get());
                    }
                }
            }
        }
        board.pass(FRAMING_NANOS / 2).await;
        board.world.borrow_mut().bus_stop(board.now.get());
        cut.ended();
        Ok(())
    }
}

impl Bus for SimulatedBus {
    async fn recover(&mut self) {
        self.0.pass(9 * 2_500).await;
        self.0.world.borrow_mut().bus_stop(self.0.now.get());
    }
}

/// Counts a transfer that is dropped before it ended.
struct CountIfCut<'a>(&'a Board);

impl CountIfCut<'_> {
    fn ended(self) {
        core::mem::forget(self);
    }
}

impl Drop for CountIfCut<'_> {
    fn drop(&mut self) {
        self.0.cut_transfers.set(self.0.cut_transfers.get() + 1);
    }
}
