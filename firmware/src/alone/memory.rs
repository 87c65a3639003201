//! What was measured without a host, until one asks for it or another run is begun.

use heapless::Vec;
use runproof_protocol::{Event, Microseconds, Phase, Signs};

use super::SAME_RUN_MICROS;
use super::packed::Before;

/// Both phases take some 5.7 KB.
const BYTES: usize = 6_144;

/// Both phases of one run.
#[derive(Debug)]
pub struct Memory {
    bytes: Vec<u8, BYTES>,
    before: Before,
    began: Microseconds,
    open: Option<Kept>,
    plug: Option<Kept>,
}

/// A phase that is kept whole.
#[derive(Clone, Copy, Debug)]
struct Kept {
    from: usize,
    to: usize,
    began: Microseconds,
    ended: Microseconds,
    /// What was shown of it.
    signs: Signs,
}

impl Default for Memory {
    fn default() -> Self {
        Self::new()
    }
}

impl Memory {
    /// Nothing kept yet.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            bytes: Vec::new(),
            before: Before::beginning(Microseconds(0)),
            began: Microseconds(0),
            open: None,
            plug: None,
        }
    }

    /// A phase begins; an open one with another run.
    pub fn begin(&mut self, phase: Phase, at: Microseconds) {
        self.plug = None;
        if phase == Phase::Open {
            self.open = None;
        }
        self.bytes.truncate(self.open.map_or(0, |open| open.to));
        self.before = Before::beginning(at);
        self.began = at;
    }

    /// Keeps an event of the phase that has begun, if there is room.
    pub fn keep(&mut self, event: &Event) -> bool {
        self.before.pack(event, &mut self.bytes).is_ok()
    }

    /// The phase that has begun is kept whole, until `at`.
    pub fn end(&mut self, phase: Phase, at: Microseconds, signs: Signs) {
        let from = if phase == Phase::Plug { self.open.map_or(0, |open| open.to) } else { 0 };
        let kept = Some(Kept { from, to: self.bytes.len(), began: self.began, ended: at, signs });
        match phase {
            Phase::Open => self.open = kept,
            Phase::Plug => self.plug = kept,
            _ => {}
        }
    }

    /// An open phase of the run that is measured now was kept.
    fn is_open_known(&self, now: Microseconds) -> bool {
        self.open.is_some_and(|open| now.0.saturating_sub(open.ended.0) < SAME_RUN_MICROS)
    }

    /// And no plug phase after it.
    #[must_use]
    pub fn waits_for_plug(&self, now: Microseconds) -> bool {
        self.is_open_known(now) && self.plug.is_none()
    }

    /// What was shown of an open phase of the run that is measured now.
    #[must_use]
    pub fn open_signs(&self, now: Microseconds) -> Option<Signs> {
        self.open.filter(|_| self.is_open_known(now)).map(|open| open.signs)
    }

    /// The events of a phase as they were kept; none, if it was not.
    pub fn events(&self, phase: Phase) -> Option<impl Iterator<Item = Event>> {
        let kept = match phase {
            Phase::Open => self.open,
            Phase::Plug => self.plug,
            _ => None,
        }?;
        let mut bytes = self.bytes.get(kept.from..kept.to)?;
        let mut before = Before::beginning(kept.began);
        Some(core::iter::from_fn(move || before.unpack(phase, &mut bytes).ok()))
    }
}
