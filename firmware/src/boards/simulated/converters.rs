//! A converter as its bus sees it: registers, a conversion that takes time, noise and errors.

use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg32;
use runproof_protocol::{Input, Range};

use super::Nanoseconds;
use super::parts::ConverterParts;
use super::sight::Sight;

const WAKE_NANOS: u64 = 25_000;
const CONFIG_AT_RESET: u16 = 0x8583;
const POINTER_CONFIG: u8 = 1;
const OS: u16 = 1 << 15;

/// One converter.
#[derive(Clone, Debug)]
pub(super) struct ConverterModel {
    parts: ConverterParts,
    pointer: u8,
    config: u16,
    code: i16,
    running: Option<Conversion>,
    written: usize,
    half_written: u8,
    read: usize,
}

/// A conversion averages its input from the end of its wake-up to its end.
#[derive(Clone, Copy, Debug)]
struct Conversion {
    input: Input,
    range: Range,
    from: Nanoseconds,
    until: Nanoseconds,
    volt_nanos: f64,
}

impl ConverterModel {
    pub(super) fn new(parts: ConverterParts) -> Self {
        Self {
            parts,
            pointer: 0,
            config: CONFIG_AT_RESET,
            code: 0,
            running: None,
            written: 0,
            half_written: 0,
            read: 0,
        }
    }

    /// What the input stage is switched to while a conversion runs.
    pub(super) fn look(&self) -> Option<(Input, Range)> {
        self.running.map(|running| (running.input, running.range))
    }

    /// When the running conversion ends.
    pub(super) fn due(&self) -> Option<Nanoseconds> {
        self.running.map(|running| running.until)
    }

    /// The input stood at `seen` from `from` to `to`; ends the conversion if it is over.
    pub(super) fn pass(
        &mut self,
        seen: &Sight,
        (from, to): (Nanoseconds, Nanoseconds),
        random: &mut Pcg32,
    ) {
        let Some(running) = &mut self.running else {
            return;
        };
        let (from, to) = (from.max(running.from), to.min(running.until));
        if to > from {
            running.volt_nanos += seen.area(from, to);
        }
        if to >= running.until {
            let done = *running;
            self.running = None;
            self.code = self.code_of(&done, random);
        }
    }

    fn code_of(&self, done: &Conversion, random: &mut Pcg32) -> i16 {
        let volts = done.volt_nanos / (done.until - done.from) as f64;
        let lsb = done.range.full_scale_volts() / 32_768.0;
        let standard: f64 = StandardNormal.sample(random);
        let volts = volts * (1.0 + self.parts.gain_error[done.range as usize])
            + standard * noise_volts(done.range);
        let codes = volts / lsb + self.parts.offset_codes[done.input as usize];
        codes.round() as i16 // saturates, as the converter does
    }

    /// A new transfer begins.
    pub(super) fn addressed(&mut self) {
        self.written = 0;
        self.read = 0;
    }

    /// Takes one byte; returns whether it started a conversion.
    pub(super) fn write(&mut self, byte: u8, at: Nanoseconds) -> bool {
        self.written += 1;
        match self.written {
            1 => self.pointer = byte & 0b11,
            2 => self.half_written = byte,
            3 if self.pointer == POINTER_CONFIG => {
                self.config = u16::from_be_bytes([self.half_written, byte]);
                if self.config & OS != 0 && self.running.is_none() {
                    self.start(at);
                    return true;
                }
            }
            _ => {}
        }
        false
    }

    fn start(&mut self, at: Nanoseconds) {
        let input = match self.config >> 12 & 0b111 {
            0b000 => Input::P1P2,
            0b001 => Input::P1P4,
            0b010 => Input::P2P4,
            0b011 => Input::P3P4,
            0b100 => Input::P1,
            0b101 => Input::P2,
            0b110 => Input::P3,
            _ => Input::P4,
        };
        let range = match self.config >> 9 & 0b111 {
            0b000 | 0b001 => Range::V4, // ±6.144 V is not wired for here
            0b010 => Range::V2,
            0b011 => Range::V1,
            _ => Range::V0,
        };
        let from = at + WAKE_NANOS;
        let until = from + self.parts.conversion_nanos;
        self.running = Some(Conversion { input, range, from, until, volt_nanos: 0.0 });
    }

    /// Gives the next byte of the register that is pointed at.
    pub(super) fn give(&mut self) -> u8 {
        let register = match self.pointer {
            0 => self.code.cast_unsigned(),
            POINTER_CONFIG if self.running.is_some() => self.config & !OS,
            POINTER_CONFIG => self.config | OS,
            2 => 0x8000,
            _ => 0x7FFF,
        };
        let byte = register.to_be_bytes()[self.read % 2];
        self.read += 1;
        byte
    }
}

/// At 860 samples a second, data sheet SBAS444E table 6-1: peak to peak, of which 6.6 σ.
fn noise_volts(range: Range) -> f64 {
    let microvolts_peak_to_peak = match range {
        Range::V4 => 266.93,
        Range::V2 => 118.63,
        Range::V1 => 64.26,
        Range::V0 => 35.83,
    };
    microvolts_peak_to_peak * 1e-6 / 6.6
}
