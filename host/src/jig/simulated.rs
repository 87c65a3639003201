//! The simulated jig as a port: it runs while it is read, in its own time.

use std::io;

use runproof_firmware::boards::simulated::{Scene, SimulatedJig};

use super::{PATIENCE, Port};

pub(crate) struct SimulatedPort(SimulatedJig);

impl SimulatedPort {
    pub(crate) fn new(scene: Scene, seed: u64) -> Self {
        Self(SimulatedJig::new(scene, seed))
    }

    fn run(&mut self) {
        let patience_nanos = u64::try_from(PATIENCE.as_nanos()).unwrap_or(u64::MAX);
        self.0.run(self.0.now().saturating_add(patience_nanos));
    }
}

impl Port for SimulatedPort {
    fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        let mut rest = bytes;
        while !rest.is_empty() {
            let used = self.0.write(rest);
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
        while used < buffer.len() && self.0.read(&mut buffer[used..=used]) == 1 {
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
