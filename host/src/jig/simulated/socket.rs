//! The two sockets of a fixture: which contacts of a lead are made, and which will be, when.

use std::collections::VecDeque;

use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{OpenConductor, Run};

use super::NANOS_PER_MILLI;
use super::plugging::{self, Course};

/// Which contacts of a lead are made in sockets A and B.
type Contacts = [[bool; 4]; 2];

#[derive(Clone, Debug, Default)]
pub(super) struct Sockets {
    stands: Contacts,
    /// What will be, and when.
    planned: VecDeque<(u64, Contacts)>,
}

impl Sockets {
    /// When something changes next.
    pub(super) fn due(&self) -> Option<u64> {
        self.planned.front().map(|(at, _)| *at)
    }

    /// Whether something has changed by now: the next of it has.
    pub(super) fn act(&mut self, now: u64) -> bool {
        let next = self.planned.pop_front_if(|(at, _)| *at <= now);
        next.map(|(_, contacts)| self.stands = contacts).is_some()
    }

    /// Ends A and B, or one of them, in.
    pub(super) fn put_in(&mut self, from: u64, ends: [bool; 2], random: &mut Pcg32) {
        self.plan(from, ends, || plugging::in_(random));
    }

    /// And out.
    pub(super) fn pull(&mut self, from: u64, ends: [bool; 2], random: &mut Pcg32) {
        self.plan(from, ends, || plugging::out(random));
    }

    /// One contact of an end, on or off; the others of that end stay as they are by then.
    pub(super) fn clip(&mut self, at: u64, end: usize, contact: usize, on: bool) {
        let before = self.planned.iter().rfind(|(planned, _)| *planned <= at);
        let mut made = before.map_or(self.stands, |before| before.1)[end];
        made[contact] = on;
        self.change(at, end, made);
    }

    fn plan(&mut self, from: u64, ends: [bool; 2], mut course: impl FnMut() -> Course) {
        for (end, _) in ends.into_iter().enumerate().filter(|(_, moves)| *moves) {
            for (millis, made) in course() {
                self.change(from + millis * NANOS_PER_MILLI, end, made);
            }
        }
    }

    /// What the other end does meanwhile goes on beside it.
    fn change(&mut self, at: u64, end: usize, made: [bool; 4]) {
        let place = self.planned.partition_point(|(planned, _)| *planned <= at);
        let before = place.checked_sub(1).map_or(self.stands, |before| self.planned[before].1);
        self.planned.insert(place, (at, before));
        for (_, later) in self.planned.iter_mut().skip(place) {
            later[end] = made;
        }
    }

    /// A lead in them as they stand: a contact that is not made is an open conductor.
    pub(super) fn with(&self, run: &Run) -> Run {
        let mut run = run.clone();
        for (made, at) in self.stands.iter().zip([0.0, 1.0]) {
            let lost = (1..=4_u8).filter(|post| !made[usize::from(*post) - 1]);
            run.open.extend(lost.map(|post| OpenConductor { post, at }));
        }
        run
    }
}
