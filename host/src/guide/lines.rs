//! What is typed beside a station: nothing but Enter ends it, `u` takes the last lead back.

use std::cell::Cell;
use std::io::{self, IsTerminal};
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

/// What was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Said {
    /// Enough: Enter, or the end of what is typed.
    End,
    /// The last lead does not count.
    Undo,
}

/// Lines from the terminal; none come where the input is not one.
pub(crate) struct Lines {
    typed: Option<Receiver<String>>,
    next: Cell<Option<Said>>,
}

impl Lines {
    /// Listens from now on. The thread ends with the program, or with the input.
    pub(crate) fn listen() -> Self {
        let typed = io::stdin().is_terminal().then(|| {
            let (typing, typed) = mpsc::channel();
            thread::spawn(move || {
                for line in io::stdin().lines() {
                    let Ok(line) = line else { return };
                    if typing.send(line).is_err() {
                        return;
                    }
                }
            });
            typed
        });
        Self { typed, next: Cell::new(None) }
    }

    /// Whether there is a terminal to type on.
    pub(crate) fn any(&self) -> bool {
        self.typed.is_some()
    }

    /// Whether something was said that nobody has taken yet.
    pub(crate) fn waits(&self) -> bool {
        if self.next.get().is_none() {
            self.next.set(self.hear());
        }
        self.next.get().is_some()
    }

    pub(crate) fn take(&self) -> Option<Said> {
        self.waits();
        self.next.take()
    }

    fn hear(&self) -> Option<Said> {
        match self.typed.as_ref()?.try_recv() {
            Ok(line) if line.trim().eq_ignore_ascii_case("u") => Some(Said::Undo),
            Ok(line) if line.trim().is_empty() => Some(Said::End),
            Err(TryRecvError::Disconnected) => Some(Said::End),
            Ok(_) | Err(TryRecvError::Empty) => None,
        }
    }
}
