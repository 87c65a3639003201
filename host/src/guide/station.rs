//! A fixture for leads: looks and measures as the leads' way asks for it, until there is something to tell.

use runproof_interpret::capture::{Ending, Entry, Rise, Zero};
use runproof_interpret::judgement::{Cause, Judgement, Severity};
use runproof_interpret::{Capture, Hanging, glance, hanging};
use runproof_protocol::{Microseconds, Phase};

use super::last_reading;
use super::lead::{Fixture, Leads, Next, Presence, Seen, Troubles, Way, Why, ring_is_in};
use crate::jig::Jig;

/// Nothing is done for so long: the relays may rest between glances.
const IDLE_MICROS: u64 = 20_000_000;

/// What there is to tell, or to do.
pub(crate) enum Event {
    /// The sockets are empty: the next lead.
    Ready,
    /// All was measured of a lead.
    Lead(Box<Capture>),
    /// Nothing counts of what was measured of it.
    Again(Why),
    /// By clips: end A is measured, end B is to go on.
    EndB,
    /// By clips: end B is to come off, as end A is measured first.
    EndBOff,
    /// What is in is to be taken out.
    TakeOut,
    /// The fixture is not empty, and must be.
    NotEmpty,
    /// Somebody said something.
    Interrupted,
    /// The ring is seen where the jig has switched it out.
    RingStays,
    /// A phase broke off; the capture says why.
    BrokenOff(Box<Capture>),
}

/// One fixture, and its jig.
pub(crate) struct Station<'a> {
    jig: &'a Jig,
    zero: Option<Zero>,
    judge: &'a dyn Fn(&Capture) -> Judgement,
    leads: Leads,
    /// What a lead adds at least, in picofarads.
    lead_pf: f64,
    fixture: Option<Fixture>,
    /// How the jig's posts rise by themselves, as the session began: looks have no time for that.
    alone: Vec<Entry>,
    capture: Capture,
    /// Of the lead's phase that was measured first.
    first_troubles: Troubles,
    now: Microseconds,
    moved: Microseconds,
    is_not_empty: bool,
}

impl<'a> Station<'a> {
    pub(crate) fn new(
        jig: &'a Jig,
        zero: Option<Zero>,
        way: Way,
        lead_pf: f64,
        judge: &'a dyn Fn(&Capture) -> Judgement,
    ) -> Self {
        Self {
            jig,
            zero,
            judge,
            leads: Leads::new(way),
            lead_pf,
            fixture: None,
            alone: vec![],
            capture: jig.capture(),
            first_troubles: vec![],
            now: Microseconds(0),
            moved: Microseconds(0),
            is_not_empty: false,
        }
    }

    /// The jig's clock, when it last read something.
    pub(crate) fn now(&self) -> Microseconds {
        self.now
    }

    /// Goes on until there is something to tell. `said` is whether somebody has something to say.
    pub(crate) fn next(&mut self, said: &dyn Fn() -> bool) -> Event {
        let mut next = Next::Look;
        loop {
            if said() {
                return Event::Interrupted;
            }
            if self.jig.key_pressed() {
                next = self.leads.pressed();
            }
            next = match next {
                Next::Look => match self.look() {
                    Ok(next) => next,
                    Err(event) => return event,
                },
                Next::Measure(phase) => match self.measure(phase) {
                    Ok(next) => next,
                    Err(event) => return event,
                },
                Next::Count => return Event::Lead(Box::new(self.capture.clone())),
                Next::Again(why) => return Event::Again(why),
                Next::EndB => return Event::EndB,
                Next::EndBOff => return Event::EndBOff,
                Next::TakeOut => return Event::TakeOut,
                Next::Ready => return Event::Ready,
            };
        }
    }

    /// So long the jig is left alone, to be heard and seen, or longer.
    pub(crate) fn pause(&self, micros: u64) {
        let until = self.now.after(micros);
        while self.jig.time().is_ok_and(|now| now < until) {}
    }

    fn look(&mut self) -> Result<Next, Event> {
        if self.now.0.saturating_sub(self.moved.0) > IDLE_MICROS {
            let _rests = self.jig.time();
        }
        let mut looked = self.jig.capture();
        let at = self.taken(Phase::Fixture, &mut looked)?;
        looked.entries.extend(self.alone.iter().cloned());
        let hangs = hanging(&looked, Phase::Fixture);
        if self.began_with_something(hangs) {
            return Ok(Next::Look);
        }
        let glance = glance(&looked, Phase::Fixture).ok();
        let seen = glance.map(|glance| Seen {
            glance,
            presence: self.fixture.map(|fixture| fixture.presence(hangs)),
        });
        if seen.is_some_and(|seen| seen.glance.joined() != [false; 6]) {
            self.moved = at;
            if self.fixture.is_none() && !std::mem::replace(&mut self.is_not_empty, true) {
                return Err(Event::NotEmpty);
            }
        }
        Ok(self.leads.see(at, seen))
    }

    fn measure(&mut self, phase: Phase) -> Result<Next, Event> {
        self.moved = self.now;
        if phase == Phase::Open && !self.leads.is_on_a_lead() {
            return self.measure_empty();
        }
        let mut capture = self.capture.clone();
        if self.leads.is_first(phase) {
            capture = self.jig.capture();
            capture.entries.extend(self.zero.map(Entry::Zero));
        }
        self.taken(phase, &mut capture)?;
        let mut found = troubles(&(self.judge)(&capture));
        if self.leads.is_first(phase) {
            self.first_troubles.clone_from(&found);
        } else {
            found.retain(|one| !self.first_troubles.contains(one));
        }
        let stood = glance(&capture, phase).ok();
        let hangs = hanging(&capture, phase);
        self.capture = capture;
        if phase == Phase::Plug {
            return Ok(self.leads.plug_measured(stood, &found));
        }
        if stood.is_some_and(|seen| seen.joined() == [true; 6] && ring_is_in(&seen)) {
            return match self.leads.way() {
                Way::Fixture => Err(Event::RingStays),
                Way::Clips => Ok(self.leads.ring_stays()),
            };
        }
        if self.began_with_something(hangs) {
            return Err(Event::NotEmpty);
        }
        let Some(fixture) = self.fixture else { return Err(Event::NotEmpty) };
        Ok(self.leads.open_measured(fixture.presence(hangs), &found))
    }

    /// Less hangs there than did when the session began: nothing is known of the empty fixture then, and it is measured anew.
    fn began_with_something(&mut self, hangs: [Hanging; 4]) -> bool {
        let did = self.fixture.is_some_and(|fixture| fixture.was_not_empty(hangs));
        if did {
            self.leads = Leads::new(self.leads.way());
            self.fixture = None;
        }
        did
    }

    /// The fixture, or the clips, with nothing in them.
    fn measure_empty(&mut self) -> Result<Next, Event> {
        let mut capture = self.jig.capture();
        self.taken(Phase::Open, &mut capture)?;
        self.alone = rises_alone(&capture);
        self.fixture = Fixture::of(hanging(&capture, Phase::Open), self.lead_pf);
        match self.fixture {
            Some(_) => Ok(self.leads.open_measured(Presence::Empty, &vec![])),
            None => Err(Event::NotEmpty),
        }
    }

    /// Measures a phase whole; returns when its last reading was taken.
    fn taken(&mut self, phase: Phase, capture: &mut Capture) -> Result<Microseconds, Event> {
        self.jig.measure(phase, capture, &mut |_, _| {});
        if !capture.ends(phase).all(|end| matches!(end, Ending::Done { .. })) {
            return Err(Event::BrokenOff(Box::new(capture.clone())));
        }
        let of_phase = last_reading(capture);
        self.now = self.now.max(of_phase);
        Ok(self.now)
    }
}

const STILL_TO_COME: [Option<Cause>; 2] = [Some(Cause::OpenNotMeasured), Some(Cause::NotMeasured)];

/// What is wrong, or cannot be told, but for the phase that is still to come.
fn troubles(judgement: &Judgement) -> Troubles {
    let grave = judgement
        .findings
        .iter()
        .filter(|one| one.severity != Severity::Note && !STILL_TO_COME.contains(&one.cause));
    grave.map(|one| (one.kind, one.posts.clone())).collect()
}

/// What an open phase has of the jig with its relays open, as a look would have it.
fn rises_alone(capture: &Capture) -> Vec<Entry> {
    let alone = capture.rises(Phase::Open).filter(|rise| !rise.relays_closed);
    alone.map(|rise| Entry::Rise(Rise { phase: Phase::Fixture, ..rise.clone() })).collect()
}
