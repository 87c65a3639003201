//! When to measure which phase, told from glances alone: no jig, no screen, no clock but the jig's.

mod contacts;

use contacts::{contradicts, joins_as_a_plug, more_open};
use runproof_interpret::Glance;
use runproof_protocol::{Microseconds, Phase};

/// A run that stands like this for so long is not being worked on.
const STEADY_MICROS: u64 = 3_000_000;

/// The key is in when so many glances in a row say so: a plug goes in post by post.
pub(super) const PLUG_GLANCES: u32 = 2;

/// What follows from a glance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Next {
    /// Nothing yet: look again.
    Look,
    /// Ask for the key to be taken out: the run has not stood open.
    AskForKeyOut,
    /// Measure this phase now.
    Measure(Phase),
    /// Measure it although what it waits for did not come.
    MeasureAllTheSame(Phase),
}

/// One check, from the first glance to the plug phase.
#[derive(Debug)]
pub(crate) struct Trip {
    /// After so long without what a phase waits for it is measured all the same.
    wait_micros: u64,
    /// When the wait for the next phase began.
    waits_since: Option<Microseconds>,
    standing: Option<Standing>,
    /// How the run stood in the last open phase.
    open: Option<Glance>,
    /// It has stood more open since.
    outdated: bool,
    /// The key was asked for, and not taken out yet.
    asked: bool,
}

/// How the run stands, since when, and how often that was seen.
#[derive(Clone, Copy, Debug)]
struct Standing {
    glance: Glance,
    since: Microseconds,
    times: u32,
}

/// The posts meet as they do through the end plug.
pub(super) fn looks_plugged(glance: &Glance) -> bool {
    joins_as_a_plug(glance, &Glance::OPEN)
}

impl Trip {
    pub(crate) fn new(wait_micros: u64) -> Self {
        Self {
            wait_micros,
            waits_since: None,
            standing: None,
            open: None,
            outdated: false,
            asked: false,
        }
    }

    /// What to do after a glance that ended at `at`.
    pub(crate) fn see(&mut self, at: Microseconds, glance: Glance) -> Next {
        let standing = self.stand(at, glance);
        let steady = at.0.saturating_sub(standing.since.0) >= STEADY_MICROS;
        let waits_since = *self.waits_since.get_or_insert(at);
        let waited = at.0.saturating_sub(waits_since.0) >= self.wait_micros;
        let looks_plugged =
            |before: &Glance| standing.times >= PLUG_GLANCES && joins_as_a_plug(&glance, before);
        match self.open {
            None if waited => Next::MeasureAllTheSame(Phase::Open),
            None if joins_as_a_plug(&glance, &Glance::OPEN) => {
                if looks_plugged(&Glance::OPEN) {
                    self.ask()
                } else {
                    Next::Look
                }
            }
            None => {
                self.asked = false;
                if steady { Next::Measure(Phase::Open) } else { Next::Look }
            }
            Some(open) if more_open(&glance, &open) && (steady || !waited) => {
                self.outdated = true;
                if steady { Next::Measure(Phase::Open) } else { Next::Look }
            }
            Some(_) if waited => Next::MeasureAllTheSame(Phase::Plug),
            Some(open) if looks_plugged(&open) => {
                if self.outdated || contradicts(&glance, &open) {
                    self.open = None;
                    self.waits_since = Some(at);
                    return self.ask();
                }
                Next::Measure(Phase::Plug)
            }
            Some(_) => Next::Look,
        }
    }

    /// The phase that is measured when nothing more is waited for.
    pub(crate) fn forced(&self) -> Phase {
        if self.open.is_none() { Phase::Open } else { Phase::Plug }
    }

    /// An open phase was measured until `at`; the run stood in it like `shown`, or, where that
    /// cannot be told, as in the glance before.
    pub(crate) fn open_measured(&mut self, at: Microseconds, shown: Option<Glance>) {
        let before = self.standing.map_or(Glance::OPEN, |standing| standing.glance);
        self.open = Some(shown.unwrap_or(before));
        self.waits_since = Some(at);
        self.outdated = false;
    }

    fn ask(&mut self) -> Next {
        let again = std::mem::replace(&mut self.asked, true);
        if again { Next::Look } else { Next::AskForKeyOut }
    }

    fn stand(&mut self, at: Microseconds, glance: Glance) -> Standing {
        let standing = match self.standing {
            Some(before) if before.glance.like(&glance) => {
                Standing { times: before.times + 1, ..before }
            }
            _ => Standing { glance, since: at, times: 1 },
        };
        self.standing = Some(standing);
        standing
    }
}

#[cfg(test)]
mod tests;
