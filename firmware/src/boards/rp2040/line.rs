//! A pin as a three-state line.

use embassy_rp::Peri;
use embassy_rp::gpio::{Flex, Pin};
use runproof_protocol::Drive;

use super::interlock;
use crate::bench::Line;

/// High, low, or an input without pulls.
pub(super) struct PinLine(Flex<'static>);

impl PinLine {
    /// Takes the pin and lets it float.
    pub(super) fn new(pin: Peri<'static, impl Pin>) -> Self {
        let mut line = Self(Flex::new(pin));
        line.set(Drive::Off);
        line
    }
}

impl Line for PinLine {
    fn set(&mut self, drive: Drive) {
        // The level stands before the pin drives it.
        match drive {
            Drive::Off => return self.0.set_as_input(),
            Drive::High => self.0.set_high(),
            Drive::Low => self.0.set_low(),
        }
        self.0.set_as_output();
        interlock::heed();
    }

    async fn high(&mut self) {
        self.0.wait_for_high().await;
    }
}
