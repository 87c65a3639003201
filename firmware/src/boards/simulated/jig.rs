//! A whole simulated jig: the engine on a simulated board, with a port for bytes.

use core::future::Future;
use core::pin::Pin;
use core::task::{Context, Waker};
use std::boxed::Box;
use std::format;
use std::rc::Rc;
use std::string::String;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::task::Wake;
use std::vec::Vec;

use embassy_futures::join::join3;
use runproof_protocol::Drive;

use super::Nanoseconds;
use super::board::{Board, Coil, Followers, PostLine, SimulatedBus, Which, Wired};
use super::face::{Desk, DeskFace, DeskKey};
use super::memory::Memory as OwnFlash;
use super::scene::{Run, Scene};
use super::world::World;
use crate::alone::Memory;
use crate::bench::Bench;
use crate::keep::{Keep, Records};
use crate::measure::Means;
use crate::session::{self, Bytes, Jig, Told};
use crate::signs::Showing;
use crate::slots::Slots;
use crate::watch::Watch;
use crate::{converter, identity, signs};

/// A jig that runs as fast as it is asked, in its own time.
pub struct SimulatedJig {
    board: Rc<Board>,
    ports: Rc<Ports>,
    engine: Pin<Box<dyn Future<Output = ()>>>,
    woken: Arc<Woken>,
    desk: Rc<Desk>,
}

struct Ports {
    from_host: Bytes,
    to_host: Bytes,
}

/// Whether the engine has something to do now.
struct Woken(AtomicBool);

impl Wake for Woken {
    fn wake(self: Arc<Self>) {
        self.0.store(true, Ordering::Relaxed);
    }
}

impl SimulatedJig {
    /// A jig built of parts drawn from `seed`, clipped to the run of `scene`.
    #[must_use]
    pub fn new(scene: Scene, seed: u64) -> Self {
        Self::watched(scene, seed, |followers| followers)
    }

    /// The same, with a memory of its own.
    #[must_use]
    pub fn keeping<K: Keep + 'static>(scene: Scene, seed: u64, memory: K) -> Self {
        Self::with(scene, seed, |followers| followers, memory)
    }

    /// The same, with a watch made of its followers.
    #[must_use]
    pub fn watched<W: Watch + 'static>(
        scene: Scene,
        seed: u64,
        watch: impl FnOnce(Followers) -> W,
    ) -> Self {
        Self::with(scene, seed, watch, Records::new(OwnFlash::default()))
    }

    fn with<W: Watch + 'static, K: Keep + 'static>(
        scene: Scene,
        seed: u64,
        watch: impl FnOnce(Followers) -> W,
        memory: K,
    ) -> Self {
        let board = Rc::new(Board::new(World::new(scene, seed)));
        let ports = Rc::new(Ports { from_host: Bytes::new(), to_host: Bytes::new() });
        let serial = format!("seed-{seed}");
        let watch = watch(Followers::new(&board));
        let desk = Rc::new(Desk::default());
        let (own_board, own_ports, own_desk) = (board.clone(), ports.clone(), desk.clone());
        let engine = Box::pin(engine(own_board, own_ports, own_desk, serial, watch, memory));
        Self { board, ports, engine, woken: Arc::new(Woken(AtomicBool::new(true))), desk }
    }

    /// Takes bytes from the host; returns how many there was room for.
    pub fn write(&mut self, bytes: &[u8]) -> usize {
        self.ports.from_host.try_write(bytes).unwrap_or(0)
    }

    /// Gives bytes to the host; returns how many there were.
    pub fn read(&mut self, buffer: &mut [u8]) -> usize {
        self.ports.to_host.try_read(buffer).unwrap_or(0)
    }

    /// Lets the jig run until its clock shows `until`, or until it has bytes for the host.
    pub fn run(&mut self, until: Nanoseconds) {
        self.run_while(until, |ports| ports.to_host.is_empty());
    }

    /// Lets time pass while nobody reads.
    pub fn idle(&mut self, nanos: Nanoseconds) {
        self.run_while(self.now() + nanos, |_| true);
    }

    fn run_while(&mut self, until: Nanoseconds, goes_on: impl Fn(&Ports) -> bool) {
        loop {
            self.settle();
            if !goes_on(&self.ports) || self.board.now.get() >= until {
                return;
            }
            self.board.now.set(self.board.due.get().min(until));
            self.woken.0.store(true, Ordering::Relaxed);
        }
    }

    /// Polls the engine until only time can wake it.
    fn settle(&mut self) {
        let waker = Waker::from(Arc::clone(&self.woken));
        let mut context = Context::from_waker(&waker);
        while self.woken.0.swap(false, Ordering::Relaxed) {
            self.board.due.set(Nanoseconds::MAX);
            let ended = self.engine.as_mut().poll(&mut context);
            debug_assert!(ended.is_pending(), "a jig runs for ever");
        }
    }

    /// Presses the key, or lets it go.
    pub fn press(&mut self, pressed: bool) {
        self.desk.pressed.set(pressed);
        self.woken.0.store(true, Ordering::Relaxed);
    }

    /// Puts another run on the clips, or the same one otherwise, with the end plug in or not.
    pub fn clip(&mut self, run: Run, plug_in: bool) {
        self.board.world.borrow_mut().clip(run, plug_in, self.board.now.get());
    }

    /// Which of the lamps beside posts 1–4 are lit now.
    #[must_use]
    pub fn lamps(&self) -> [bool; 4] {
        self.desk.lamps.get()
    }

    /// The tone that sounds now, in hertz.
    #[must_use]
    pub fn tone(&self) -> Option<u16> {
        self.desk.hertz.get()
    }

    /// The jig's clock.
    #[must_use]
    pub fn now(&self) -> Nanoseconds {
        self.board.now.get()
    }

    /// Whether nothing is driven and the relays' coil is off.
    #[must_use]
    pub fn released(&self) -> bool {
        self.board.world.borrow().released()
    }

    /// How posts 1–4 are driven.
    #[must_use]
    pub fn drives(&self) -> [Drive; 4] {
        self.board.world.borrow().drives()
    }

    /// What flows through each pair of the lights on the key's reverse face, across its contacts 1 and 2, and 3
    /// and 4, from the first to the second, in amperes; none, where the key is not turned over.
    #[must_use]
    pub fn lights_a(&self) -> Vec<f64> {
        self.board.world.borrow_mut().lights_a(self.board.now.get())
    }

    /// How many bus transfers were dropped before their end, which must never happen.
    #[must_use]
    pub fn cut_transfers(&self) -> usize {
        self.board.cut_transfers.get()
    }
}

/// The jig's tasks on one board.
async fn engine(
    board: Rc<Board>,
    ports: Rc<Ports>,
    desk: Rc<Desk>,
    serial: String,
    watch: impl Watch,
    mut records: impl Keep,
) {
    let line = |wired| PostLine { board: Rc::clone(&board), wired };
    let posts = [0, 1, 2, 3].map(|post| line(Wired::Post(post)));
    let pulls = [0, 1].map(|pull| line(Wired::Pull(pull)));
    let references = [0, 1, 2, 3].map(|_| line(Wired::Reference));
    let coil = |which| Coil { board: Rc::clone(&board), which };
    let has_supply_load = board.world.borrow().has_supply_load();
    let supply_load = has_supply_load.then(|| coil(Which::SupplyLoad));
    let [relays, load, ring] = [Which::Relays, Which::Load, Which::Ring].map(coil);
    let mut bench = Bench::new(posts, pulls, references, relays, load, supply_load, ring);
    let mut bus = SimulatedBus(Rc::clone(&board));
    let slots = Slots::new();
    let mut told = Told { identity: identity("simulated", &serial), restart: None };
    let showing = Showing::new();
    let mut memory = Memory::new();
    let means = Means { slots: &slots, clock: &board, watch: &watch, showing: &showing };
    let jig = Jig { bench: &mut bench, means, thermometer: &board, memory: &mut memory };
    let mut face = DeskFace(desk.clone());
    let mut key = DeskKey(desk);
    join3(
        converter::serve(&slots, &mut bus, &board),
        session::run(&mut told, &mut records, jig, &mut key, &ports.from_host, &ports.to_host),
        signs::play(&mut face, &showing, &board),
    )
    .await;
}
