//! Signals that ask the program to end: caught while something is watched, so that it is kept first.

use std::sync::Arc;
use std::sync::atomic::{AtomicI32, Ordering};
use std::thread;

use signal_hook::consts::signal::{SIGHUP, SIGINT, SIGTERM};
use signal_hook::low_level::emulate_default_handler;

/// Ctrl-C, a plain `kill`, the terminal gone.
const CAUGHT: [i32; 3] = [SIGINT, SIGTERM, SIGHUP];

/// Whoever asks so often does not want to wait.
const PATIENCE: usize = 3;

/// What was asked for.
#[derive(Clone, Default)]
pub(crate) struct Signals {
    /// The last one, by its number; 0: none.
    asked: Arc<AtomicI32>,
}

impl Signals {
    /// From now on they only ask; until then, and where they cannot be caught, they end the program as ever.
    pub(crate) fn arm(&self) {
        let Ok(mut caught) = signal_hook::iterator::Signals::new(CAUGHT) else { return };
        let told = self.clone();
        thread::spawn(move || {
            for (times, signal) in caught.forever().enumerate() {
                if times >= PATIENCE {
                    let _it_ends_here = emulate_default_handler(signal);
                }
                told.asked.store(signal, Ordering::Relaxed);
            }
        });
    }

    /// The one that asked, if any did.
    pub(crate) fn asked(&self) -> Option<i32> {
        let asked = self.asked.load(Ordering::Relaxed);
        (asked != 0).then_some(asked)
    }
}
