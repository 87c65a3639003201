//! A conductor that rises by some ohms while it carries, and comes back, or does not.

use runproof_protocol::Microseconds;

use super::resistances::{FOUND_FROM, Rises};

/// So many slots in a row prove a rise of one conductor alone. For two slots a set is mixed of before and after, and may seem to
/// be another's; one reading of its own input shows a conductor for three. Conductor 4 is in all inputs: a step of 10 ms leaves
/// it two whole sets, and no mixed one looks like it.
const SLOTS_ALONE: [u8; 4] = [3, 3, 3, 2];

/// So many prove it whatever else changes: two whole sets.
const SLOTS_ANYHOW: u8 = 6;

/// It is over when this part of what it is found from is left.
const HYSTERESIS: f64 = 0.5;

/// Steps of the four conductors.
#[derive(Clone, Debug, Default)]
pub(super) struct Steps {
    of: [OfOne; 4],
}

#[derive(Clone, Copy, Debug, Default)]
struct OfOne {
    open: Option<Step>,
    /// High, so many slots in a row; alone as well; since when.
    high: u8,
    alone: u8,
    since: Microseconds,
    before_ohm: f64,
    unseen: Option<Microseconds>,
}

/// A step that goes on, or is over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Step {
    pub(super) at: Microseconds,
    /// The most that two slots in a row both showed.
    pub(super) ohm: f64,
}

/// What a slot made of one conductor's step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Turn {
    Began(Step),
    /// It was lost from sight at this time, if at any, and was over when seen again.
    Ended(Step, Option<Microseconds>),
}

impl Steps {
    /// A set that ended with a slot at this time.
    pub(super) fn hear(
        &mut self,
        at: Microseconds,
        rises: &Rises,
        from_ohm: f64,
    ) -> [Option<Turn>; 4] {
        std::array::from_fn(|n| {
            self.of[n].hear(at, rises.ohm[n], (rises.alone == Some(n), SLOTS_ALONE[n]), from_ohm)
        })
    }

    /// Nothing of them was seen at this time.
    pub(super) fn unseen(&mut self, at: Microseconds) {
        for one in &mut self.of {
            one.unseen.get_or_insert(at);
            (one.high, one.alone) = (0, 0);
        }
    }

    /// Those that go on, each with when it was lost from sight, if it is.
    pub(super) fn open(&self) -> [Option<(Step, Option<Microseconds>)>; 4] {
        self.of.map(|one| one.open.map(|step| (step, one.unseen)))
    }
}

impl OfOne {
    fn hear(
        &mut self,
        at: Microseconds,
        ohm: f64,
        (alone, enough): (bool, u8),
        from_ohm: f64,
    ) -> Option<Turn> {
        let found_from = from_ohm * FOUND_FROM;
        let both = ohm.min(self.before_ohm);
        self.before_ohm = ohm;
        let unseen = self.unseen.take();
        if let Some(step) = &mut self.open {
            if ohm >= found_from * HYSTERESIS {
                step.ohm = step.ohm.max(both);
                return None;
            }
            let step = *step;
            self.open = None;
            return Some(Turn::Ended(step, unseen));
        }
        if !(ohm >= found_from) {
            (self.high, self.alone) = (0, 0);
            return None;
        }
        if self.high == 0 {
            self.since = at;
        }
        self.high = self.high.saturating_add(1);
        self.alone = if alone { self.alone.saturating_add(1) } else { 0 };
        if self.alone < enough && self.high < SLOTS_ANYHOW {
            return None;
        }
        let step = Step { at: self.since, ohm: both.max(0.0) };
        self.open = Some(step);
        (self.high, self.alone) = (0, 0);
        Some(Turn::Began(step))
    }
}
