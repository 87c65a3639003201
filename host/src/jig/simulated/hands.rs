//! Two hands at one fixture or more, which do what the sounders say: a scripted operator, in the jigs' time.

use std::collections::VecDeque;

use rand::RngExt;
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::Run;

use super::NANOS_PER_MILLI;
use super::leads::{Fault, Lead, chance};
use super::socket::Sockets;
use crate::guide::lead::Way;

/// What hands take, in milliseconds, from the least to the most. (judgement)
const HEARS: (u64, u64) = (200, 350);
/// Both ends, a hand for each.
const PULLS: (u64, u64) = (200, 350);
/// An end; one after the other, as eyes look at one socket.
const PLUGS_IN: (u64, u64) = (550, 850);
/// Of which so much is the push, with the plug held at the socket.
const PUSHES: (u64, u64) = (150, 250);
/// One hand lays away while the other takes the next.
const LAYS_AWAY: (u64, u64) = (350, 550);
const TAKES_NEXT: (u64, u64) = (450, 700);
/// A clip put on, or taken off; one after the other.
const CLIPS_ON: (u64, u64) = (1_000, 1_800);
const CLIPS_OFF: (u64, u64) = (300, 500);
/// Of a hundred leads so many have end B pulled alone and pushed in again when the verdict is out. (judgement)
const PUSHES_IN_AGAIN_PERCENT: u32 = 3;
const HALF_OUT_MILLIS: u64 = 700;
/// A tone with a pause in it is heard once.
const SAME_TONE_NANOS: u64 = 1_300_000_000;
/// What a jig's clock may be ahead of another's: nobody does anything sooner after a tone.
const AHEAD_NANOS: u64 = 150 * NANOS_PER_MILLI;

/// A tone that was heard, when and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Tone {
    at: u64,
    fixture: usize,
    hertz: u16,
}

/// What is to be done next, at which fixture, and when that was heard.
#[derive(Clone, Copy, Debug)]
enum Task {
    /// It is empty, and takes its first lead.
    First,
    /// Its verdict is out: the next lead.
    Next,
    /// By clips, end A is measured: end B.
    EndB,
    /// The lead in it, once more.
    Again,
}

/// The operator, the box of leads, and what is in each fixture.
pub(crate) struct Operator {
    seed: u64,
    way: Way,
    random: Pcg32,
    fixtures: Vec<Fixture>,
    /// All jigs have been met: from here on their clocks go together.
    has_begun: bool,
    /// How many leads were taken out of the box.
    taken: u32,
    heard: Vec<Tone>,
    tasks: VecDeque<(Tone, Task)>,
    /// Hands have nothing to do from then on.
    free_at: u64,
    /// With a lead in hand for this fixture, which has to say that it is empty.
    carries_to: Option<usize>,
}

struct Fixture {
    clock: Option<u64>,
    nth: u32,
    lead: Lead,
    sockets: Sockets,
    /// It said that it is empty.
    ready_at: Option<u64>,
    has_lead: bool,
    /// By clips: end A is on, and end B in hand.
    waits_for_end_b: bool,
    last_heard: (u64, u16),
}

impl Operator {
    pub(crate) fn new(seed: u64, fixtures: usize, way: Way) -> Self {
        let fixture = || Fixture {
            clock: None,
            nth: 0,
            lead: Lead::nth(0, seed),
            sockets: Sockets::default(),
            ready_at: None,
            has_lead: false,
            waits_for_end_b: false,
            last_heard: (0, 0),
        };
        Self {
            seed,
            way,
            random: chance(seed),
            fixtures: (0..fixtures).map(|_| fixture()).collect(),
            has_begun: false,
            taken: 0,
            heard: vec![],
            tasks: VecDeque::new(),
            free_at: 0,
            carries_to: None,
        }
    }

    /// All jigs are there.
    pub(crate) fn begin(&mut self) {
        self.has_begun = true;
    }

    /// Which lead is in a fixture, from 1, and what is wrong with it.
    pub(crate) fn in_fixture(&self, fixture: usize) -> (u32, Fault) {
        (self.fixtures[fixture].nth + 1, self.fixtures[fixture].lead.fault)
    }

    /// A fixture with nothing in it.
    pub(crate) fn nothing(seed: u64) -> Run {
        Sockets::default().with(&Lead::nth(0, seed).run)
    }

    /// So far a fixture's jig may run, for the others' sake.
    pub(super) fn may_run_to(&self, fixture: usize) -> u64 {
        let others = self.fixtures.iter().enumerate().filter(|(nth, _)| *nth != fixture);
        let slowest = others.filter_map(|(_, other)| other.clock).min();
        slowest.filter(|_| self.has_begun).map_or(u64::MAX, |clock| clock + AHEAD_NANOS)
    }

    pub(super) fn due(&self, fixture: usize) -> Option<u64> {
        self.fixtures[fixture].sockets.due()
    }

    /// What is done at a fixture by now, the next of it.
    pub(super) fn act(&mut self, fixture: usize, now: u64) -> Option<Run> {
        let Fixture { sockets, lead, .. } = &mut self.fixtures[fixture];
        sockets.act(now).then(|| sockets.with(&lead.run))
    }

    /// A fixture's jig has come so far; what began to sound there.
    pub(super) fn attend(&mut self, fixture: usize, now: u64, tone: Option<u16>) {
        let Fixture { clock, last_heard, .. } = &mut self.fixtures[fixture];
        *clock = Some(now);
        if let Some(hertz) = tone {
            let (before, same) = std::mem::replace(last_heard, (now, hertz));
            if same != hertz || now >= before + SAME_TONE_NANOS || hertz == 1_500 {
                self.heard.push(Tone { at: now, fixture, hertz });
            }
        }
        self.hear();
    }

    /// A fixture's jig is switched off.
    pub(super) fn leave(&mut self, fixture: usize) {
        self.fixtures[fixture].clock = None;
    }

    /// Tones in their order: none is acted upon before all jigs have come as far.
    fn hear(&mut self) {
        let slowest = self.fixtures.iter().filter_map(|fixture| fixture.clock).min();
        self.heard.sort();
        while let Some(tone) = self.heard.first().copied().filter(|tone| Some(tone.at) <= slowest) {
            self.heard.remove(0);
            let fixture = &mut self.fixtures[tone.fixture];
            match tone.hertz {
                1_500 if std::mem::take(&mut fixture.waits_for_end_b) => {
                    self.tasks.push_back((tone, Task::EndB));
                }
                1_500 if fixture.has_lead || self.carries_to == Some(tone.fixture) => {
                    fixture.ready_at = Some(tone.at);
                }
                1_500 => {
                    fixture.ready_at = Some(tone.at);
                    fixture.has_lead = true;
                    self.tasks.push_back((tone, Task::First));
                }
                1_000 | 300 => self.tasks.push_back((tone, Task::Next)),
                800 => self.tasks.push_back((tone, Task::Again)),
                _ => {}
            }
            self.work();
        }
    }

    fn work(&mut self) {
        loop {
            if let Some(fixture) = self.carries_to {
                let Some(heard) = self.fixtures[fixture].ready_at.take() else { return };
                self.carries_to = None;
                self.put_next(fixture, heard);
            } else if let Some((tone, task)) = self.tasks.pop_front() {
                let begins = self.free_at.max(tone.at + self.takes(HEARS));
                self.follow(tone.fixture, begins, task);
            } else {
                return;
            }
        }
    }

    fn follow(&mut self, fixture: usize, begins: u64, task: Task) {
        match task {
            Task::First => {
                self.free_at = begins + self.takes(TAKES_NEXT);
                self.carries_to = Some(fixture);
            }
            Task::Next => {
                let mut begins = begins;
                let pushes = self.random.random_range(0..100) < PUSHES_IN_AGAIN_PERCENT;
                if pushes && self.way == Way::Fixture {
                    let out = begins + self.takes(PULLS);
                    self.fixtures[fixture].sockets.pull(out, [false, true], &mut self.random);
                    let back = out + self.takes(PLUGS_IN);
                    self.fixtures[fixture].sockets.put_in(back, [false, true], &mut self.random);
                    begins = back + HALF_OUT_MILLIS * NANOS_PER_MILLI;
                }
                let out = self.take_out(fixture, begins);
                let laid = self.takes(LAYS_AWAY);
                self.free_at = out + laid.max(self.takes(TAKES_NEXT));
                self.fixtures[fixture].ready_at = None;
                self.carries_to = Some(fixture);
            }
            Task::EndB => self.free_at = self.clip(fixture, begins, 1, true),
            Task::Again => {
                let out = self.take_out(fixture, begins);
                let a_in = out + self.takes(PLUGS_IN);
                self.put_in(fixture, a_in);
            }
        }
    }

    fn put_next(&mut self, fixture: usize, heard: u64) {
        self.fixtures[fixture].nth = self.taken;
        self.fixtures[fixture].lead = Lead::nth(self.taken, self.seed);
        self.taken += 1;
        let at_socket = self.free_at + self.takes(PLUGS_IN);
        let pushed = heard + self.takes(HEARS) + self.takes(PUSHES);
        self.put_in(fixture, pushed.max(at_socket));
    }

    /// Both ends; returns when that is done.
    fn take_out(&mut self, fixture: usize, from: u64) -> u64 {
        if self.way == Way::Clips {
            let a_off = self.clip(fixture, from, 0, false);
            return self.clip(fixture, a_off, 1, false);
        }
        let out = from + self.takes(PULLS);
        self.fixtures[fixture].sockets.pull(out, [true, true], &mut self.random);
        out
    }

    /// The four clips of an end, one after the other, on or off; returns when that is done.
    fn clip(&mut self, fixture: usize, from: u64, end: usize, on: bool) -> u64 {
        let mut at = from;
        for clip in 0..4 {
            at += self.takes(if on { CLIPS_ON } else { CLIPS_OFF });
            self.fixtures[fixture].sockets.clip(at, end, clip, on);
        }
        at
    }

    /// End A then, and end B as soon as hands can; by clips, when it is asked for.
    fn put_in(&mut self, fixture: usize, a_in: u64) {
        if self.way == Way::Clips {
            self.free_at = self.clip(fixture, a_in, 0, true);
            self.fixtures[fixture].waits_for_end_b = true;
            return;
        }
        let b_in = a_in + self.takes(PLUGS_IN);
        let sockets = &mut self.fixtures[fixture].sockets;
        sockets.put_in(a_in, [true, false], &mut self.random);
        sockets.put_in(b_in, [false, true], &mut self.random);
        self.free_at = b_in;
    }

    fn takes(&mut self, (least, most): (u64, u64)) -> u64 {
        self.random.random_range(least..most) * NANOS_PER_MILLI
    }
}
