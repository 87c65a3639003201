//! A conductor that rises by some ohms while it carries, and comes back, or does not.

use runproof_protocol::Microseconds;

use super::lanes::since;
use super::resistances::{FOUND_FROM, Rises, Threshold};

/// So many slots in a row prove a rise of one conductor alone. For two slots a set is mixed of before and after, and may seem to
/// be another's; one reading of its own input shows a conductor for three. Conductor 4 is in all inputs: a step of 10 ms leaves
/// it two whole sets, and no mixed one looks like it.
const SLOTS_ALONE: [u8; 4] = [3, 3, 3, 2];

/// So many prove it whatever else changes: two whole sets.
const SLOTS_ANYHOW: u8 = 6;

/// So many in a row are a fall, as a half wave of hum has four and more. What a mixed set leaves may last as long, and is small:
const SLOTS_LOW: u8 = 3;
/// a fall is at least this part of the rise. Of a wave of which three places are seen one half may look smaller.
const FALLS_AS_FAR: f64 = 0.25;

/// It is over when this part of what it is found from is left.
const HYSTERESIS: f64 = 0.5;

/// A rise that is no longer, with a fall below the baseline within as long before or behind it, is half a wave of hum: no joint has
/// less than it had at rest, and at once more.
const WAVE_US: u64 = 20_000;

/// Steps of the four conductors.
#[derive(Clone, Debug, Default)]
pub(super) struct Steps {
    of: [OfOne; 4],
    /// The most that was taken for hum.
    hum_ohm: f64,
}

#[derive(Clone, Copy, Debug, Default)]
struct OfOne {
    open: Option<Step>,
    is_told: bool,
    /// Short, and not yet seen to be no hum.
    over: Option<Over>,
    /// Below the baseline, so many slots in a row; when it was so for long enough, last, and by how much.
    low: u8,
    fell: Option<(Microseconds, f64)>,
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

/// A step that is over at this time, and had been lost from sight at the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Over {
    pub(super) step: Step,
    pub(super) until: Microseconds,
    pub(super) unseen: Option<Microseconds>,
}

/// What a slot made of one conductor's step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Turn {
    Began(Step),
    Ended(Over),
}

impl Steps {
    /// A set that ended with a slot at this time.
    pub(super) fn hear(
        &mut self,
        at: Microseconds,
        rises: &Rises,
        from: Threshold,
    ) -> [Option<Turn>; 4] {
        let hum_ohm = &mut self.hum_ohm;
        let mut of = self.of.iter_mut().zip(rises.ohm).zip(SLOTS_ALONE).enumerate();
        std::array::from_fn(|_| {
            let (n, ((one, ohm), slots)) = of.next()?;
            one.hear(at, ohm, (rises.alone == Some(n), slots), from, hum_ohm)
        })
    }

    /// Nothing of them was seen at this time.
    pub(super) fn unseen(&mut self, at: Microseconds) {
        for one in &mut self.of {
            one.unseen.get_or_insert(at);
            (one.high, one.alone, one.low) = (0, 0, 0);
        }
    }

    /// Those that go on, each with when it was lost from sight, if it is.
    pub(super) fn open(&self) -> [Option<(Step, Option<Microseconds>)>; 4] {
        self.of.map(|one| one.open.filter(|step| !one.is_hum(*step)).map(|step| (step, one.unseen)))
    }

    /// Those that are over, and were not told yet.
    pub(super) fn over(&self) -> [Option<Over>; 4] {
        self.of.map(|one| one.over.filter(|over| !one.is_hum(over.step)))
    }

    /// The most that rose with hum, and was not told.
    pub(super) fn hum_ohm(&self) -> f64 {
        self.hum_ohm
    }
}

impl OfOne {
    fn hear(
        &mut self,
        at: Microseconds,
        ohm: f64,
        (alone, enough): (bool, u8),
        from: Threshold,
        hum_ohm: &mut f64,
    ) -> Option<Turn> {
        self.low = if ohm <= -from.fall_ohm { self.low.saturating_add(1) } else { 0 };
        if self.low >= SLOTS_LOW {
            let deepest = self.fell.filter(|(before, _)| since(*before, at) < WAVE_US);
            self.fell = Some((at, deepest.map_or(-ohm, |(_, deep)| deep.max(-ohm))));
        }
        let over = self.over_by_now(at, hum_ohm);
        let next = self.follow(at, ohm, (alone, enough), from.ohm * FOUND_FROM);
        over.or(next).or_else(|| self.told_by_now(at))
    }

    /// A short one of which it is known by now whether it was hum.
    fn over_by_now(&mut self, at: Microseconds, hum_ohm: &mut f64) -> Option<Turn> {
        let over = self.over?;
        if self.is_hum(over.step) {
            *hum_ohm = hum_ohm.max(over.step.ohm);
            self.over = None;
            return None;
        }
        if since(over.until, at) < WAVE_US {
            return None;
        }
        self.over = None;
        Some(Turn::Ended(over))
    }

    fn is_hum(&self, step: Step) -> bool {
        let begins = Microseconds(step.at.0.saturating_sub(WAVE_US));
        let as_far = step.ohm * FALLS_AS_FAR;
        !self.is_told && self.fell.is_some_and(|(fell, deep)| fell >= begins && deep >= as_far)
    }

    /// One that has lasted for longer than hum does, or did.
    fn told_by_now(&mut self, at: Microseconds) -> Option<Turn> {
        if let Some(step) = self.open {
            let tells = !self.is_told && self.over.is_none() && since(step.at, at) > WAVE_US;
            self.is_told |= tells;
            return tells.then_some(Turn::Began(step));
        }
        let over = self.over.filter(|_| self.is_told)?;
        (self.over, self.is_told) = (None, false);
        Some(Turn::Ended(over))
    }

    /// Begins and ends a step; the one before, where it has to be told to make room.
    fn follow(
        &mut self,
        at: Microseconds,
        ohm: f64,
        (alone, enough): (bool, u8),
        found_from: f64,
    ) -> Option<Turn> {
        let both = ohm.min(self.before_ohm);
        self.before_ohm = ohm;
        let unseen = self.unseen.take();
        if let Some(step) = &mut self.open {
            if ohm >= found_from * HYSTERESIS {
                step.ohm = step.ohm.max(both);
                return None;
            }
            let over = Over { step: *step, until: at, unseen };
            self.open = None;
            return self.over.replace(over).map(Turn::Ended);
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
        self.open = Some(Step { at: self.since, ohm: both.max(0.0) });
        (self.high, self.alone) = (0, 0);
        None
    }
}
