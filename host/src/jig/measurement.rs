//! One phase, from the order to the event that ends it: what belongs to it, and when to give up.

use std::io;
use std::time::{Duration, Instant};

use runproof_interpret::Capture;
use runproof_interpret::capture::Ending;
use runproof_protocol::{Command, Event, Phase, Step, Stop};
use thiserror::Error;

use super::link::{Heard, Link};

/// A jig that has nothing else to do begins at once. (judgement)
const BEGIN_WITHIN: Duration = Duration::from_secs(3);

/// While it measures, a jig says something at least twice a second.
pub(super) const SILENCE_MAX: Duration = Duration::from_secs(3);

/// A phase takes about a second, on a busy emulator two. (judgement)
const PHASE_MAX: Duration = Duration::from_secs(20);

/// A phase has fewer than a hundred patterns. (judgement)
const PATTERNS_MAX: usize = 512;

/// A jig that is told to stop says so in milliseconds. (judgement)
pub(super) const STOP_WITHIN: Duration = Duration::from_millis(250);

/// Why a measurement has no end.
#[derive(Debug, Error)]
pub(super) enum Loss {
    #[error("the jig fell silent")]
    Silent,
    #[error("the jig did not begin what it was asked to measure")]
    NotBegun,
    #[error("the jig was still measuring after {} s", PHASE_MAX.as_secs())]
    TooLong,
    #[error("the jig sent more than the {PATTERNS_MAX} patterns that a phase can have")]
    TooMany,
    #[error("{0}")]
    Port(io::Error),
}

/// Orders a phase, measured now or told from memory, and hears it out; adds its patterns to the capture.
pub(super) fn take(
    link: &Link,
    order: Command,
    phase: Phase,
    capture: &mut Capture,
    watch: &mut Watch<'_>,
) -> Ending {
    let mut taking = Taking::new(phase, capture, watch);
    let loss = match taking.hear_out(link, order) {
        Ok(ending) => return ending,
        Err(loss) => loss,
    };
    if !matches!(loss, Loss::Port(_)) {
        stop(link);
    }
    Ending::Lost { reason: loss.to_string() }
}

/// Ends what the jig is measuring, for a host that has given it up.
fn stop(link: &Link) {
    link.send(Command::Abort);
    let give_up = Instant::now() + STOP_WITHIN;
    while let Some(heard) = link.hear(give_up) {
        match heard {
            Heard::Event(event) if matches!(*event, Event::Stopped { .. }) => return,
            Heard::Lost(_) => return,
            Heard::Event(_) | Heard::Damaged => {}
        }
    }
}

/// What a jig is measuring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Doing {
    /// Patterns of this step.
    Step(Step),
    /// How long posts take to rise.
    Rise,
}

/// Hears what is being measured, and how many patterns came before.
pub(crate) type Watch<'a> = dyn FnMut(Doing, u16) + 'a;

/// What has been taken of a phase so far.
struct Taking<'a> {
    phase: Phase,
    capture: &'a mut Capture,
    watch: &'a mut Watch<'a>,
    /// The capture's length before this phase.
    before: usize,
    begun: bool,
    patterns: usize,
}

impl<'a> Taking<'a> {
    fn new(phase: Phase, capture: &'a mut Capture, watch: &'a mut Watch<'a>) -> Self {
        let before = capture.entries.len();
        Self { phase, capture, watch, before, begun: false, patterns: 0 }
    }

    fn hear_out(&mut self, link: &Link, order: Command) -> Result<Ending, Loss> {
        let ordered = Instant::now();
        let mut last_heard = ordered;
        link.send(order);
        loop {
            let (within, loss) = if self.begun {
                (PHASE_MAX, Loss::TooLong)
            } else {
                (BEGIN_WITHIN, Loss::NotBegun)
            };
            let (over, silent) = (ordered + within, last_heard + SILENCE_MAX);
            match link.hear(over.min(silent)) {
                Some(Heard::Event(event)) => {
                    last_heard = Instant::now();
                    if let Some(ending) = self.take(*event)? {
                        return Ok(ending);
                    }
                }
                Some(Heard::Damaged) => {} // its pattern is missed when the phase is judged
                Some(Heard::Lost(error)) => return Err(Loss::Port(error)),
                None if silent <= over => return Err(Loss::Silent),
                None => return Err(loss),
            }
        }
    }

    /// Takes what belongs to the phase; returns how it ended, if it did.
    fn take(&mut self, event: Event) -> Result<Option<Ending>, Loss> {
        Ok(match event {
            // What was taken before belongs to an order of someone else.
            Event::Started { phase } => {
                self.forget();
                self.begun = phase == self.phase;
                None
            }
            // This host has not asked for it: an order of someone else was ended.
            Event::Stopped { reason: Stop::Aborted, .. } => {
                self.forget();
                None
            }
            Event::Refused { phase, reason } if !self.begun && phase == self.phase => {
                Some(Ending::Stopped { reason: reason.to_string() })
            }
            Event::Pattern(ref pattern) if self.begun && pattern.phase == self.phase => {
                self.keep(&event, Doing::Step(pattern.step), pattern.index)?
            }
            Event::Rise(ref rise) if self.begun && rise.phase == self.phase => {
                self.keep(&event, Doing::Rise, rise.index)?
            }
            Event::Done { phase, patterns } if self.begun && phase == self.phase => {
                Some(Ending::Done { patterns: patterns.into() })
            }
            Event::Stopped { phase, reason } if self.begun && phase == self.phase => {
                Some(Ending::Stopped { reason: reason.to_string() })
            }
            Event::Hazard { kind, largest } if self.begun => {
                Some(Ending::Hazard { reason: kind.to_string(), largest_v: largest.0 as f64 / 1e6 })
            }
            Event::Warm { phase, .. } => {
                if self.begun && phase == self.phase {
                    self.capture.push_event(&event);
                }
                None
            }
            Event::Hello { .. }
            | Event::Identity(_)
            | Event::Armed
            | Event::Pattern(_)
            | Event::Rise(_)
            | Event::Edges(_)
            | Event::Done { .. }
            | Event::Stopped { .. }
            | Event::Hazard { .. }
            | Event::Refused { .. }
            | Event::Heartbeat { .. }
            | Event::Restarted(_)
            | Event::Key
            | Event::Kept { .. }
            | Event::Recalled { .. }
            | Event::NotKept { .. } => None,
        })
    }

    fn keep(&mut self, event: &Event, doing: Doing, index: u16) -> Result<Option<Ending>, Loss> {
        if self.patterns == PATTERNS_MAX {
            return Err(Loss::TooMany);
        }
        self.patterns += 1;
        self.capture.push_event(event);
        (self.watch)(doing, index);
        Ok(None)
    }

    fn forget(&mut self) {
        self.capture.entries.truncate(self.before);
        self.begun = false;
        self.patterns = 0;
    }
}

#[cfg(test)]
mod tests;
