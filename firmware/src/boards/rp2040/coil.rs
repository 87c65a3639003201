//! A relay's coil: a pin that heeds the interlock.

use core::convert::Infallible;

use embassy_rp::gpio::Output;
use embedded_hal::digital::{ErrorType, OutputPin};

use super::interlock;

/// High: the coil is on.
pub(super) struct Coil(pub(super) Output<'static>);

impl ErrorType for Coil {
    type Error = Infallible;
}

impl OutputPin for Coil {
    fn set_low(&mut self) -> Result<(), Infallible> {
        self.0.set_low();
        Ok(())
    }

    fn set_high(&mut self) -> Result<(), Infallible> {
        self.0.set_high();
        interlock::heed();
        Ok(())
    }
}
