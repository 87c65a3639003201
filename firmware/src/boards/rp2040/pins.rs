//! Which pin of the chip is what on the bench. tests/emulator/bench/pins.mjs holds the same table.
//!
//! | pin | is |
//! |---|---|
//! | GPIO0, GPIO1 | SDA and SCL of the converters' bus (I2C0) |
//! | GPIO2 – GPIO5 | drives of posts 1 – 4 |
//! | GPIO6, GPIO7 | pull lines |
//! | GPIO8 | coil of all four posts' relays |
//! | GPIO9 | coil of the load's relay |
//! | GPIO10 – GPIO13 | reference capacitors of posts 1 – 4 |
//! | GPIO14 – GPIO17 | lamps beside posts 1 – 4 |
//! | GPIO18 | sounder |
//! | GPIO19 | key, to ground |
//! | GPIO20 – GPIO23 | edge catcher of posts 1 – 4: high between its thresholds |
//! | GPIO24 | coil of the supply load's relay, if there is one: its driver's resistor to ground tells |
//! | GPIO25 | coil of the ring's relays in a fixture for made-up leads, if there is one |
//! | GPIO26 – GPIO29 | followers of posts 1 – 4 (ADC inputs 0 – 3) |
//!
//! Not every board brings GPIO29 out: some measure their own supply with it, and need that cut.

use embassy_rp::adc::Channel;
use embassy_rp::gpio::{Input, Level, Output, Pull};
use embassy_rp::peripherals::{
    ADC, FLASH, I2C0, PIN_0, PIN_1, PIN_18, PIN_24, PWM_SLICE1, USB, WATCHDOG,
};
use embassy_rp::{Peri, Peripherals};

use super::coil::Coil;
use super::line::PinLine;

pub(super) type Wire = I2C0;
pub(super) type Sda = PIN_0;
pub(super) type Scl = PIN_1;

/// A pad that nothing holds is high after so long: 20 µs, for 80 kΩ and less than 100 pF.
const PULLED_UP_CYCLES: u32 = 20 * 125;

/// The pins by what they are for.
pub(super) struct Pins {
    pub(super) wire: Peri<'static, Wire>,
    pub(super) sda: Peri<'static, Sda>,
    pub(super) scl: Peri<'static, Scl>,
    pub(super) posts: [PinLine; 4],
    pub(super) pulls: [PinLine; 2],
    pub(super) references: [PinLine; 4],
    pub(super) relays: Coil,
    pub(super) load: Coil,
    pub(super) supply_load: Option<Coil>,
    pub(super) ring: Coil,
    pub(super) lamps: [Output<'static>; 4],
    pub(super) sounder: Peri<'static, PIN_18>,
    /// The PWM slice that reaches the sounder.
    pub(super) tones: Peri<'static, PWM_SLICE1>,
    pub(super) key: Input<'static>,
    pub(super) edges: [Input<'static>; 4],
    pub(super) adc: Peri<'static, ADC>,
    pub(super) followers: [Channel<'static>; 4],
    pub(super) usb: Peri<'static, USB>,
    pub(super) watchdog: Peri<'static, WATCHDOG>,
    pub(super) flash: Peri<'static, FLASH>,
}

/// The coil on a pin, if there is one: its driver's 10 kΩ to ground outdo the chip's pull-up.
fn fitted_coil(mut pin: Peri<'static, PIN_24>) -> Option<Coil> {
    let look = Input::new(pin.reborrow(), Pull::Up);
    cortex_m::asm::delay(PULLED_UP_CYCLES);
    let fitted = look.is_low();
    drop(look);
    fitted.then(|| Coil(Output::new(pin, Level::Low)))
}

impl Pins {
    pub(super) fn new(chip: Peripherals) -> Self {
        Self {
            wire: chip.I2C0,
            sda: chip.PIN_0,
            scl: chip.PIN_1,
            posts: [
                PinLine::new(chip.PIN_2),
                PinLine::new(chip.PIN_3),
                PinLine::new(chip.PIN_4),
                PinLine::new(chip.PIN_5),
            ],
            pulls: [PinLine::new(chip.PIN_6), PinLine::new(chip.PIN_7)],
            references: [
                PinLine::new(chip.PIN_10),
                PinLine::new(chip.PIN_11),
                PinLine::new(chip.PIN_12),
                PinLine::new(chip.PIN_13),
            ],
            relays: Coil(Output::new(chip.PIN_8, Level::Low)),
            load: Coil(Output::new(chip.PIN_9, Level::Low)),
            supply_load: fitted_coil(chip.PIN_24),
            ring: Coil(Output::new(chip.PIN_25, Level::Low)),
            lamps: [
                Output::new(chip.PIN_14, Level::Low),
                Output::new(chip.PIN_15, Level::Low),
                Output::new(chip.PIN_16, Level::Low),
                Output::new(chip.PIN_17, Level::Low),
            ],
            sounder: chip.PIN_18,
            tones: chip.PWM_SLICE1,
            key: Input::new(chip.PIN_19, Pull::Up),
            edges: [
                Input::new(chip.PIN_20, Pull::Down),
                Input::new(chip.PIN_21, Pull::Down),
                Input::new(chip.PIN_22, Pull::Down),
                Input::new(chip.PIN_23, Pull::Down),
            ],
            adc: chip.ADC,
            followers: [
                Channel::new_pin(chip.PIN_26, Pull::None),
                Channel::new_pin(chip.PIN_27, Pull::None),
                Channel::new_pin(chip.PIN_28, Pull::None),
                Channel::new_pin(chip.PIN_29, Pull::None),
            ],
            usb: chip.USB,
            watchdog: chip.WATCHDOG,
            flash: chip.FLASH,
        }
    }
}
