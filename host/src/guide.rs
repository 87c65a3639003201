//! Guides one person through one trip: looks at the run, and measures each phase when it is time.

mod earthing;
mod far_lights;
mod keys;
pub(crate) mod lead;
mod lines;
mod live_zero;
mod reel;
mod station;
mod to_earth;
mod touching;
mod trip;

pub(crate) use far_lights::{FarShown, FarVerdict};
pub(crate) use keys::Keys;
pub(crate) use lines::{Lines, Said};
use runproof_interpret::capture::{End, Ending, Entry, PhaseEnd, Zero};
use runproof_interpret::{Capture, Glance, LimitSheet, NoGlance, glance};
use runproof_protocol::{Microseconds, Phase, Post};
pub(crate) use station::{Event, Station};
pub(crate) use to_earth::ToldToEarth;
use touching::Touching;
pub(crate) use touching::{ASKED, Wires};
use trip::{Next, PLUG_GLANCES, Trip, looks_plugged};

use crate::jig::{Doing, Jig};

/// The relays rest between glances at least this long; the jig tells its time twice a second, so
/// that it is some 0.3 s mostly.
const REST_MICROS: u64 = 250_000;

/// With `--yes`, from the open phase to the plug phase.
const BETWEEN_PHASES_MICROS: u64 = 300_000;

/// What is told on the way.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Told {
    /// The first glance follows.
    Begins,
    /// The run stands as through the end plug, and should stand open.
    TakeKeyOut,
    /// What this phase waits for did not come in time.
    DidNotCome(Phase),
    /// Glances go on, until this phase can be measured.
    WaitsFor(Phase),
    /// A phase is being measured: what the last pattern was for, and which it was, from 0.
    Measuring(Phase, Doing, u16),
    /// A phase was measured whole.
    Measured(Phase),
    /// Wires are to be held together at this end; what for follows.
    TouchesFollow(End),
    /// Glances go on, until these are held together.
    Touch(End, Wires),
    /// They were, on these posts.
    Touched(End, Wires, (Post, Post)),
    /// They were not, in time.
    NotTouched,
    /// Glances go on, until the key is turned over.
    WaitsForTurnedKey,
    /// It was, and its lights have shown the verdict.
    FarLit,
    /// A reel stays as it is until it is read again.
    WaitsForDrift,
    /// Of the test to earth.
    ToEarth(ToldToEarth),
}

/// One check at a jig.
pub(crate) struct Guide<'a> {
    jig: &'a Jig,
    capture: Capture,
    tell: &'a mut dyn FnMut(Told),
}

/// Something ended the check before its end; the capture says what.
struct Ended;

impl<'a> Guide<'a> {
    pub(crate) fn new(jig: &'a Jig, tell: &'a mut dyn FnMut(Told)) -> Self {
        Self { jig, capture: jig.capture(), tell }
    }

    /// What the readings are held against.
    pub(crate) fn zeroed(&mut self, zero: Option<Zero>) {
        self.capture.entries.extend(zero.map(Entry::Zero));
    }

    /// The end plug alone, when it is seen, or when a key was pressed, or when `wait_micros` of the jig's
    /// time are over; without a wait at once.
    pub(crate) fn zero(&mut self, wait_micros: Option<u64>, keys: &Keys) {
        (self.tell)(Told::Begins);
        let _as_the_capture_says = self.read_plug(wait_micros, keys);
    }

    fn read_plug(&mut self, wait_micros: Option<u64>, keys: &Keys) -> Result<(), Ended> {
        let (mut since, mut seen) = (None, 0);
        while let Some(wait_micros) = wait_micros {
            (self.tell)(Told::WaitsFor(Phase::Plug));
            let (glance, at) = self.look()?;
            let is_there = glance.is_some_and(|glance| looks_plugged(&glance));
            seen = if is_there { seen + 1 } else { 0 };
            let waited = at.0.saturating_sub(since.get_or_insert(at).0) >= wait_micros;
            if seen >= PLUG_GLANCES || waited || self.pressed(keys) {
                break;
            }
            self.until(at.after(REST_MICROS), Phase::Glance)?;
        }
        self.measure(Phase::Plug).map(|_| ())
    }

    /// All that was measured so far.
    pub(crate) fn capture(&self) -> &Capture {
        &self.capture
    }

    pub(crate) fn done(self) -> Capture {
        self.capture
    }

    /// Both phases when the run is ready for them, or when a key was pressed, or when `wait_micros`
    /// of the jig's time are over.
    pub(crate) fn trip(&mut self, wait_micros: u64, keys: &Keys) {
        (self.tell)(Told::Begins);
        let _as_the_capture_says = self.walk(Trip::new(wait_micros), keys);
    }

    /// Both phases at once.
    pub(crate) fn both(&mut self) {
        let _as_the_capture_says = self.without_waiting();
    }

    /// Twice two wires of one end, held together as they are asked for; whether all were. `before` is
    /// the phase in which the run stood as it does now.
    pub(crate) fn touches(
        &mut self,
        end: End,
        sheet: &LimitSheet,
        wait_micros: u64,
        keys: &Keys,
    ) -> bool {
        let before = match end {
            End::Near => Phase::Plug,
            End::Far => Phase::Open,
        };
        let Ok(before) = glance(&self.capture, before) else { return false };
        let Some(touching) = Touching::at(end, before, sheet) else { return false };
        (self.tell)(Told::TouchesFollow(end));
        self.touch(touching, end, wait_micros, keys).is_ok_and(|all| all)
    }

    fn touch(
        &mut self,
        mut touching: Touching,
        end: End,
        wait_micros: u64,
        keys: &Keys,
    ) -> Result<bool, Ended> {
        let mut since = last_reading(&self.capture);
        while let Some(wires) = touching.wanted() {
            (self.tell)(Told::Touch(end, wires));
            let (seen, at) = self.look()?;
            if let Some((posts, touch)) = seen.and_then(|glance| touching.see(at, glance)) {
                self.capture.push_touch(touch);
                (self.tell)(Told::Touched(end, wires, posts));
                since = at;
            } else if self.pressed(keys) || at.0.saturating_sub(since.0) >= wait_micros {
                (self.tell)(Told::NotTouched);
                return Ok(false);
            }
            self.until(at.after(REST_MICROS), Phase::Glance)?;
        }
        Ok(true)
    }

    /// Both phases as the jig measured them without a host: how many microseconds ago; none, if it did not.
    pub(crate) fn kept(&mut self) -> Option<u64> {
        for phase in [Phase::Open, Phase::Plug] {
            self.jig.replay(phase, &mut self.capture);
        }
        let last = last_reading(&self.capture);
        let now = self.jig.time().ok()?;
        (last > Microseconds(0)).then(|| now.0.saturating_sub(last.0))
    }

    /// Enter on the terminal, or the jig's own key.
    fn pressed(&self, keys: &Keys) -> bool {
        let enter = keys.pressed();
        self.jig.key_pressed() || enter
    }

    fn without_waiting(&mut self) -> Result<(), Ended> {
        let opened = self.measure(Phase::Open)?;
        self.until(opened.after(BETWEEN_PHASES_MICROS), Phase::Plug)?;
        self.measure(Phase::Plug).map(|_| ())
    }

    fn walk(&mut self, mut trip: Trip, keys: &Keys) -> Result<(), Ended> {
        loop {
            (self.tell)(Told::WaitsFor(trip.forced()));
            let (seen, mut at) = self.look()?;
            let mut next = seen.map_or(Next::Look, |glance| trip.see(at, glance));
            if self.pressed(keys) {
                next = Next::Measure(trip.forced());
            }
            if let Next::MeasureAllTheSame(phase) = next {
                (self.tell)(Told::DidNotCome(phase));
            }
            match next {
                Next::Look => {}
                Next::AskForKeyOut => (self.tell)(Told::TakeKeyOut),
                Next::Measure(Phase::Plug) | Next::MeasureAllTheSame(Phase::Plug) => {
                    return self.measure(Phase::Plug).map(|_| ());
                }
                Next::Measure(phase) | Next::MeasureAllTheSame(phase) => {
                    at = self.measure(phase)?;
                    trip.open_measured(at, glance(&self.capture, phase).ok());
                }
            }
            self.until(at.after(REST_MICROS), Phase::Glance)?;
        }
    }

    /// Measures a phase whole; returns when its last reading was taken.
    fn measure(&mut self, phase: Phase) -> Result<Microseconds, Ended> {
        let tell = &mut *self.tell;
        let mut progress = |doing, index| tell(Told::Measuring(phase, doing, index));
        self.jig.measure(phase, &mut self.capture, &mut progress);
        let whole = self.capture.ends(phase).all(|end| matches!(end, Ending::Done { .. }));
        if !whole {
            return Err(Ended);
        }
        (self.tell)(Told::Measured(phase));
        Ok(last_reading(&self.capture))
    }

    /// A glance, kept only where it ends the check; and its time. None where a reading was lost.
    fn look(&mut self) -> Result<(Option<Glance>, Microseconds), Ended> {
        let mut looked = self.jig.capture();
        self.jig.measure(Phase::Glance, &mut looked, &mut |_, _| {});
        let at = last_reading(&looked);
        match glance(&looked, Phase::Glance) {
            Ok(glance) => Ok((Some(glance), at)),
            Err(NoGlance::ReadingsMissing) => Ok((None, at)),
            Err(NoGlance::Ended(_)) => {
                self.capture.entries.extend(looked.entries);
                Err(Ended)
            }
        }
    }

    fn ended(&mut self, phase: Phase, ending: Ending) {
        self.capture.end(PhaseEnd { phase, ending });
    }

    /// Waits until the jig's clock shows `time`. What breaks meanwhile is the end of `phase`.
    fn until(&mut self, time: Microseconds, phase: Phase) -> Result<(), Ended> {
        loop {
            match self.jig.time() {
                Ok(now) if now >= time => return Ok(()),
                Ok(_) => {}
                Err(error) => {
                    self.ended(phase, Ending::Lost { reason: error.to_string() });
                    return Err(Ended);
                }
            }
        }
    }
}

fn last_reading(capture: &Capture) -> Microseconds {
    let readings = capture.entries.iter().rev().filter_map(|entry| match entry {
        Entry::Reading(reading) => Some(reading.at),
        Entry::Rise(rise) => Some(rise.at),
        Entry::Touch(touch) => Some(touch.at),
        Entry::End(_)
        | Entry::Warmth(_)
        | Entry::Zero(_)
        | Entry::LiveZero(_)
        | Entry::ToEarth(_)
        | Entry::At(_)
        | Entry::Reel(_)
        | Entry::ReelAgain
        | Entry::Flex(_) => None,
    });
    readings.max().unwrap_or_default()
}
