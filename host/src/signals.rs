//! Signals that ask the program to end: caught while something is watched, so that it is kept first.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::thread;

use nix::sys::signal::{SigSet, Signal, raise};

/// Ctrl-C, a plain `kill`, the terminal gone.
const CAUGHT: [Signal; 3] = [Signal::SIGINT, Signal::SIGTERM, Signal::SIGHUP];

/// Whoever asks so often does not want to wait.
const PATIENCE: u32 = 3;

/// What was asked for.
#[derive(Clone, Default)]
pub(crate) struct Signals {
    /// Until it is, a signal ends the program as ever.
    armed: Arc<AtomicBool>,
    /// The last one, by its number; 0: none.
    asked: Arc<AtomicU32>,
}

impl Signals {
    /// From now on. Before any other thread begins, as each takes over what is blocked.
    pub(crate) fn catch() -> Self {
        let mut caught = SigSet::empty();
        CAUGHT.into_iter().for_each(|signal| caught.add(signal));
        let signals = Self::default();
        if caught.thread_block().is_err() {
            return signals;
        }
        let told = signals.clone();
        thread::spawn(move || {
            let mut times = 0;
            while let Ok(signal) = caught.wait() {
                times += u32::from(told.armed.load(Ordering::Relaxed));
                if times == 0 || times > PATIENCE {
                    let _it_ends_here = caught.thread_unblock().and_then(|()| raise(signal));
                }
                told.asked.store(signal as u32, Ordering::Relaxed);
            }
        });
        signals
    }

    /// From now on they only ask.
    pub(crate) fn arm(&self) {
        self.armed.store(true, Ordering::Relaxed);
    }

    /// The one that asked, if any did.
    pub(crate) fn asked(&self) -> Option<Signal> {
        let asked = self.asked.load(Ordering::Relaxed);
        CAUGHT.into_iter().find(|signal| *signal as u32 == asked)
    }
}
