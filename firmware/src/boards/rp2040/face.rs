//! Lamps on pins of their own; a sounder that a PWM slice drives.

use embassy_rp::Peri;
use embassy_rp::gpio::Output;
use embassy_rp::pac::PWM;
use embassy_rp::peripherals::{PIN_18, PWM_SLICE1};
use embassy_rp::pwm::{Config, Pwm};

use crate::signs::Face;

const SLICE: usize = 1;

/// 125 MHz by this is a count that reaches from 30 Hz up.
const DIVIDER: u8 = 64;
const COUNTS_PER_SECOND: u32 = 125_000_000 / DIVIDER as u32;

/// The jig's front.
pub(super) struct Front {
    lamps: [Output<'static>; 4],
    _sounder: Pwm<'static>,
}

impl Front {
    pub(super) fn new(
        lamps: [Output<'static>; 4],
        slice: Peri<'static, PWM_SLICE1>,
        sounder: Peri<'static, PIN_18>,
    ) -> Self {
        let mut silent = Config::default();
        silent.enable = false;
        silent.divider = DIVIDER.into();
        Self { lamps, _sounder: Pwm::new_output_a(slice, sounder, silent) }
    }
}

impl Face for Front {
    fn light(&mut self, posts: [bool; 4]) {
        for (lamp, lit) in self.lamps.iter_mut().zip(posts) {
            lamp.set_level(lit.into());
        }
    }

    fn sound(&mut self, hertz: Option<u16>) {
        let slice = PWM.ch(SLICE);
        if let Some(hertz) = hertz {
            let counts = (COUNTS_PER_SECOND / u32::from(hertz)) as u16;
            slice.top().write(|top| top.set_top(counts - 1));
            slice.cc().write(|high| high.set_a(counts / 2));
        } else {
            slice.cc().write(|high| high.set_a(0));
        }
        slice.csr().modify(|control| control.set_en(hertz.is_some()));
    }
}
