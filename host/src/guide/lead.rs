//! Leads on a mated fixture, one after the other, told from glances, phases and the jig's clock alone: what to do next.
//!
//! Both ends in → plug phase → end B out → open phase → end A out. So a lead is known to be in socket A before its
//! isolation is measured, as the ring was seen through it, and behind it, as its capacitance hung on socket A when the
//! phase ended. The next one counts only after socket A was seen empty.

mod presence;
mod ring;

pub(crate) use presence::{Fixture, Presence};
use ring::ring_is_in;
use ring::{Gone, gone};
use runproof_interpret::Glance;
use runproof_interpret::judgement::FindingKind;
use runproof_protocol::{Microseconds, Phase, Post};

/// Where less than the whole ring is seen it may still be on its way in. (judgement)
const PART_STEADY_MICROS: u64 = 1_500_000;
/// What is wrong is measured until it comes out the same so many times in a row, at most so often: through all plug
/// phases no contact is lost that is only made again, as they take two seconds, nor through both open ones. (judgement)
const SAME_PLUG: u32 = 3;
const SAME_OPEN: u32 = 2;
const SAME_SOUND: u32 = 2;
const TRIES: u32 = 6;
/// From the last sight of the ring to the open phase: nobody takes end A out and puts it back in so little. (judgement)
const OUT_OF_SIGHT_MICROS: u64 = 1_200_000;

/// What is wrong, and with which posts.
pub(crate) type Troubles = Vec<(FindingKind, Vec<Post>)>;

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Next {
    /// Look again.
    Look,
    /// Measure this phase.
    Measure(Phase),
    /// Ask for end B to be taken out.
    TakeEndBOut,
    /// The lead is whole: judge it, keep it, count it, show it.
    Count,
    /// Nothing counts of what was measured: ask for both ends to be put in again.
    Again(Why),
    /// Something is in, and the last lead was never seen to leave: ask for it to be taken out.
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
    /// End B was put in again.
    EndBCameBack,
}

/// Where a lead is on its way.
#[derive(Clone, Debug)]
enum At {
    /// The empty fixture is measured.
    Start,
    /// Socket A was seen empty, or nothing counts of what was in it: both ends of a lead are waited for.
    BothIn,
    /// Its plug phase is measured.
    PlugPhase,
    /// It was, and end B is waited for to come out. How the lead stood, and when that was seen last.
    EndBOut { stood: Glance, seen: Microseconds },
    /// The open phase is measured; so it stood before.
    OpenPhase { stood: Glance },
    /// Something was wrong in it: has end B come back?
    LookAgain { stood: Glance },
    /// It is counted: socket A is watched until it is empty.
    Leaving { told: bool },
}

/// One station.
#[derive(Clone, Debug)]
pub(crate) struct Leads {
    at: At,
    /// How the fixture stands, and since when.
    standing: Option<(Glance, Microseconds)>,
    /// What the last plug phase, or the last open phase, showed to be wrong.
    before: Option<Troubles>,
    /// The plug phase of this lead had something wrong.
    plug_is_wrong: bool,
    /// It was measured because somebody said so.
    is_forced: bool,
    /// So often what is wrong came out the same, and so often it was measured.
    same: u32,
    tries: u32,
}

impl Leads {
    pub(crate) fn new() -> Self {
        Self {
            at: At::Start,
            standing: None,
            before: None,
            plug_is_wrong: false,
            is_forced: false,
            same: 0,
            tries: 0,
        }
    }

    /// What is measured with the sockets open is of a lead, not of the empty fixture.
    pub(crate) fn is_on_a_lead(&self) -> bool {
        !matches!(self.at, At::Start | At::Leaving { .. })
    }

    /// What to do after a glance that ended at `at`; none, where a reading was lost.
    pub(crate) fn see(&mut self, at: Microseconds, glance: Option<Glance>) -> Next {
        let Some(glance) = glance else { return Next::Look };
        match self.at {
            At::Start if glance.joined() == [false; 6] => Next::Measure(Phase::Open),
            At::Start | At::PlugPhase | At::OpenPhase { .. } | At::Leaving { .. } => Next::Look,
            At::BothIn => self.see_both_in(at, glance),
            At::EndBOut { stood, seen } => self.see_end_b(at, glance, stood, seen),
            At::LookAgain { stood } if gone(&glance, &stood) == Gone::Whole => {
                self.at = At::OpenPhase { stood };
                Next::Measure(Phase::Open)
            }
            At::LookAgain { .. } => self.again(Why::EndBCameBack),
        }
    }

    /// Whoever stands beside says that it is so: a lead may be open so far that nothing of the ring is seen.
    pub(crate) fn pressed(&mut self) -> Next {
        match self.at {
            At::Start => Next::Measure(Phase::Open),
            At::BothIn => {
                let next = self.measure_plug();
                self.is_forced = true;
                next
            }
            At::EndBOut { stood, .. } => self.measure_open(stood),
            _ => Next::Look,
        }
    }

    /// What to do after a plug phase that ended at `at`.
    pub(crate) fn plug_measured(
        &mut self,
        at: Microseconds,
        glance: Option<Glance>,
        troubles: Troubles,
    ) -> Next {
        if !self.is_forced && glance.is_some_and(|glance| !ring_is_in(&glance)) {
            self.at = At::BothIn;
            self.standing = None;
            return Next::Look;
        }
        self.plug_is_wrong = !troubles.is_empty();
        if self.is_settled(&troubles, SAME_PLUG) {
            let stood = glance.or(self.standing.map(|(glance, _)| glance)).unwrap_or(Glance::OPEN);
            self.at = At::EndBOut { stood, seen: at };
            self.standing = None;
            return Next::TakeEndBOut;
        }
        self.repeat(Phase::Plug)
    }

    /// What to do after an open phase. `presence` is what hung on socket A when it ended.
    pub(crate) fn open_measured(&mut self, presence: Presence, troubles: Troubles) -> Next {
        match self.at {
            At::Start => self.ready(),
            At::Leaving { told } => match presence {
                Presence::Empty => self.ready(),
                // All of it is held: by the ring, through a lead that nobody saw coming.
                Presence::Held if !told => {
                    self.at = At::Leaving { told: true };
                    Next::TakeOut
                }
                _ => Next::Measure(Phase::Open),
            },
            _ if presence == Presence::Empty => self.again(Why::NotInSocketA),
            // A conductor that is open at end A hangs on nothing. Where nothing is wrong all four hang there, and
            // none is held: not by the ring either, through a lead that has just come back.
            _ if troubles.is_empty() && !self.plug_is_wrong && presence != Presence::Whole => {
                self.again(Why::NotInSocketA)
            }
            _ => self.open_measured_on_a_lead(&troubles),
        }
    }

    fn open_measured_on_a_lead(&mut self, troubles: &Troubles) -> Next {
        if self.is_settled(troubles, SAME_OPEN) {
            self.at = At::Leaving { told: false };
            return Next::Count;
        }
        let next = self.repeat(Phase::Open);
        match self.at {
            At::OpenPhase { stood } if next == Next::Measure(Phase::Open) => {
                self.at = At::LookAgain { stood };
                Next::Look
            }
            _ => next,
        }
    }

    /// What to do when what was asked for has been told, or counted.
    pub(crate) fn told(&mut self) -> Next {
        match self.at {
            At::Leaving { .. } => Next::Measure(Phase::Open),
            _ => Next::Look,
        }
    }

    fn see_both_in(&mut self, at: Microseconds, glance: Glance) -> Next {
        let since = match self.standing {
            Some((before, since)) if before.like(&glance) => since,
            _ => at,
        };
        self.standing = Some((glance, since));
        let steady = at.0.saturating_sub(since.0) >= PART_STEADY_MICROS;
        let is_whole = glance.joined() == [true; 6];
        if ring_is_in(&glance) && (is_whole || steady) { self.measure_plug() } else { Next::Look }
    }

    fn see_end_b(
        &mut self,
        at: Microseconds,
        glance: Glance,
        stood: Glance,
        seen: Microseconds,
    ) -> Next {
        match gone(&glance, &stood) {
            Gone::Not => {
                self.at = At::EndBOut { stood, seen: at };
                self.standing = None;
                Next::Look
            }
            Gone::InPart => {
                // It is on its way; what is left of the ring still shows that end A is in.
                self.at = At::EndBOut { stood, seen: at };
                Next::Look
            }
            Gone::Whole if at.0.saturating_sub(seen.0) > OUT_OF_SIGHT_MICROS => {
                self.again(Why::NotInSocketA)
            }
            Gone::Whole => self.measure_open(stood),
        }
    }

    fn measure_plug(&mut self) -> Next {
        self.at = At::PlugPhase;
        self.is_forced = false;
        (self.before, self.tries) = (None, 0);
        Next::Measure(Phase::Plug)
    }

    fn measure_open(&mut self, stood: Glance) -> Next {
        self.at = At::OpenPhase { stood };
        (self.before, self.tries) = (None, 0);
        Next::Measure(Phase::Open)
    }

    /// Nothing is wrong at once, or the same as often as is `needed`; that nothing is wrong after all, twice.
    fn is_settled(&mut self, troubles: &Troubles, needed: u32) -> bool {
        let is_same = self.before.as_ref() == Some(troubles);
        self.same = if is_same { self.same + 1 } else { 1 };
        self.before = Some(troubles.clone());
        match troubles.is_empty() {
            true => self.tries == 0 || self.same >= SAME_SOUND,
            false => self.same >= needed,
        }
    }

    fn repeat(&mut self, phase: Phase) -> Next {
        self.tries += 1;
        if self.tries >= TRIES { self.again(Why::Unsteady) } else { Next::Measure(phase) }
    }

    fn again(&mut self, why: Why) -> Next {
        self.at = At::BothIn;
        self.standing = None;
        Next::Again(why)
    }

    fn ready(&mut self) -> Next {
        self.at = At::BothIn;
        self.standing = None;
        Next::Ready
    }
}

#[cfg(test)]
mod bounce;
