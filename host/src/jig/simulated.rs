//! The simulated jig as a port: it runs while it is read, in its own time.

pub(crate) mod hands;
pub(crate) mod leads;
mod plugging;
mod socket;

use std::io;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;

use hands::Operator;
use runproof_firmware::boards::simulated::{Scene, SimulatedJig};

use super::{PATIENCE, Port};

const NANOS_PER_MILLI: u64 = 1_000_000;

/// Somebody who listens hears a tone within this.
const HEARS_WITHIN_NANOS: u64 = 20_000_000;

pub(crate) struct SimulatedPort {
    jig: SimulatedJig,
    worked: Option<Worked>,
}

/// Somebody is at its sockets.
struct Worked {
    operator: Arc<Mutex<Operator>>,
    fixture: usize,
    /// What sounded when it was last listened to.
    sounding: Option<u16>,
}

impl SimulatedPort {
    pub(crate) fn new(scene: Scene, seed: u64) -> Self {
        Self { jig: SimulatedJig::new(scene, seed), worked: None }
    }

    /// The same, as one of the fixtures that an operator works at.
    pub(crate) fn worked(
        scene: Scene,
        seed: u64,
        operator: Arc<Mutex<Operator>>,
        fixture: usize,
    ) -> Self {
        let worked = Some(Worked { operator, fixture, sounding: None });
        Self { worked, ..Self::new(scene, seed) }
    }

    fn run(&mut self) {
        let patience_nanos = u64::try_from(PATIENCE.as_nanos()).unwrap_or(u64::MAX);
        let until = self.jig.now().saturating_add(patience_nanos);
        let Some(worked) = &mut self.worked else { return self.jig.run(until) };
        loop {
            let next = worked.next(self.jig.now()).min(until).max(self.jig.now());
            if next == self.jig.now() && next < until {
                thread::sleep(Duration::from_micros(100)); // another jig's clock is behind
                worked.attend(&mut self.jig);
                return;
            }
            self.jig.run(next);
            worked.attend(&mut self.jig);
            if self.jig.now() < next || next >= until {
                return; // it has something to say, or nothing in time
            }
        }
    }
}

impl Worked {
    /// So far it may run until the operator is looked at again.
    fn next(&self, now: u64) -> u64 {
        let operator = self.operator();
        let listens = (now + HEARS_WITHIN_NANOS).min(operator.may_run_to(self.fixture));
        operator.due(self.fixture).map_or(listens, |due| due.min(listens))
    }

    fn attend(&mut self, jig: &mut SimulatedJig) {
        let tone = jig.tone();
        let begins = tone.filter(|_| self.sounding.is_none());
        self.sounding = tone;
        let mut operator = self.operator();
        operator.attend(self.fixture, jig.now(), begins);
        while let Some(run) = operator.act(self.fixture, jig.now()) {
            jig.clip(run, true);
        }
    }

    fn operator(&self) -> MutexGuard<'_, Operator> {
        self.operator.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Drop for Worked {
    fn drop(&mut self) {
        self.operator().leave(self.fixture);
    }
}

impl Port for SimulatedPort {
    fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        let mut rest = bytes;
        while !rest.is_empty() {
            let used = self.jig.write(rest);
            rest = &rest[used..];
            if used == 0 {
                self.run();
            }
        }
        Ok(())
    }

    fn receive(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        self.run();
        // One frame, up to the zero byte that ends it.
        let mut used = 0;
        while used < buffer.len() && self.jig.read(&mut buffer[used..=used]) == 1 {
            used += 1;
            if buffer[used - 1] == 0 {
                break;
            }
        }
        Ok(used)
    }

    fn waits_for_host(&self) -> bool {
        true
    }
}
