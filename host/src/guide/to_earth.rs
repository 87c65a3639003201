//! The test to earth: shows that the clips touch, measures the open phase, shows it again.

use runproof_interpret::capture::{Drain, End, ToEarth};
use runproof_interpret::glance;
use runproof_interpret::to_earth::{CORES, METAL};
use runproof_protocol::Phase;

use super::earthing::Earthing;
use super::{Ended, Guide, Keys, REST_MICROS, Told, last_reading};

/// What is told on the way.
#[derive(Clone, Copy, Debug)]
pub(crate) enum ToldToEarth {
    /// What to clip where follows, with a shield or without.
    Begins(Option<Drain>),
    /// Glances go on, until all are held together: before the phase, or once more.
    Hold { again: bool },
    /// They were.
    Held { again: bool },
    /// They were not, in time.
    NotHeld,
    /// Glances go on, until they stand apart.
    LetGo,
}

impl Guide<'_> {
    /// The open phase between two proofs of contact; a key or `wait_micros` of the jig's time end each wait.
    pub(crate) fn test_to_earth(&mut self, shield: Option<Drain>, wait_micros: u64, keys: &Keys) {
        self.capture.push_to_earth(ToEarth { shield });
        (self.tell)(Told::ToEarth(ToldToEarth::Begins(shield)));
        let _as_the_capture_says = self.earth(shield, wait_micros, keys);
    }

    /// The open phase at once: it shows a fault, and proves nothing good.
    pub(crate) fn test_to_earth_at_once(&mut self, shield: Option<Drain>) {
        self.capture.push_to_earth(ToEarth { shield });
        let _as_the_capture_says = self.measure(Phase::Open);
    }

    fn earth(&mut self, shield: Option<Drain>, wait_micros: u64, keys: &Keys) -> Result<(), Ended> {
        let with_shield = shield.is_some();
        let held = self.hold(with_shield, false, wait_micros, keys)?;
        self.stand_still(with_shield, wait_micros, keys)?;
        self.measure(Phase::Open)?;
        let joined = glance(&self.capture, Phase::Open)
            .is_ok_and(|seen| Earthing::new(with_shield).meet(&seen));
        if held && !joined {
            self.hold(with_shield, true, wait_micros, keys)?;
        }
        Ok(())
    }

    /// Whether all were held together in time.
    fn hold(
        &mut self,
        with_shield: bool,
        again: bool,
        wait_micros: u64,
        keys: &Keys,
    ) -> Result<bool, Ended> {
        let mut earthing = Earthing::new(with_shield);
        let mut since = None;
        loop {
            (self.tell)(Told::ToEarth(ToldToEarth::Hold { again }));
            let (seen, at) = self.look()?;
            let since = *since.get_or_insert(at);
            if let Some(glance) = seen.filter(|glance| earthing.held(at, *glance)) {
                self.capture.push_touch(glance.touch(End::Near, [CORES, METAL], at));
                (self.tell)(Told::ToEarth(ToldToEarth::Held { again }));
                return Ok(true);
            }
            if self.pressed(keys) || at.0.saturating_sub(since.0) >= wait_micros {
                (self.tell)(Told::ToEarth(ToldToEarth::NotHeld));
                return Ok(false);
            }
            self.until(at.after(REST_MICROS), Phase::Glance)?;
        }
    }

    fn stand_still(
        &mut self,
        with_shield: bool,
        wait_micros: u64,
        keys: &Keys,
    ) -> Result<(), Ended> {
        let mut earthing = Earthing::new(with_shield);
        let since = last_reading(&self.capture);
        loop {
            (self.tell)(Told::ToEarth(ToldToEarth::LetGo));
            let (seen, at) = self.look()?;
            if seen.is_some_and(|glance| earthing.stands_still(at, glance)) || self.pressed(keys) {
                return Ok(());
            }
            if at.0.saturating_sub(since.0) >= wait_micros {
                (self.tell)(Told::DidNotCome(Phase::Open));
                return Ok(());
            }
            self.until(at.after(REST_MICROS), Phase::Glance)?;
        }
    }
}
