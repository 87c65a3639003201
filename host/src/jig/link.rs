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

/// What the near end asks of the thread.
enum Ask {
    Send(Command),
    /// To let time pass, where the port waits for its host, until there is something to hear.
    Hear,
}

/// The near end of a port that a thread of its own reads and writes.
pub(crate) struct Link {
    asks: Sender<Ask>,
    heard: Receiver<Heard>,
}

impl Link {
    /// Opens a port inside its thread. The thread ends when the link is dropped.
    pub(crate) fn open<P: Port>(
        port: impl FnOnce() -> Result<P, JigError> + Send + 'static,
    ) -> Result<Self, JigError> {
        let (asks, asked) = mpsc::channel();
        let (hearing, heard) = mpsc::channel();
        let (opened, is_open) = mpsc::channel();
        thread::spawn(move || match port() {
            Ok(port) => {
                let _ = opened.send(Ok(()));
                if let Err(error) = own(port, &asked, &hearing) {
                    let _ = hearing.send(Heard::Lost(error));
                }
            }
            Err(error) => {
                let _ = opened.send(Err(error));
            }
        });
        is_open.recv().unwrap_or_else(|_| Err(JigError::Lost(gone())))?;
        Ok(Self { asks, heard })
    }

    /// Sends a command; if the port is gone, hearing says so.
    pub(crate) fn send(&self, command: Command) {
        let _ = self.asks.send(Ask::Send(command));
    }

    /// The next thing heard before `deadline`.
    pub(crate) fn hear(&self, deadline: Instant) -> Option<Heard> {
        if let Ok(heard) = self.heard.try_recv() {
            return Some(heard);
        }
        let _ = self.asks.send(Ask::Hear);
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

fn own(mut port: impl Port, asks: &Receiver<Ask>, hearing: &Sender<Heard>) -> io::Result<()> {
    port.send(&[0])?; // ends whatever half frame the jig was left with
    let mut decoder = Decoder::default();
    let mut buffer = [0; 1024];
    let mut may_run = !port.waits_for_host();
    loop {
        loop {
            let ask = if may_run {
                asks.try_recv()
            } else {
                asks.recv().map_err(|_| mpsc::TryRecvError::Disconnected)
            };
            match ask {
                Ok(Ask::Hear) => may_run = true,
                Ok(Ask::Send(command)) => {
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
            may_run = !port.waits_for_host();
        }
    }
}
