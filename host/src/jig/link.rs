//! One thread owns the port: bytes become events, commands become bytes.

use std::io;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender};
use std::thread;
use std::time::Instant;

use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{Command, Decoded, Decoder, Event};

use super::{JigError, Port};

/// What comes from the port.
pub(crate) enum Heard {
    /// A whole event.
    Event(Box<Event>),
    /// Bytes that are no event.
    Damaged,
    /// The port is gone; nothing more will come.
    Lost(io::Error),
}

/// The near end of a port that a thread of its own reads and writes.
pub(crate) struct Link {
    commands: Sender<Command>,
    heard: Receiver<Heard>,
}

impl Link {
    /// Opens a port inside its thread. The thread ends when the link is dropped.
    pub(crate) fn open<P: Port>(
        port: impl FnOnce() -> Result<P, JigError> + Send + 'static,
    ) -> Result<Self, JigError> {
        let (commands, to_send) = mpsc::channel();
        let (hearing, heard) = mpsc::channel();
        let (opened, is_open) = mpsc::channel();
        thread::spawn(move || match port() {
            Ok(port) => {
                let _ = opened.send(Ok(()));
                if let Err(error) = own(port, &to_send, &hearing) {
                    let _ = hearing.send(Heard::Lost(error));
                }
            }
            Err(error) => {
                let _ = opened.send(Err(error));
            }
        });
        is_open.recv().unwrap_or_else(|_| Err(JigError::Lost(gone())))?;
        Ok(Self { commands, heard })
    }

    /// Sends a command; if the port is gone, hearing says so.
    pub(crate) fn send(&self, command: Command) {
        let _ = self.commands.send(command);
    }

    /// The next thing heard before `deadline`.
    pub(crate) fn hear(&self, deadline: Instant) -> Option<Heard> {
        match self.heard.recv_timeout(deadline.saturating_duration_since(Instant::now())) {
            Ok(heard) => Some(heard),
            Err(RecvTimeoutError::Timeout) => None,
            Err(RecvTimeoutError::Disconnected) => Some(Heard::Lost(gone())),
        }
    }
}

fn gone() -> io::Error {
    io::Error::new(io::ErrorKind::BrokenPipe, "its port was closed")
}

fn own(
    mut port: impl Port,
    commands: &Receiver<Command>,
    hearing: &Sender<Heard>,
) -> io::Result<()> {
    port.send(&[0])?; // ends whatever half frame the jig was left with
    let mut decoder = Decoder::default();
    let mut buffer = [0; 1024];
    loop {
        loop {
            match commands.try_recv() {
                Ok(command) => {
                    let mut out = [0; MAX_FRAME];
                    let frame = frame::encode(&command, &mut out).map_err(io::Error::other)?;
                    port.send(frame)?;
                }
                Err(mpsc::TryRecvError::Empty) => break,
                Err(mpsc::TryRecvError::Disconnected) => return Ok(()),
            }
        }
        let used = port.receive(&mut buffer)?;
        let mut bytes = &buffer[..used];
        while let Some(found) = decoder.next(&mut bytes) {
            let heard = match found {
                Decoded::Message(event) => Heard::Event(Box::new(event)),
                Decoded::Damaged => Heard::Damaged,
            };
            if hearing.send(heard).is_err() {
                return Ok(());
            }
        }
    }
}
