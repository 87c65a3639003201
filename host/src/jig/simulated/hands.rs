//! Two hands at the mated fixture, which do what the sounder says: a scripted operator, in the jig's time.

use std::collections::VecDeque;

use rand::RngExt;
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{OpenConductor, Run};

use super::leads::{Fault, Lead, chance};
use super::plugging::{self, Course};

/// What hands take, in milliseconds, from the least to the most. (judgement)
const HEARS: (u64, u64) = (200, 350);
const PULLS: (u64, u64) = (200, 350);
const PLUGS_IN: (u64, u64) = (550, 850);
/// Of which so much is the push, with the plug held at the socket.
const PUSHES: (u64, u64) = (150, 250);
const LAYS_AWAY: (u64, u64) = (350, 550);
const TAKES_NEXT: (u64, u64) = (450, 700);
/// Of a hundred leads so many are pulled out at both ends when only one was asked for. (judgement)
const PULLS_BOTH_PERCENT: u32 = 3;
/// And of so many end B is pushed in again when the verdict is out. (judgement)
const PUSHES_IN_AGAIN_PERCENT: u32 = 3;
/// A tone with a pause in it is heard once.
const SAME_TONE_NANOS: u64 = 1_300_000_000;

const NANOS_PER_MILLI: u64 = 1_000_000;

/// What the operator waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Waits {
    /// To be asked for the next lead, which is in hand from then on.
    ForNext { in_hand: u64 },
    /// With both ends in.
    BothIn,
    /// With end B out, or both.
    ForVerdict { is_in: bool },
}

/// Which contacts of a lead are made in sockets A and B.
#[derive(Clone, Copy, Debug, Default)]
struct Contacts {
    a: [bool; 4],
    b: [bool; 4],
}

/// The operator, and the box of leads.
pub(crate) struct Operator {
    seed: u64,
    nth: u32,
    lead: Lead,
    /// Its verdict was heard.
    is_done: bool,
    random: Pcg32,
    waits: Waits,
    stands: Contacts,
    /// What will be, and when.
    planned: VecDeque<(u64, Contacts)>,
    last_heard: (u64, u16),
}

impl Operator {
    pub(crate) fn new(seed: u64) -> Self {
        Self {
            seed,
            nth: 0,
            lead: Lead::nth(0, seed),
            is_done: false,
            random: chance(seed),
            waits: Waits::ForNext { in_hand: 0 },
            stands: Contacts::default(),
            planned: VecDeque::new(),
            last_heard: (0, 0),
        }
    }

    /// Which lead is in hand, from 1, and what is wrong with it.
    pub(crate) fn in_hand(&self) -> (u32, Fault) {
        (self.nth + 1, self.lead.fault)
    }

    /// The fixture with nothing in it.
    pub(crate) fn nothing(seed: u64) -> Run {
        with(&Lead::nth(0, seed).run, Contacts::default())
    }

    pub(super) fn due(&self) -> Option<u64> {
        self.planned.front().map(|(at, _)| *at)
    }

    /// What is done by now, the next of it.
    pub(super) fn act(&mut self, now: u64) -> Option<Run> {
        let (_, contacts) = self.planned.pop_front_if(|(at, _)| *at <= now)?;
        self.stands = contacts;
        Some(with(&self.lead.run, contacts))
    }

    /// A tone begins.
    pub(super) fn hear(&mut self, now: u64, hertz: u16) {
        let (before, same) = self.last_heard;
        if same == hertz && now < before + SAME_TONE_NANOS && hertz != 1_500 {
            return;
        }
        self.last_heard = (now, hertz);
        let acts = now + self.takes(HEARS);
        match (hertz, self.waits) {
            (1_500, Waits::ForNext { in_hand }) => {
                if std::mem::replace(&mut self.is_done, false) {
                    self.nth += 1;
                    self.lead = Lead::nth(self.nth, self.seed);
                }
                let at_socket = in_hand + self.takes(PLUGS_IN);
                let pushed = acts + self.takes(PUSHES);
                self.put_in(pushed.max(at_socket));
            }
            (1_500, Waits::BothIn) => self.pull_b(acts),
            (1_000 | 300, Waits::ForVerdict { .. }) => self.done_with(acts),
            (800, Waits::ForVerdict { is_in }) => {
                let pulled = if is_in { self.pull(acts, [true, false]) } else { acts };
                let a_in = pulled + self.takes(PLUGS_IN);
                self.put_in(a_in);
            }
            _ => {}
        }
    }

    /// End A then, and end B as soon as hands can.
    fn put_in(&mut self, a_in: u64) {
        let course = plugging::in_(&mut self.random);
        self.plan(a_in, &course, |contacts, made| contacts.a = made);
        let b_in = a_in + self.takes(PLUGS_IN);
        let course = plugging::in_(&mut self.random);
        self.plan(b_in, &course, |contacts, made| contacts.b = made);
        self.waits = Waits::BothIn;
    }

    fn pull_b(&mut self, from: u64) {
        let both = self.random.random_range(0..100) < PULLS_BOTH_PERCENT;
        self.pull(from, [both, true]);
        self.waits = Waits::ForVerdict { is_in: !both };
    }

    /// The next lead is in hand a while later.
    fn done_with(&mut self, from: u64) {
        let mut from = from;
        if self.random.random_range(0..100) < PUSHES_IN_AGAIN_PERCENT {
            let b_in = from + self.takes(PLUGS_IN);
            let course = plugging::in_(&mut self.random);
            self.plan(b_in, &course, |contacts, made| contacts.b = made);
            from = self.pull(b_in + 700 * NANOS_PER_MILLI, [false, true]);
        }
        let out = self.pull(from, [true, false]);
        let in_hand = out + self.takes(LAYS_AWAY) + self.takes(TAKES_NEXT);
        self.waits = Waits::ForNext { in_hand };
        self.is_done = true;
    }

    /// Pulls ends A and B, or one of them; returns when.
    fn pull(&mut self, from: u64, [a, b]: [bool; 2]) -> u64 {
        let out = from + self.takes(PULLS);
        for (is_pulled, is_a) in [(a, true), (b, false)] {
            if is_pulled {
                let course = plugging::out(&mut self.random);
                self.plan(out, &course, |contacts, made| {
                    *(if is_a { &mut contacts.a } else { &mut contacts.b }) = made;
                });
            }
        }
        out
    }

    fn plan(&mut self, from: u64, course: &Course, set: impl Fn(&mut Contacts, [bool; 4])) {
        for (millis, made) in course {
            let at = from + millis * NANOS_PER_MILLI;
            // What the other end does meanwhile goes on beside it.
            let place = self.planned.partition_point(|(planned, _)| *planned <= at);
            let mut contacts = match place.checked_sub(1) {
                Some(before) => self.planned[before].1,
                None => self.stands,
            };
            set(&mut contacts, *made);
            for (_, later) in self.planned.iter_mut().skip(place) {
                set(later, *made);
            }
            self.planned.insert(place, (at, contacts));
        }
    }

    fn takes(&mut self, (least, most): (u64, u64)) -> u64 {
        self.random.random_range(least..most) * NANOS_PER_MILLI
    }
}

fn with(run: &Run, contacts: Contacts) -> Run {
    let mut run = run.clone();
    for (made, at) in [(contacts.a, 0.0), (contacts.b, 1.0)] {
        let lost = (1..=4_u8).filter(|post| !made[usize::from(*post) - 1]);
        run.open.extend(lost.map(|post| OpenConductor { post, at }));
    }
    run
}
