//! Leads one after the other, told from looks, phases and the jig's clock alone: what to do next.
//!
//! In a fixture: both ends in → plug phase → open phase → both ends out. The jig switches the ring behind socket B. So a lead is seen in both
//! sockets before anything of it is measured; and behind its isolation, as its capacitance hung on socket A when that
//! was measured. By clips: end A on → open phase → end B on → plug phase → both off. The next one counts only after socket A, or
//! the jig's clips, were seen empty.

mod presence;
mod repeats;
mod ring;
mod standing;

pub(crate) use presence::{Fixture, Presence};
use repeats::Repeats;
pub(crate) use repeats::Troubles;
pub(crate) use ring::ring_is_in;
use runproof_interpret::Glance;
use runproof_protocol::{Microseconds, Phase};
use standing::Standing;

/// Where less than the whole ring is seen it may still be on its way in. (judgement)
const PART_STEADY_MICROS: u64 = 1_500_000;
/// What is wrong is measured until it comes out the same so many times in a row: through all plug phases no contact is
/// lost that is only made again, as they take two seconds, nor through both open ones. (judgement)
const SAME_PLUG: u32 = 3;
const SAME_OPEN: u32 = 2;
/// Socket A is empty when it was seen so often in a row; and what is in it sooner than this after the last lead was seen
/// there is that lead, half pulled and pushed in again, as no hands change leads so fast. (judgement)
const EMPTY_LOOKS: u32 = 2;
const CHANGED_AFTER_MICROS: u64 = 900_000;

/// By clips end A is on when it hangs there whole for so long, or in part without a change for so long, as they go on one by one. (judgement)
const WHOLE_STEADY_MICROS: u64 = 600_000;
const PART_ON_MICROS: u64 = 5_000_000;

/// How leads are put on the jig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Way {
    /// Both ends at once, into a fixture.
    Fixture,
    /// End A on the jig's clips, then end B on the tail's, whose ring stays.
    Clips,
}

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Next {
    /// Look again.
    Look,
    /// Measure this phase.
    Measure(Phase),
    /// The lead is whole: judge it, keep it, count it, show it.
    Count,
    /// Nothing counts of what was measured: ask for both ends to be put in again.
    Again(Why),
    /// End A is measured: ask for end B.
    EndB,
    /// Both ends are on: ask for end B to be taken off, as isolation is measured first.
    EndBOff,
    /// A lead was put in before the last one was seen to leave: ask for it to be taken out.
    TakeOut,
    /// The sockets are empty: ask for the next lead.
    Ready,
}

/// Why a lead is asked for again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Why {
    /// Its isolation was measured while it was not in socket A, or not shown to be.
    NotInSocketA,
    /// What was measured twice came out differently: its contacts move.
    Unsteady,
}

/// What was seen of the fixture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Seen {
    /// Which posts meet, the ring switched in.
    pub(crate) glance: Glance,
    /// What hangs on socket A; none, before the empty fixture is known.
    pub(crate) presence: Option<Presence>,
}

/// Where a lead is on its way.
#[derive(Clone, Copy, Debug)]
enum At {
    /// The empty fixture is measured.
    Start,
    /// Socket A was seen empty, or nothing counts of what was in it: a lead is waited for, by clips its end A.
    In,
    /// By clips, both ends were on too early: end B is waited for to come off.
    EndBOff,
    /// By clips, end A is measured: end B is waited for. So often nothing was seen on the clips.
    EndB { empty: u32 },
    /// What it is through the ring is measured.
    PlugPhase,
    /// And its isolation.
    OpenPhase,
    /// It is counted: socket A is watched until it is empty. So often it was seen so, and whether the ring went since.
    Leaving { empty: u32, has_moved: bool },
}

/// One fixture, or one jig's clips.
#[derive(Clone, Debug)]
pub(crate) struct Leads {
    way: Way,
    at: At,
    standing: Standing,
    /// The last lead was seen, after it was counted.
    last_seen: Microseconds,
    repeats: Repeats,
    /// The phase of this lead that was measured first had something wrong.
    first_is_wrong: bool,
    /// All four posts had what a lead has, when its isolation was measured.
    hung_whole: bool,
    /// It was measured because somebody said so.
    is_forced: bool,
}

impl Leads {
    pub(crate) fn new(way: Way) -> Self {
        Self {
            way,
            at: At::Start,
            standing: Standing::default(),
            last_seen: Microseconds(0),
            repeats: Repeats::default(),
            first_is_wrong: false,
            hung_whole: false,
            is_forced: false,
        }
    }

    /// What is measured with the ring switched out is of a lead, not of the empty fixture.
    pub(crate) fn is_on_a_lead(&self) -> bool {
        matches!(self.at, At::OpenPhase)
    }

    /// Of a lead this is measured before the other phase.
    pub(crate) fn is_first(&self, phase: Phase) -> bool {
        self.first() == phase
    }

    pub(crate) fn way(&self) -> Way {
        self.way
    }

    fn first(&self) -> Phase {
        match self.way {
            Way::Fixture => Phase::Plug,
            Way::Clips => Phase::Open,
        }
    }

    /// What to do after a look that ended at `at`; none was seen, where a reading was lost.
    pub(crate) fn see(&mut self, at: Microseconds, seen: Option<Seen>) -> Next {
        let Some(seen) = seen else { return Next::Look };
        let Seen { glance, presence } = seen;
        match self.at {
            At::Start if glance.joined() == [false; 6] => Next::Measure(Phase::Open),
            At::Start | At::PlugPhase | At::OpenPhase => Next::Look,
            At::In if self.is_the_last_one(at, presence) => {
                self.at = At::Leaving { empty: 0, has_moved: true };
                Next::Look
            }
            At::In => match self.is_in(at, seen) {
                true => self.measure_first(),
                false => Next::Look,
            },
            At::EndBOff if ring_is_in(&glance) => Next::Look,
            At::EndBOff => self.wait(Next::Look),
            At::EndB { empty } => self.see_end_b(at, seen, empty),
            At::Leaving { empty, has_moved } => {
                if presence != Some(Presence::Empty) {
                    self.last_seen = at;
                }
                self.see_leaving(glance, presence, empty, has_moved)
            }
        }
    }

    /// Whoever stands beside says that it is so: a lead may be open so far that nothing of the ring is seen.
    pub(crate) fn pressed(&mut self) -> Next {
        match self.at {
            At::Start => Next::Measure(Phase::Open),
            At::In | At::EndB { .. } => {
                let next = match self.at {
                    At::In => self.measure_first(),
                    _ => self.measure(Phase::Plug),
                };
                self.is_forced = true;
                next
            }
            _ => Next::Look,
        }
    }

    /// What to do after a plug phase.
    pub(crate) fn plug_measured(&mut self, glance: Option<Glance>, troubles: &Troubles) -> Next {
        if !self.is_forced && glance.is_some_and(|glance| !ring_is_in(&glance)) {
            return self.look_on();
        }
        if !self.repeats.is_settled(troubles, SAME_PLUG) {
            return self.repeat(Phase::Plug);
        }
        if self.way == Way::Fixture {
            self.first_is_wrong = !troubles.is_empty();
            return self.measure(Phase::Open);
        }
        // A conductor that is open at end A hangs on nothing. Where nothing is wrong all four hang there.
        if troubles.is_empty() && !self.first_is_wrong && !self.hung_whole {
            return self.wait(Next::Again(Why::NotInSocketA));
        }
        self.count()
    }

    /// What to do after an open phase. `presence` is what hung on socket A when it ended.
    pub(crate) fn open_measured(&mut self, presence: Presence, troubles: &Troubles) -> Next {
        if !self.is_on_a_lead() {
            return self.wait(Next::Ready);
        }
        self.hung_whole = presence == Presence::Whole;
        let may_be_in_part = self.way == Way::Clips || !troubles.is_empty() || self.first_is_wrong;
        if presence == Presence::Empty || !self.hung_whole && !may_be_in_part {
            return self.wait(Next::Again(Why::NotInSocketA));
        }
        if !self.repeats.is_settled(troubles, SAME_OPEN) {
            return self.repeat(Phase::Open);
        }
        if self.way == Way::Fixture {
            return self.count();
        }
        self.first_is_wrong = !troubles.is_empty();
        self.wait_for_end_b(Next::EndB)
    }

    /// The ring is seen where end B should be off: by clips that is for the operator.
    pub(crate) fn ring_stays(&mut self) -> Next {
        self.at = At::EndBOff;
        Next::EndBOff
    }

    fn count(&mut self) -> Next {
        self.at = At::Leaving { empty: 0, has_moved: false };
        Next::Count
    }

    /// The ring went before it could be measured.
    fn look_on(&mut self) -> Next {
        match self.way {
            Way::Fixture => self.wait(Next::Look),
            Way::Clips => self.wait_for_end_b(Next::Look),
        }
    }

    fn ring_is_steady(&mut self, at: Microseconds, seen: Seen) -> bool {
        let steady = self.standing.micros(at, seen, self.way) >= PART_STEADY_MICROS;
        let is_whole = seen.glance.joined() == [true; 6];
        ring_is_in(&seen.glance) && (is_whole || steady)
    }

    fn is_in(&mut self, at: Microseconds, seen: Seen) -> bool {
        if self.way == Way::Fixture {
            return self.ring_is_steady(at, seen);
        }
        let steady = self.standing.micros(at, seen, self.way);
        match seen.presence {
            None | Some(Presence::Empty) => false,
            Some(Presence::Whole) => steady >= WHOLE_STEADY_MICROS,
            Some(_) => steady >= PART_ON_MICROS,
        }
    }

    fn see_end_b(&mut self, at: Microseconds, seen: Seen, empty: u32) -> Next {
        if self.ring_is_steady(at, seen) {
            return self.measure(Phase::Plug);
        }
        let is_empty = seen.presence == Some(Presence::Empty);
        let empty = if is_empty { empty + 1 } else { 0 };
        if empty >= EMPTY_LOOKS {
            return self.wait(Next::Again(Why::NotInSocketA));
        }
        self.at = At::EndB { empty };
        Next::Look
    }

    fn is_the_last_one(&self, at: Microseconds, presence: Option<Presence>) -> bool {
        presence != Some(Presence::Empty)
            && at.0.saturating_sub(self.last_seen.0) < CHANGED_AFTER_MICROS
    }

    fn see_leaving(
        &mut self,
        glance: Glance,
        presence: Option<Presence>,
        empty: u32,
        has_moved: bool,
    ) -> Next {
        let is_empty = presence == Some(Presence::Empty) && glance.joined() == [false; 6];
        let empty = if is_empty { empty + 1 } else { 0 };
        if empty >= EMPTY_LOOKS {
            return self.wait(Next::Ready);
        }
        let came = has_moved && glance.joined() == [true; 6] && ring_is_in(&glance);
        let has_moved = !came && (has_moved || glance.joined() == [false; 6]);
        self.at = At::Leaving { empty, has_moved };
        if came { Next::TakeOut } else { Next::Look }
    }

    fn measure_first(&mut self) -> Next {
        self.is_forced = false;
        (self.first_is_wrong, self.hung_whole) = (false, false);
        self.measure(self.first())
    }

    fn measure(&mut self, phase: Phase) -> Next {
        self.at = if phase == Phase::Plug { At::PlugPhase } else { At::OpenPhase };
        self.repeats = Repeats::default();
        Next::Measure(phase)
    }

    fn repeat(&mut self, phase: Phase) -> Next {
        match self.repeats.once_more() {
            true => Next::Measure(phase),
            false => self.wait(Next::Again(Why::Unsteady)),
        }
    }

    fn wait_for_end_b(&mut self, next: Next) -> Next {
        self.at = At::EndB { empty: 0 };
        self.standing = Standing::default();
        next
    }

    fn wait(&mut self, next: Next) -> Next {
        self.at = At::In;
        self.standing = Standing::default();
        next
    }
}

#[cfg(test)]
mod bounce;
#[cfg(test)]
mod by_clips;
