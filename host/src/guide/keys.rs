//! Enter on a terminal: whoever stands beside the jig need not wait.

use std::io::{self, IsTerminal};
use std::sync::mpsc::{self, Receiver};
use std::thread;

/// Lines from the terminal; none come where the input is not one.
pub(crate) struct Keys(Option<Receiver<()>>);

impl Keys {
    /// Listens from now on. The thread ends with the program, or with the input.
    pub(crate) fn listen() -> Self {
        if !io::stdin().is_terminal() {
            return Self(None);
        }
        let (pressing, pressed) = mpsc::channel();
        thread::spawn(move || {
            let mut line = String::new();
            while io::stdin().read_line(&mut line).is_ok_and(|bytes| bytes > 0) {
                line.clear();
                if pressing.send(()).is_err() {
                    return;
                }
            }
        });
        Self(Some(pressed))
    }

    /// None, or what somebody else hears of them.
    pub(crate) fn from(presses: Option<Receiver<()>>) -> Self {
        Self(presses)
    }

    /// Whether there is a terminal to press Enter on.
    pub(crate) fn any(&self) -> bool {
        self.0.is_some()
    }

    /// Whether Enter was pressed since this was last asked.
    pub(crate) fn pressed(&self) -> bool {
        self.0.as_ref().is_some_and(|pressed| pressed.try_iter().count() > 0)
    }
}
