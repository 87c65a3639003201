//! A run that is watched while it is flexed: a phase that has no end of its own, until this host ends it.

use std::time::{Duration, Instant};

use runproof_interpret::capture::Ending;
use runproof_protocol::{Command, Event, Phase, Stop};

use super::link::{Heard, Link};
use super::measurement::{SILENCE_MAX, STOP_WITHIN};
use super::{Jig, JigError};

/// What comes of a watch.
pub(crate) enum Watched {
    /// What the jig says meanwhile; what is not of the watch is passed over by whoever hears it.
    Event(Box<Event>),
    /// Nothing for now.
    Quiet,
    /// The jig ended it.
    Ended(Ending),
    /// The jig is gone, or says nothing any more: why.
    Lost(String),
}

/// A watch that was ordered.
pub(crate) struct Watching<'a> {
    link: &'a Link,
    phase: Phase,
    begun: bool,
    last_heard: Instant,
}

impl Jig {
    /// Orders a watch in one of the phases in which a run is flexed.
    pub(crate) fn watch(&self, phase: Phase) -> Result<Watching<'_>, JigError> {
        let link = self.order(phase)?;
        Ok(Watching { link, phase, begun: false, last_heard: Instant::now() })
    }
}

impl Watching<'_> {
    /// The next of it, within this time.
    pub(crate) fn next(&mut self, within: Duration) -> Watched {
        match self.link.hear(Instant::now() + within) {
            Some(Heard::Event(event)) => {
                self.last_heard = Instant::now();
                self.ending(&event).map_or(Watched::Event(event), Watched::Ended)
            }
            // It is missed by its number.
            Some(Heard::Damaged) => Watched::Quiet,
            Some(Heard::Lost(error)) => Watched::Lost(error.to_string()),
            None if self.last_heard.elapsed() > SILENCE_MAX => {
                Watched::Lost("the jig fell silent".into())
            }
            None => Watched::Quiet,
        }
    }

    /// Ends it; what the jig still had to say of it is heard.
    pub(crate) fn end(self, mut hear: impl FnMut(&Event)) {
        self.link.send(Command::Abort);
        let give_up = Instant::now() + STOP_WITHIN;
        while let Some(heard) = self.link.hear(give_up) {
            match heard {
                Heard::Event(event) if matches!(*event, Event::Stopped { .. }) => return,
                Heard::Event(event) => hear(&event),
                Heard::Damaged => {}
                Heard::Lost(_) => return,
            }
        }
    }

    /// Whether this event is its end. What comes before it began belongs to an order of someone else.
    fn ending(&mut self, event: &Event) -> Option<Ending> {
        match event {
            Event::Started { phase } => {
                self.begun = *phase == self.phase;
                None
            }
            Event::Refused { phase, reason } if !self.begun && *phase == self.phase => {
                Some(Ending::Stopped { reason: reason.to_string() })
            }
            Event::Stopped { phase, reason } if self.begun && *phase == self.phase => {
                let reason = match reason {
                    Stop::Aborted => "another program ended it".into(),
                    reason => reason.to_string(),
                };
                Some(Ending::Stopped { reason })
            }
            Event::Hazard { kind, largest } if self.begun => {
                Some(Ending::Hazard { reason: kind.to_string(), largest_v: largest.0 as f64 / 1e6 })
            }
            _ => None,
        }
    }
}
