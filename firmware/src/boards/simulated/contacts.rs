//! A relay's contacts: they follow their coil late, and bounce before they rest.

use rand::RngExt;
use rand_pcg::Pcg32;

use super::Nanoseconds;

/// Contacts touch for the first time this long after the coil is on, and part after it is off (the
/// Zener across the coil makes that quick).
const CLOSING_NANOS: u64 = 15_000_000;
const OPENING_NANOS: u64 = 4_000_000;

/// They bounce so often at most, each time for so long at most.
const BOUNCES_MAX: u32 = 4;
const BOUNCE_NANOS_MAX: u64 = 700_000;

/// One relay.
#[derive(Clone, Debug, Default)]
pub(super) struct Contacts {
    coil_on: bool,
    closed: bool,
    /// When they change next, and how often still.
    due: Option<Nanoseconds>,
    changes_left: u32,
}

impl Contacts {
    /// Switches the coil.
    pub(super) fn coil(&mut self, on: bool, at: Nanoseconds, random: &mut Pcg32) {
        if on == self.coil_on {
            return;
        }
        self.coil_on = on;
        let delay = if on { CLOSING_NANOS } else { OPENING_NANOS };
        self.due = Some(at + delay);
        self.changes_left = if on { 2 * random.random_range(0..=BOUNCES_MAX) } else { 0 };
        if self.closed == on {
            self.changes_left = 0; // switched back before they moved
        }
    }

    pub(super) fn coil_on(&self) -> bool {
        self.coil_on
    }

    pub(super) fn closed(&self) -> bool {
        self.closed
    }

    /// When they change next.
    pub(super) fn due(&self) -> Option<Nanoseconds> {
        self.due
    }

    /// Lets them change if it is time; returns whether they did.
    pub(super) fn advance(&mut self, to: Nanoseconds, random: &mut Pcg32) -> bool {
        let Some(due) = self.due.filter(|due| *due <= to) else {
            return false;
        };
        if self.changes_left == 0 {
            self.closed = self.coil_on;
            self.due = None;
        } else {
            self.closed = !self.closed;
            self.changes_left -= 1;
            self.due = Some(due + random.random_range(50_000..=BOUNCE_NANOS_MAX));
        }
        true
    }
}
