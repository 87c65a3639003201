//! What is typed or piped in while something goes on: whole lines, until somebody else reads the keys.

use std::io::{self, BufRead, IsTerminal};
use std::os::fd::AsRawFd;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, Receiver};
use std::thread;
#[cfg(feature = "screen")]
use std::thread::JoinHandle;

use nix::poll::{PollFd, PollFlags, poll};

use super::Keys;

/// How soon it lets go of the keys.
const LOOKS_EVERY_MS: i32 = 50;

/// More of a line is nothing that anybody says.
const LINE_BYTES_MAX: usize = 4_096;

/// Lines of standard input, whatever that is.
pub(crate) struct Typed {
    lines: Receiver<String>,
    presses: Option<Receiver<()>>,
    stop: Arc<AtomicBool>,
    #[cfg(feature = "screen")]
    reader: Option<JoinHandle<()>>,
}

impl Typed {
    /// Listens from now on.
    pub(crate) fn listen() -> Self {
        let (typing, lines) = mpsc::channel();
        let (pressing, presses) = mpsc::channel();
        let stop = Arc::new(AtomicBool::new(false));
        let told = stop.clone();
        let reader = thread::spawn(move || {
            let mut line = vec![];
            while !told.load(Ordering::Relaxed) {
                let Some(more) = read() else { return };
                for byte in more {
                    if byte != b'\n' {
                        line.extend((line.len() < LINE_BYTES_MAX).then_some(byte));
                        continue;
                    }
                    let text = String::from_utf8_lossy(&line).trim().to_owned();
                    line.clear();
                    let _nobody_waits_for_keys = pressing.send(());
                    if typing.send(text).is_err() {
                        return;
                    }
                }
            }
        });
        let presses = io::stdin().is_terminal().then_some(presses);
        #[cfg(not(feature = "screen"))]
        drop(reader);
        Self {
            lines,
            presses,
            stop,
            #[cfg(feature = "screen")]
            reader: Some(reader),
        }
    }

    /// The same as keys that are pressed; of a pipe none are. Once.
    pub(crate) fn keys(&mut self) -> Keys {
        Keys::from(self.presses.take())
    }

    /// The next line that nobody has taken yet.
    pub(crate) fn line(&self) -> Option<String> {
        self.lines.try_recv().ok()
    }

    /// Lets somebody else read from now on.
    #[cfg(feature = "screen")]
    pub(crate) fn stop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
        if let Some(reader) = self.reader.take() {
            let _ended = reader.join();
        }
    }
}

impl Drop for Typed {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// What is there by now: of a terminal whole lines. None at the end of the input.
fn read() -> Option<Vec<u8>> {
    let mut input = io::stdin().lock();
    let mut waits = [PollFd::new(input.as_raw_fd(), PollFlags::POLLIN)];
    if poll(&mut waits, LOOKS_EVERY_MS).unwrap_or(0) == 0 {
        return Some(vec![]);
    }
    let here = input.fill_buf().ok().filter(|here| !here.is_empty())?.to_vec();
    input.consume(here.len());
    Some(here)
}
