//! The simulated jig as a port: it runs while it is read, in its own time.

pub(crate) mod hands;
pub(crate) mod leads;
mod plugging;

use std::io;
use std::sync::{Arc, Mutex, PoisonError};

use hands::Operator;
use runproof_firmware::boards::simulated::{Scene, SimulatedJig};

use super::{PATIENCE, Port};

/// Somebody who listens hears a tone within this.
const HEARS_WITHIN_NANOS: u64 = 20_000_000;

pub(crate) struct SimulatedPort {
    jig: SimulatedJig,
    operator: Option<Arc<Mutex<Operator>>>,
    /// What sounded when it was last listened to.
    sounding: Option<u16>,
}

impl SimulatedPort {
    pub(crate) fn new(scene: Scene, seed: u64) -> Self {
        Self { jig: SimulatedJig::new(scene, seed), operator: None, sounding: None }
    }

    /// The same, with somebody at its sockets.
    pub(crate) fn worked(scene: Scene, seed: u64, operator: Arc<Mutex<Operator>>) -> Self {
        Self { operator: Some(operator), ..Self::new(scene, seed) }
    }

    fn run(&mut self) {
        let patience_nanos = u64::try_from(PATIENCE.as_nanos()).unwrap_or(u64::MAX);
        let until = self.jig.now().saturating_add(patience_nanos);
        let Some(operator) = self.operator.clone() else { return self.jig.run(until) };
        let mut operator = operator.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            let listens = self.jig.now() + HEARS_WITHIN_NANOS;
            let next = until.min(listens).min(operator.due().unwrap_or(until)).max(self.jig.now());
            self.jig.run(next);
            self.attend(&mut operator);
            if self.jig.now() < next || next >= until {
                return; // it has something to say, or nothing in time
            }
        }
    }

    fn attend(&mut self, operator: &mut Operator) {
        let tone = self.jig.tone();
        if let (None, Some(hertz)) = (self.sounding, tone) {
            operator.hear(self.jig.now(), hertz);
        }
        self.sounding = tone;
        while let Some(run) = operator.act(self.jig.now()) {
            self.jig.clip(run, true);
        }
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
