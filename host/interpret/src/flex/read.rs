//! What a slot's readings say: resistances, steps, how deep a break or touch is, and whether the catcher is right.

use runproof_protocol::{Phase, Post};

use super::circuit::{Seen, Set};
use super::flexed::Flexed;
use super::lanes::since;
use super::resistances::{Rises, Threshold, set};
use super::slots::Slot;
use super::steps::{Over, Step, Turn};
use super::{Depth, FlexEvent, FlexKind, FlexNews, Lasted, Now};

/// A conductor that has more is called open.
const OPEN_OHM: f64 = 1e3;

/// Two that touch by more do not carry: the readings say something else.
const TOUCH_OHM: f64 = 1e4;

const EVERY_POST: u8 = 0b1111;

impl Flexed {
    /// A slot during which these posts carried all the time.
    pub(super) fn take_slot(&mut self, slot: &Slot, carries: u8, news: &mut Vec<FlexNews>) {
        let Some((set, seen)) = self.seen(slot, Some(carries)) else {
            return self.unseen(slot);
        };
        let from = set.iter().map(|slot| slot.at).min().unwrap_or(slot.at);
        self.contradiction.hear((from, slot.until), carries, seen.carry());
        match (self.setup.phase, carries) {
            (Phase::Flex, EVERY_POST) => self.resist(slot, &seen, news),
            (Phase::Flex, _) => {
                self.unseen(slot);
                self.deepen_breaks(&seen, carries);
            }
            _ => self.deepen_touches(&seen, carries),
        }
    }

    /// A slot after something was lost: the converters may tell how the posts stand.
    pub(super) fn take_lost_slot(&mut self, slot: &Slot, news: &mut Vec<FlexNews>) {
        let seen = self.seen(slot, None);
        self.unseen(slot);
        let carry = seen.map(|(_, seen)| seen.carry());
        if let Some([Some(a), Some(b), Some(c), Some(d)]) = carry {
            let bits = [a, b, c, d].into_iter().enumerate();
            let carries = bits.fold(0, |bits, (n, carries)| bits | u8::from(carries) << n);
            self.incoming.stand(carries);
            self.know(carries, slot.until, news);
        }
    }

    /// A slot into which something fell.
    pub(super) fn lose_slot(&mut self, slot: &Slot) {
        self.latest[slot.input] = None;
        self.unseen(slot);
    }

    /// What the newest of each input say together, if all were read while the posts stood so.
    fn seen(&mut self, slot: &Slot, stand: Option<u8>) -> Option<(Set, Seen)> {
        if self.latest_stand != stand {
            self.latest = [None; 3];
            self.latest_stand = stand;
        }
        self.latest[slot.input] = Some(*slot);
        let set = set(&self.latest)?;
        Some((set, self.circuit.as_ref()?.seen(&set)))
    }

    fn unseen(&mut self, slot: &Slot) {
        self.steps.unseen(slot.at);
        self.extremes.unseen();
        for lane in &mut self.lanes.lanes {
            if let Now::Carries { ohm, rise_ohm } = &mut lane.now {
                (*ohm, *rise_ohm) = (None, None);
            }
        }
    }

    fn resist(&mut self, slot: &Slot, seen: &Seen, news: &mut Vec<FlexNews>) {
        let (rises, is_new) = self.resistances.hear(slot.at, seen);
        let from = self.resistances.steps_from(self.setup.step_ohm);
        if is_new {
            news.push(FlexNews::Baseline { steps_from_ohm: from.map(|from| from.ohm) });
        }
        let Some(rises) = rises else { return self.unseen(slot) };
        if let Some(middle) = self.extremes.hear(&rises.ohm, &mut self.lanes.lanes) {
            for (lane, rise_ohm) in self.lanes.lanes.iter_mut().zip(middle) {
                let ohm = lane.baseline_ohm.map(|baseline| baseline + rise_ohm);
                lane.now = Now::Carries { ohm, rise_ohm: Some(rise_ohm) };
            }
        }
        if let Some(from) = from {
            self.step(slot, &rises, from, news);
        }
    }

    fn step(&mut self, slot: &Slot, rises: &Rises, from: Threshold, news: &mut Vec<FlexNews>) {
        for (n, turn) in self.steps.hear(slot.at, rises, from).into_iter().enumerate() {
            match turn {
                None => {}
                Some(Turn::Began(step)) => {
                    let lane = self.lanes.lanes[n].of;
                    news.push(FlexNews::Began { lane, kind: FlexKind::Step, at: step.at });
                }
                Some(Turn::Ended(over)) => self.step_over(n, over.step, lasted(over), news),
            }
        }
    }

    /// The watch is over: so are the steps that go on.
    pub(super) fn close_steps(&mut self, news: &mut Vec<FlexNews>) {
        for (n, over) in self.steps.over().into_iter().enumerate() {
            if let Some(over) = over {
                self.step_over(n, over.step, lasted(over), news);
            }
        }
        for (n, open) in self.steps.open().into_iter().enumerate() {
            let Some((step, unseen)) = open else { continue };
            let lasted = match unseen {
                Some(unseen) => Lasted::AtLeastMicros(since(step.at, unseen)),
                None => Lasted::StillAtEnd(since(step.at, self.clock.now)),
            };
            self.step_over(n, step, lasted, news);
        }
    }

    fn step_over(&mut self, n: usize, step: Step, lasted: Lasted, news: &mut Vec<FlexNews>) {
        let lane = &mut self.lanes.lanes[n];
        lane.steps += 1;
        lane.largest_step_ohm =
            Some(lane.largest_step_ohm.map_or(step.ohm, |old| old.max(step.ohm)));
        lane.longest_step_us = lane.longest_step_us.max(lasted.micros());
        let depth = Depth::Ohm(lane.baseline_ohm.unwrap_or(0.0) + step.ohm);
        let event = FlexEvent { lane: lane.of, kind: FlexKind::Step, at: step.at, lasted, depth };
        self.log.event(event);
        news.push(FlexNews::Ended(event));
    }

    fn deepen_breaks(&mut self, seen: &Seen, carries: u8) {
        for post in Post::ALL.map(Post::index).into_iter().filter(|post| carries >> post & 1 == 0) {
            if let Some(ohm) = self.resistances.broken_ohm(seen, carries, post) {
                self.lanes.deepen(post, depth(ohm));
            }
        }
    }

    fn deepen_touches(&mut self, seen: &Seen, carries: u8) {
        let (Some(circuit), Some(told)) = (&self.circuit, self.told(carries)) else { return };
        let on = told.on & told.known;
        for (n, (a, b)) in Post::PAIRS.into_iter().enumerate().filter(|(n, _)| on >> n & 1 != 0) {
            let shares = |(m, (c, d)): (usize, &(Post, Post))| {
                m != n && on >> m & 1 != 0 && [a, b].iter().any(|post| post == c || post == d)
            };
            // Where three touch, who has what of the current is not known.
            if !Post::PAIRS.iter().enumerate().any(shares) {
                let ohm = circuit.between_ohm(seen, a.index(), b.index());
                if ohm < TOUCH_OHM {
                    self.lanes.deepen(n, Depth::Ohm(ohm.max(0.0)));
                }
            }
        }
    }
}

fn lasted(over: Over) -> Lasted {
    match over.unseen {
        Some(unseen) => Lasted::AtLeastMicros(since(over.step.at, unseen)),
        None => Lasted::Micros(since(over.step.at, over.until)),
    }
}

fn depth(ohm: f64) -> Depth {
    if ohm <= OPEN_OHM {
        Depth::Ohm(ohm)
    } else if ohm > OPEN_OHM {
        Depth::Open
    } else {
        Depth::NotSeen
    }
}
