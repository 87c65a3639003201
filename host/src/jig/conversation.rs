//! The conversation with a jig: hello, identify, measure.

use std::hash::{BuildHasher, RandomState};
use std::io;
use std::time::{Duration, Instant};

use runproof_interpret::Capture;
use runproof_interpret::capture::{Ending, Entry, Head, PhaseEnd, head_from};
use runproof_protocol::{Capabilities, Command, Event, Microseconds, Phase, Signs, VERSION};

use super::link::{Heard, Link};
use super::measurement::{self, SILENCE_MAX, Watch};
use super::{JigError, Port};

/// A jig answers in milliseconds; one that has just been plugged in takes longer.
const ANSWER_WITHIN: Duration = Duration::from_secs(3);
const ASK_AGAIN: Duration = Duration::from_millis(250);

/// A jig that has said who it is.
pub(crate) struct Jig {
    path: String,
    link: Link,
    head: Head,
    /// It has lamps and a sounder.
    shows: bool,
}

impl Jig {
    /// Opens a port and greets the jig on it. `path` is what messages call it. Whatever a host
    /// before this one left running is ended.
    pub(crate) fn meet<P: Port>(
        path: &str,
        port: impl FnOnce() -> Result<P, JigError> + Send + 'static,
    ) -> Result<Self, JigError> {
        let link = Link::open(port)?;
        let (version, capabilities) = greet(path, &link)?;
        if version != VERSION {
            return Err(JigError::OtherVersion { jig: version });
        }
        settle(path, &link)?;
        let identity = answer(path, &link, Command::Identify, |event| match event {
            Event::Identity(identity) => Some(identity),
            _ => None,
        })?;
        let path = path.to_owned();
        match head_from(&identity, concat!("runproof ", env!("CARGO_PKG_VERSION"))) {
            Ok(head) => Ok(Self { path, link, head, shows: capabilities.alone }),
            Err(part) => Err(JigError::ImplausibleParts { path, part }),
        }
    }

    /// The same, for a test that begins now, with the end plug of this name.
    pub(crate) fn with(mut self, taken_unix_s: u64, plug: String) -> Self {
        self.head.taken_unix_s = Some(taken_unix_s);
        self.head.plug.id = plug;
        self
    }

    /// What its captures begin with.
    pub(crate) fn head(&self) -> &Head {
        &self.head
    }

    /// Clears a latched hazard.
    pub(crate) fn rearm(&self) -> Result<(), JigError> {
        answer(&self.path, &self.link, Command::Rearm, |event| match event {
            Event::Armed => Some(()),
            _ => None,
        })
    }

    /// A capture with nothing measured yet.
    pub(crate) fn capture(&self) -> Capture {
        Capture::new(self.head.clone())
    }

    /// Shows this on its lamps, and sounds it, until it measures again.
    pub(crate) fn show(&self, signs: Signs) {
        if self.shows {
            self.link.send(Command::Show(signs));
        }
    }

    /// Whether its key was pressed since this was last asked.
    pub(crate) fn key_pressed(&self) -> bool {
        self.link.key_pressed()
    }

    /// What it measured of a phase without a host, if it did.
    pub(crate) fn replay(&self, phase: Phase, capture: &mut Capture) {
        let order = Command::Replay { phase };
        let ending = measurement::take(&self.link, order, phase, capture, &mut |_, _| {});
        capture.end(PhaseEnd { phase, ending });
    }

    /// Measures one phase, in place of what the capture has of it; `watch` sees each of its patterns
    /// as it comes. Whatever ends it, what was read until then is in the capture, and the end behind
    /// it.
    pub(crate) fn measure(&self, phase: Phase, capture: &mut Capture, watch: &mut Watch<'_>) {
        capture.entries.retain(|entry| match entry {
            Entry::Reading(reading) => reading.phase != phase,
            Entry::Rise(rise) => rise.phase != phase,
            Entry::End(end) => end.phase != phase,
            Entry::Warmth(warmth) => warmth.phase != phase,
            Entry::Touch(_) | Entry::Zero(_) | Entry::ToEarth(_) => true,
        });
        let ending = match settle(&self.path, &self.link) {
            Ok(()) => {
                let order = Command::Measure { phase };
                measurement::take(&self.link, order, phase, capture, watch)
            }
            Err(error) => Ending::Lost { reason: error.to_string() },
        };
        capture.end(PhaseEnd { phase, ending });
    }

    /// The jig's clock, as soon as it says what it shows: twice a second while nothing is measured.
    pub(crate) fn time(&self) -> io::Result<Microseconds> {
        loop {
            if let Some(Event::Heartbeat { at }) = self.hear()? {
                return Ok(at);
            }
        }
    }

    /// The next event; none for bytes that are no event: what they were is missed later.
    fn hear(&self) -> io::Result<Option<Event>> {
        match self.link.hear(Instant::now() + SILENCE_MAX) {
            Some(Heard::Event(event)) => Ok(Some(*event)),
            Some(Heard::Damaged) => Ok(None),
            Some(Heard::Lost(error)) => Err(error),
            None => Err(io::Error::new(io::ErrorKind::TimedOut, "the jig fell silent")),
        }
    }
}

/// The version of the jig there, and what it can do. What was heard before its answer is from an earlier
/// conversation: only this hello has the nonce that comes back.
fn greet(path: &str, link: &Link) -> Result<(u16, Capabilities), JigError> {
    let nonce = RandomState::new().hash_one(path) as u32;
    answer(path, link, Command::Hello { version: VERSION, nonce }, |event| match event {
        Event::Hello { version, nonce: back, capabilities } if back == nonce => {
            Some((version, capabilities))
        }
        _ => None,
    })
}

/// Ends what the jig is measuring, whoever ordered it, and passes over what it still had to say.
fn settle(path: &str, link: &Link) -> Result<(), JigError> {
    link.send(Command::Abort);
    greet(path, link).map(|_| ())
}

/// Asks until the answer comes.
fn answer<T>(
    path: &str,
    link: &Link,
    command: Command,
    wanted: impl Fn(Event) -> Option<T>,
) -> Result<T, JigError> {
    let give_up = Instant::now() + ANSWER_WITHIN;
    let mut damaged = false;
    while Instant::now() < give_up {
        link.send(command);
        let ask_again = Instant::now() + ASK_AGAIN;
        while let Some(heard) = link.hear(ask_again) {
            match heard {
                Heard::Event(event) => {
                    if let Some(answer) = wanted(*event) {
                        return Ok(answer);
                    }
                }
                Heard::Damaged => damaged = true,
                Heard::Lost(error) => return Err(JigError::Lost(error)),
            }
        }
    }
    let path = path.to_owned();
    Err(if damaged { JigError::NotAJig { path } } else { JigError::Silent { path } })
}
