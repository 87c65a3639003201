//! The conversation with a jig: hello, identify, measure.

use std::hash::{BuildHasher, RandomState};
use std::io;
use std::time::{Duration, Instant};

use runproof_interpret::Capture;
use runproof_interpret::capture::{Ending, Entry, PhaseEnd, head_from};
use runproof_protocol::{Command, Event, Identity, Microseconds, Phase, Step, VERSION};

use super::link::{Heard, Link};
use super::{JigError, Port};

/// A jig answers in milliseconds; one that has just been plugged in takes longer.
const ANSWER_WITHIN: Duration = Duration::from_secs(3);
const ASK_AGAIN: Duration = Duration::from_millis(250);

/// While it measures, a jig says something at least twice a second.
const SILENCE_MAX: Duration = Duration::from_secs(3);

/// A jig that has said who it is.
pub(crate) struct Jig {
    path: String,
    link: Link,
    identity: Identity,
}

impl Jig {
    /// Opens a port and greets the jig on it. `path` is what messages call it.
    pub(crate) fn meet<P: Port>(
        path: &str,
        port: impl FnOnce() -> Result<P, JigError> + Send + 'static,
    ) -> Result<Self, JigError> {
        let link = Link::open(port)?;
        let nonce = RandomState::new().hash_one(path) as u32;
        // Everything before the answer with our nonce is from an earlier conversation.
        let hello = Command::Hello { version: VERSION, nonce };
        let version = answer(path, &link, hello, |event| match event {
            Event::Hello { version, nonce: back, .. } if back == nonce => Some(version),
            _ => None,
        })?;
        if version != VERSION {
            return Err(JigError::OtherVersion { jig: version });
        }
        let identity = answer(path, &link, Command::Identify, |event| match event {
            Event::Identity(identity) => Some(identity),
            _ => None,
        })?;
        Ok(Self { path: path.to_owned(), link, identity })
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
        let made_by = concat!("runproof ", env!("CARGO_PKG_VERSION"));
        Capture::new(head_from(&self.identity, made_by))
    }

    /// Measures one phase, in place of what the capture has of it. Whatever ends it, what was read
    /// until then is in the capture, and the end behind it.
    pub(crate) fn measure(
        &self,
        phase: Phase,
        capture: &mut Capture,
        progress: &mut dyn FnMut(Progress),
    ) {
        capture.entries.retain(|entry| match entry {
            Entry::Reading(reading) => reading.phase != phase,
            Entry::End(end) => end.phase != phase,
        });
        self.link.send(Command::Measure { phase });
        let ending = loop {
            match self.hear() {
                Ok(Some(Event::Pattern(pattern))) => {
                    progress(Progress { step: pattern.step, index: pattern.index });
                    capture.push_pattern(&pattern);
                }
                Ok(event) => {
                    if let Some(ending) = event.and_then(ending) {
                        break ending;
                    }
                }
                Err(error) => break Ending::Lost { reason: error.to_string() },
            }
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
            None => Err(silent()),
        }
    }
}

/// Where a measurement is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Progress {
    /// What the pattern that was just taken is for.
    pub(crate) step: Step,
    /// Which of its phase, from 0.
    pub(crate) index: u16,
}

fn silent() -> io::Error {
    io::Error::new(io::ErrorKind::TimedOut, "the jig fell silent")
}

/// How an event ends the phase, if it does.
fn ending(event: Event) -> Option<Ending> {
    match event {
        Event::Done { patterns, .. } => Some(Ending::Done { patterns: patterns.into() }),
        Event::Stopped { reason, .. } => Some(Ending::Stopped { reason: reason.to_string() }),
        Event::Refused { reason, .. } => Some(Ending::Stopped { reason: reason.to_string() }),
        Event::Hazard { kind, largest } => {
            Some(Ending::Hazard { reason: kind.to_string(), largest_v: largest.0 as f64 / 1e6 })
        }
        Event::Hello { .. }
        | Event::Identity(_)
        | Event::Armed
        | Event::Started { .. }
        | Event::Pattern(_)
        | Event::Heartbeat { .. } => None,
    }
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
