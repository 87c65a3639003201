//! Leads in a fixture, one after the other, told from looks, phases and the jig's clock alone: what to do next.
//!
//! Both ends in → plug phase → open phase → both ends out. The jig switches the ring behind socket B. So a lead is seen in both
//! sockets before anything of it is measured; and behind its isolation, as its capacitance hung on socket A when that
//! was measured. The next one counts only after socket A was seen empty.

mod presence;
mod ring;

pub(crate) use presence::{Fixture, Presence};
pub(crate) use ring::ring_is_in;
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
/// Socket A is empty when it was seen so often in a row; and what is in it sooner than this after the last lead was seen
/// there is that lead, half pulled and pushed in again, as no hands change leads so fast. (judgement)
const EMPTY_LOOKS: u32 = 2;
const CHANGED_AFTER_MICROS: u64 = 900_000;

/// What is wrong, and with which posts.
pub(crate) type Troubles = Vec<(FindingKind, Vec<Post>)>;

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
    /// Socket A was seen empty, or nothing counts of what was in it: both ends of a lead are waited for.
    BothIn,
    /// What it is through the ring is measured.
    PlugPhase,
    /// And its isolation.
    OpenPhase,
    /// It is counted: socket A is watched until it is empty. So often it was seen so, and whether the ring went since.
    Leaving { empty: u32, has_moved: bool },
}

/// One fixture.
#[derive(Clone, Debug)]
pub(crate) struct Leads {
    at: At,
    /// How the fixture stands, and since when.
    standing: Option<(Glance, Microseconds)>,
    /// The last lead was seen, after it was counted.
    last_seen: Microseconds,
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
            last_seen: Microseconds(0),
            before: None,
            plug_is_wrong: false,
            is_forced: false,
            same: 0,
            tries: 0,
        }
    }

    /// What is measured with the ring switched out is of a lead, not of the empty fixture.
    pub(crate) fn is_on_a_lead(&self) -> bool {
        matches!(self.at, At::OpenPhase)
    }

    /// What to do after a look that ended at `at`; none was seen, where a reading was lost.
    pub(crate) fn see(&mut self, at: Microseconds, seen: Option<Seen>) -> Next {
        let Some(Seen { glance, presence }) = seen else { return Next::Look };
        match self.at {
            At::Start if glance.joined() == [false; 6] => Next::Measure(Phase::Open),
            At::Start | At::PlugPhase | At::OpenPhase => Next::Look,
            At::BothIn if self.is_the_last_one(at, presence) => {
                self.at = At::Leaving { empty: 0, has_moved: true };
                Next::Look
            }
            At::BothIn => self.see_both_in(at, glance),
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
            At::BothIn => {
                let next = self.measure_plug();
                self.is_forced = true;
                next
            }
            _ => Next::Look,
        }
    }

    /// What to do after a plug phase.
    pub(crate) fn plug_measured(&mut self, glance: Option<Glance>, troubles: &Troubles) -> Next {
        if !self.is_forced && glance.is_some_and(|glance| !ring_is_in(&glance)) {
            return self.both_in(Next::Look);
        }
        if !self.is_settled(troubles, SAME_PLUG) {
            return self.repeat(Phase::Plug);
        }
        self.plug_is_wrong = !troubles.is_empty();
        self.measure(At::OpenPhase, Phase::Open)
    }

    /// What to do after an open phase. `presence` is what hung on socket A when it ended.
    pub(crate) fn open_measured(&mut self, presence: Presence, troubles: &Troubles) -> Next {
        if !self.is_on_a_lead() {
            return self.both_in(Next::Ready);
        }
        // A conductor that is open at end A hangs on nothing. Where nothing is wrong all four hang there.
        let is_shown = match presence {
            Presence::Empty => false,
            Presence::Whole => true,
            _ => !troubles.is_empty() || self.plug_is_wrong,
        };
        if !is_shown {
            return self.both_in(Next::Again(Why::NotInSocketA));
        }
        if self.is_settled(troubles, SAME_OPEN) {
            self.at = At::Leaving { empty: 0, has_moved: false };
            return Next::Count;
        }
        self.repeat(Phase::Open)
    }

    fn is_the_last_one(&self, at: Microseconds, presence: Option<Presence>) -> bool {
        presence != Some(Presence::Empty)
            && at.0.saturating_sub(self.last_seen.0) < CHANGED_AFTER_MICROS
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
            return self.both_in(Next::Ready);
        }
        let came = has_moved && glance.joined() == [true; 6] && ring_is_in(&glance);
        let has_moved = !came && (has_moved || glance.joined() == [false; 6]);
        self.at = At::Leaving { empty, has_moved };
        if came { Next::TakeOut } else { Next::Look }
    }

    fn measure_plug(&mut self) -> Next {
        self.is_forced = false;
        self.measure(At::PlugPhase, Phase::Plug)
    }

    fn measure(&mut self, at: At, phase: Phase) -> Next {
        self.at = at;
        (self.before, self.tries) = (None, 0);
        Next::Measure(phase)
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
        if self.tries >= TRIES {
            return self.both_in(Next::Again(Why::Unsteady));
        }
        Next::Measure(phase)
    }

    fn both_in(&mut self, next: Next) -> Next {
        self.at = At::BothIn;
        self.standing = None;
        next
    }
}

#[cfg(test)]
mod bounce;
