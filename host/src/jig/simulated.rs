//! The simulated jig as a port: it runs while it is read, in its own time.

use std::io;
use std::thread;
use std::time::Duration;

use runproof_firmware::boards::simulated::{Scene, SimulatedJig};

use super::{PATIENCE, Port};

/// A breath for the processor when the jig has nothing to say.
const BREATH: Duration = Duration::from_millis(1);

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
        let used = self.0.read(buffer);
        if used == 0 {
            thread::sleep(BREATH);
        }
        Ok(used)
    }
}
