//! A reel: both ends on the bench, the open phase, the end plug, and the end plug once more after a while.

use runproof_interpret::capture::Entry;
use runproof_interpret::reel::Declared;
use runproof_protocol::Phase;

use super::trip::{Next, Trip};
use super::{Ended, Guide, Keys, REST_MICROS, Told, last_reading};

impl Guide<'_> {
    /// Says of what reel all that follows is.
    pub(crate) fn declare(&mut self, declared: Declared) {
        self.capture.entries.push(Entry::Reel(Box::new(declared)));
    }

    /// The open phase alone, when the reel stands still, or when a key was pressed, or when `wait_micros` of the
    /// jig's time are over; without a wait at once.
    pub(crate) fn open_alone(&mut self, wait_micros: Option<u64>, keys: &Keys) {
        (self.tell)(Told::Begins);
        let _as_the_capture_says = match wait_micros {
            None => self.measure(Phase::Open),
            Some(wait_micros) => self.open_when_still(Trip::new(wait_micros), keys),
        };
    }

    fn open_when_still(
        &mut self,
        mut trip: Trip,
        keys: &Keys,
    ) -> Result<runproof_protocol::Microseconds, Ended> {
        loop {
            (self.tell)(Told::WaitsFor(Phase::Open));
            let (seen, at) = self.look()?;
            match seen.map_or(Next::Look, |glance| trip.see(at, glance)) {
                Next::Look => {}
                Next::AskForKeyOut => (self.tell)(Told::TakeKeyOut),
                Next::Measure(_) => return self.measure(Phase::Open),
                Next::MeasureAllTheSame(phase) => {
                    (self.tell)(Told::DidNotCome(phase));
                    return self.measure(Phase::Open);
                }
            }
            if self.pressed(keys) {
                return self.measure(Phase::Open);
            }
            self.until(at.after(REST_MICROS), Phase::Glance)?;
        }
    }

    /// The end plug again, so many microseconds after the first reading of it.
    pub(crate) fn again(&mut self, apart_micros: u64) {
        if self.capture.ends(Phase::Plug).next().is_none() {
            return; // it ended before
        }
        let due = last_reading(&self.capture).after(apart_micros);
        (self.tell)(Told::WaitsForDrift);
        self.capture.entries.push(Entry::ReelAgain);
        if self.until(due, Phase::Plug).is_err() {
            return;
        }
        // Beside what the first reading is, not in place of it.
        let mut again = self.jig.capture();
        let tell = &mut *self.tell;
        let mut progress = |doing, index| tell(Told::Measuring(Phase::Plug, doing, index));
        self.jig.measure(Phase::Plug, &mut again, &mut progress);
        self.capture.entries.extend(again.entries);
        (self.tell)(Told::Measured(Phase::Plug));
    }
}
