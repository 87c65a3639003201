//! The converters' bus: I2C at 400 kHz, with a way out when it hangs.

use embassy_rp::gpio::{Flex, Pull};
use embassy_rp::i2c::{Async, Config, Error, I2c};
use embassy_rp::{Peri, pac};
use embassy_time::{Duration, Timer, block_for};
use embedded_hal_async::i2c::{ErrorType, I2c as Transfers, Operation};

use super::pins::{Scl, Sda, Wire};
use super::{Interrupts, log};
use crate::converter::Bus;

const BUS_HERTZ: u32 = 400_000;

/// A failed transfer's STOP is on the wires by now: it takes two bits, 5 µs.
const STOP_MICROS: u64 = 10;

/// Half a clock of the recovery, at 100 kHz, which every target follows: too short to sleep.
const HALF_CLOCK: Duration = Duration::from_micros(5);

/// The longest a target can be in the middle of: eight bits and its acknowledge.
const RECOVERY_CLOCKS: usize = 9;

/// The chip's I2C block on the bench's pins.
pub(super) struct ConverterBus {
    block: I2c<'static, Wire, Async>,
}

impl ConverterBus {
    pub(super) fn new(
        wire: Peri<'static, Wire>,
        scl: Peri<'static, Scl>,
        sda: Peri<'static, Sda>,
    ) -> Self {
        let mut config = Config::default();
        config.frequency = BUS_HERTZ;
        Self { block: I2c::new_async(wire, scl, sda, Interrupts, config) }
    }
}

impl ErrorType for ConverterBus {
    type Error = Error;
}

impl Transfers for ConverterBus {
    async fn transaction(
        &mut self,
        address: u8,
        operations: &mut [Operation<'_>],
    ) -> Result<(), Error> {
        let result = self.block.transaction(address, operations).await;
        if result.is_err() {
            // The driver does not wait for the STOP of a transfer that fails in its last bytes;
            // the event would then end the next transfer before it has begun.
            Timer::after_micros(STOP_MICROS).await;
            pac::I2C0.ic_clr_intr().read();
        }
        result
    }
}

impl Bus for ConverterBus {
    async fn recover(&mut self) {
        log::info!("bus recovery");
        clock_out();
        #[expect(unsafe_code, reason = "the driver gives its pins back only by being replaced")]
        // SAFETY: the old driver, the only other user of these three, goes away here.
        let (wire, scl, sda) = unsafe { (Wire::steal(), Scl::steal(), Sda::steal()) };
        *self = Self::new(wire, scl, sda);
    }
}

/// Clocks a target out of the byte it is stuck in, then sends a STOP (I2C specification UM10204,
/// section 3.1.16).
fn clock_out() {
    #[expect(unsafe_code, reason = "the pins are lent from the driver that is about to go")]
    // SAFETY: `recover` holds the driver and starts no transfer meanwhile.
    let (scl, sda) = unsafe { (Scl::steal(), Sda::steal()) };
    let (mut scl, mut sda) = (OpenDrain::new(Flex::new(scl)), OpenDrain::new(Flex::new(sda)));
    for _ in 0..RECOVERY_CLOCKS {
        scl.pull_low();
        scl.let_go();
    }
    scl.pull_low();
    sda.pull_low();
    scl.let_go();
    sda.let_go();
}

/// A bus wire: pulled low or let go, never driven high.
struct OpenDrain(Flex<'static>);

impl OpenDrain {
    fn new(mut pin: Flex<'static>) -> Self {
        pin.set_as_input();
        pin.set_pull(Pull::Up);
        pin.set_low();
        Self(pin)
    }

    fn pull_low(&mut self) {
        self.0.set_as_output();
        block_for(HALF_CLOCK);
    }

    fn let_go(&mut self) {
        self.0.set_as_input();
        block_for(HALF_CLOCK);
    }
}
