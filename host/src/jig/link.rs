//! One thread owns the port: bytes become events, commands become bytes.

use std::cell::Cell;
use std::io;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender, SyncSender};
use std::thread;
use std::time::{Duration, Instant};

use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{Command, Decoded, Decoder, Event};

use super::{JigError, Port};

/// Half a kilobyte each. When nobody hears them, the port is not read on: a port that floods has
/// to wait, and takes no memory. (judgement)
const UNHEARD_MAX: usize = 64;

/// A port that does not let go of its last command for so long is left to itself. (judgement)
const LAST_WORDS_WITHIN: Duration = Duration::from_millis(500);

/// A simulated jig goes by its own clock, and may have to wait for another's: how long that takes here says nothing of it.
const IN_ITS_OWN_TIME: u32 = 10;

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
    ends: Option<Ends>,
    /// Waits are so many times as long as they are told to be.
    patience: u32,
    /// The jig's key was pressed, and nobody has asked yet.
    key: Cell<bool>,
}

struct Ends {
    asks: Sender<Ask>,
    heard: Receiver<Heard>,
    /// Nothing ever comes; it closes when the thread ends.
    ended: Receiver<()>,
}

impl Link {
    /// Opens a port inside its thread. The thread ends when the link is dropped.
    pub(crate) fn open<P: Port>(
        port: impl FnOnce() -> Result<P, JigError> + Send + 'static,
    ) -> Result<Self, JigError> {
        let (asks, asked) = mpsc::channel();
        let (hearing, heard) = mpsc::sync_channel(UNHEARD_MAX);
        let (opened, is_open) = mpsc::channel();
        let (ending, ended) = mpsc::channel();
        thread::spawn(move || {
            let _until_the_end: Sender<()> = ending;
            match port() {
                Ok(port) => {
                    let patience = if port.waits_for_host() { IN_ITS_OWN_TIME } else { 1 };
                    let _ = opened.send(Ok(patience));
                    if let Err(error) = own(port, &asked, &hearing) {
                        let _ = hearing.send(Heard::Lost(error));
                    }
                }
                Err(error) => {
                    let _ = opened.send(Err(error));
                }
            }
        });
        let patience = is_open.recv().unwrap_or_else(|_| Err(JigError::Lost(gone())))?;
        Ok(Self { patience, ends: Some(Ends { asks, heard, ended }), key: Cell::new(false) })
    }

    /// Sends a command; if the port is gone, hearing says so. It may wait until something is heard.
    pub(crate) fn send(&self, command: Command) {
        if let Some(ends) = &self.ends {
            let _ = ends.asks.send(Ask::Send(command));
        }
    }

    /// The next thing heard before `deadline`; after it none, however much waits to be heard.
    pub(crate) fn hear(&self, deadline: Instant) -> Option<Heard> {
        let heard = self.next(deadline);
        if let Some(Heard::Event(event)) = &heard
            && **event == Event::Key
        {
            self.key.set(true);
        }
        heard
    }

    /// Whether the jig's key was pressed since this was last asked.
    pub(crate) fn key_pressed(&self) -> bool {
        self.key.replace(false)
    }

    fn next(&self, deadline: Instant) -> Option<Heard> {
        let wait = deadline.checked_duration_since(Instant::now())? * self.patience;
        let ends = self.ends.as_ref()?;
        if let Ok(heard) = ends.heard.try_recv() {
            return Some(heard);
        }
        let _ = ends.asks.send(Ask::Hear);
        match ends.heard.recv_timeout(wait) {
            Ok(heard) => Some(heard),
            Err(RecvTimeoutError::Timeout) => None,
            Err(RecvTimeoutError::Disconnected) => Some(Heard::Lost(gone())),
        }
    }
}

/// What was sent last still goes out.
impl Drop for Link {
    fn drop(&mut self) {
        if let Some(Ends { asks, heard, ended }) = self.ends.take() {
            drop((asks, heard));
            let _ = ended.recv_timeout(LAST_WORDS_WITHIN);
        }
    }
}

fn gone() -> io::Error {
    io::Error::new(io::ErrorKind::BrokenPipe, "its port was closed")
}

fn own(mut port: impl Port, asks: &Receiver<Ask>, hearing: &SyncSender<Heard>) -> io::Result<()> {
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
                break; // nobody hears any more; a last command may still be there
            }
            may_run = !port.waits_for_host();
        }
    }
}
