//! A phase's events in as few bytes as they take: readings are told by how they differ from those before.

use heapless::Vec;
use runproof_protocol::{
    Channel, Converter, Drive, Event, Input, Microseconds, Millicelsius, Pattern, Phase,
    Picofarads, Post, Range, Reading, Rise, Step,
};

/// In place of a number of readings: what else follows.
const RISE: u8 = 0x80;
const WARM: u8 = 0x81;
const DONE: u8 = 0x82;

const STEPS: [Step; 6] = [
    Step::Live,
    Step::SelfCalibration,
    Step::PreScan,
    Step::Pairs,
    Step::LiveLoaded,
    Step::Leakage,
];
/// Two bits each; the last is never written.
const DRIVES: [Drive; 4] = [Drive::Off, Drive::Low, Drive::High, Drive::Off];

/// There is no more room, or the bytes end early.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct NoRoom;

/// What the next reading is told by.
#[derive(Clone, Debug)]
pub(super) struct Before {
    /// How many patterns and rises there were.
    index: u16,
    at: u64,
    /// From reading to reading, the last and the one before: one or two converters take turns.
    gaps: [u32; 2],
    /// By converter and input.
    codes: [[i16; 8]; 3],
}

impl Before {
    /// A phase that begins at this time.
    pub(super) const fn beginning(at: Microseconds) -> Self {
        Self { index: 0, at: at.0, gaps: [0; 2], codes: [[0; 8]; 3] }
    }

    /// Adds an event to `bytes`.
    pub(super) fn pack<const N: usize>(
        &mut self,
        event: &Event,
        bytes: &mut Vec<u8, N>,
    ) -> Result<(), NoRoom> {
        match event {
            Event::Pattern(pattern) => self.pack_pattern(pattern, bytes),
            Event::Rise(rise) => self.pack_rise(rise, bytes),
            Event::Warm { jig, .. } => {
                put(bytes, &[WARM])?;
                put_number(bytes, jig.0)
            }
            Event::Done { patterns, .. } => {
                put(bytes, &[DONE])?;
                put_number(bytes, i32::from(*patterns))
            }
            _ => Err(NoRoom), // nothing else belongs to a whole phase
        }
    }

    fn pack_rise<const N: usize>(&self, rise: &Rise, bytes: &mut Vec<u8, N>) -> Result<(), NoRoom> {
        let count = rise.micros.len() as u8;
        put(bytes, &[RISE, rise.post as u8 | u8::from(rise.relays_closed) << 2, count])?;
        put_number(bytes, rise.reference.map_or(-1, |reference| reference.0.cast_signed()))?;
        put_number(bytes, self.gap(rise.at).cast_signed())?;
        let mut before = 0;
        rise.micros.iter().try_for_each(|&micros| {
            let difference = i32::from(micros) - before;
            before = micros.into();
            put_number(bytes, difference)
        })
    }

    /// In microseconds since the last reading; a phase takes seconds.
    fn gap(&self, at: Microseconds) -> u32 {
        at.0.wrapping_sub(self.at) as u32
    }

    fn pack_pattern<const N: usize>(
        &mut self,
        pattern: &Pattern,
        bytes: &mut Vec<u8, N>,
    ) -> Result<(), NoRoom> {
        let lines = pattern.drives.iter().chain(&pattern.pulls);
        let lines = lines.fold(0u16, |lines, drive| lines << 2 | *drive as u16);
        let step = (pattern.step as u16) << 1 | u16::from(pattern.relays_closed);
        let [high, low] = (step << 12 | lines).to_be_bytes();
        put(bytes, &[pattern.readings.len() as u8, high, low])?;
        pattern.readings.iter().try_for_each(|reading| self.pack_reading(reading, bytes))
    }

    fn pack_reading<const N: usize>(
        &mut self,
        reading: &Reading,
        bytes: &mut Vec<u8, N>,
    ) -> Result<(), NoRoom> {
        let Channel { converter, input } = reading.channel;
        put(bytes, &[(converter as u8) << 5 | (input as u8) << 2 | reading.range as u8])?;
        let code = &mut self.codes[converter.index()][input as usize];
        let difference = i32::from(reading.code) - i32::from(*code);
        *code = reading.code;
        put_number(bytes, difference)?;
        let gap = self.gap(reading.at);
        put_number(bytes, gap.wrapping_sub(self.gaps[1]).cast_signed())?;
        self.gaps = [gap, self.gaps[0]];
        self.at = reading.at.0;
        Ok(())
    }

    /// Takes the next event from the front of `bytes`.
    pub(super) fn unpack(&mut self, phase: Phase, bytes: &mut &[u8]) -> Result<Event, NoRoom> {
        let count = match take(bytes)? {
            RISE => return self.unpack_rise(phase, bytes),
            WARM => return Ok(Event::Warm { phase, jig: Millicelsius(take_number(bytes)?) }),
            DONE => return Ok(Event::Done { phase, patterns: take_number(bytes)? as u16 }),
            count => count,
        };
        let head = u16::from_be_bytes([take(bytes)?, take(bytes)?]);
        let line = |place: u16| DRIVES[usize::from(head >> (2 * place) & 3)];
        let step = STEPS.get(usize::from(head >> 13)).copied().ok_or(NoRoom)?;
        let mut readings = Vec::new();
        for _ in 0..count {
            readings.push(self.unpack_reading(bytes)?).map_err(|_| NoRoom)?;
        }
        let index = self.next_index();
        let (drives, pulls) = ([5, 4, 3, 2].map(line), [1, 0].map(line));
        let relays_closed = head >> 12 & 1 != 0;
        Ok(Event::Pattern(Pattern { index, phase, step, drives, pulls, relays_closed, readings }))
    }

    fn unpack_rise(&mut self, phase: Phase, bytes: &mut &[u8]) -> Result<Event, NoRoom> {
        let (what, count) = (take(bytes)?, take(bytes)?);
        let post = Post::ALL[usize::from(what & 3)];
        let relays_closed = what >> 2 & 1 != 0;
        let reference = u32::try_from(take_number(bytes)?).ok().map(Picofarads);
        let at = Microseconds(self.at.wrapping_add(take_number(bytes)?.cast_unsigned().into()));
        let mut micros = Vec::new();
        let mut before = 0;
        for _ in 0..count {
            before += take_number(bytes)?;
            micros.push(before as u16).map_err(|_| NoRoom)?;
        }
        let index = self.next_index();
        Ok(Event::Rise(Rise { index, phase, post, reference, relays_closed, at, micros }))
    }

    fn next_index(&mut self) -> u16 {
        let index = self.index;
        self.index += 1;
        index
    }

    fn unpack_reading(&mut self, bytes: &mut &[u8]) -> Result<Reading, NoRoom> {
        let look = take(bytes)?;
        let converter = Converter::ALL.get(usize::from(look >> 5)).copied().ok_or(NoRoom)?;
        let input = Input::ALL[usize::from(look >> 2 & 7)];
        let range = Range::ALL[usize::from(look & 3)];
        let code = &mut self.codes[converter.index()][input as usize];
        *code = code.wrapping_add(take_number(bytes)? as i16);
        let code = *code;
        let gap = self.gaps[1].wrapping_add(take_number(bytes)?.cast_unsigned());
        self.gaps = [gap, self.gaps[0]];
        self.at = self.at.wrapping_add(gap.into());
        let channel = Channel { converter, input };
        Ok(Reading { channel, range, code, at: Microseconds(self.at) })
    }
}

#[inline(never)] // wherever it is used it would be larger than a call
fn put<const N: usize>(bytes: &mut Vec<u8, N>, more: &[u8]) -> Result<(), NoRoom> {
    bytes.extend_from_slice(more).map_err(|_| NoRoom)
}

/// Small ones of either sign take one byte: seven bits a byte, the least first.
fn put_number<const N: usize>(bytes: &mut Vec<u8, N>, number: i32) -> Result<(), NoRoom> {
    let mut rest = (number << 1 ^ number >> 31).cast_unsigned();
    while rest >= 0x80 {
        put(bytes, &[rest as u8 | 0x80])?;
        rest >>= 7;
    }
    put(bytes, &[rest as u8])
}

fn take(bytes: &mut &[u8]) -> Result<u8, NoRoom> {
    let (first, rest) = bytes.split_first().ok_or(NoRoom)?;
    *bytes = rest;
    Ok(*first)
}

fn take_number(bytes: &mut &[u8]) -> Result<i32, NoRoom> {
    let mut number = 0;
    for place in 0..5 {
        let byte = take(bytes)?;
        number |= u32::from(byte & 0x7F) << (7 * place);
        if byte < 0x80 {
            break;
        }
    }
    Ok((number >> 1).cast_signed() ^ -(number & 1).cast_signed())
}
