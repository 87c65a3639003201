//! The zero of the jig's voltmeter: read as soon as nothing is on the clips any more.

use runproof_interpret::{Glance, JOINED_BELOW_OHM};
use runproof_protocol::Phase;

use super::{Ended, Guide, Keys, REST_MICROS, Told};

/// So many glances in a row in which nothing joins any two posts.
const GLANCES: u32 = 2;

impl Guide<'_> {
    /// Waits until the key is out, or a key was pressed, and reads the live dividers; not at all when
    /// `wait_micros` of the jig's time are over.
    pub(crate) fn live_zero(&mut self, wait_micros: u64, keys: &Keys) {
        let _as_the_capture_says = self.read_dividers(wait_micros, keys);
    }

    fn read_dividers(&mut self, wait_micros: u64, keys: &Keys) -> Result<(), Ended> {
        let (mut since, mut seen) = (None, 0);
        loop {
            (self.tell)(Told::WaitsFor(Phase::LiveZero));
            let (glance, at) = self.look()?;
            seen = if glance.is_some_and(|glance| is_open(&glance)) { seen + 1 } else { 0 };
            if seen >= GLANCES || self.pressed(keys) {
                return self.measure(Phase::LiveZero).map(|_| ());
            }
            if at.0.saturating_sub(since.get_or_insert(at).0) >= wait_micros {
                (self.tell)(Told::DidNotCome(Phase::LiveZero));
                return Ok(());
            }
            self.until(at.after(REST_MICROS), Phase::Glance)?;
        }
    }
}

fn is_open(glance: &Glance) -> bool {
    glance.ohm.iter().all(|ohm| *ohm >= JOINED_BELOW_OHM)
}
