//! From a pattern's readings to slots: one input of both converters at the same time.

use runproof_protocol::{Converter, Input, Microseconds, Pattern, Range, Reading};

/// How long a pattern's last slot is taken to be.
const SLOT_US: u64 = 1_800;

/// More lie between the slots of no pattern.
const SLOT_US_MAX: u64 = 10_000;

/// Posts 1 to 3, each against 4.
pub(super) const INPUTS: [Input; 3] = [Input::P1P4, Input::P2P4, Input::P3P4];

/// One input, read by both converters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Slot {
    /// Which of [`INPUTS`].
    pub(super) input: usize,
    pub(super) sense_v: f64,
    pub(super) drive_v: f64,
    /// Either was beyond its range.
    pub(super) saturated: bool,
    pub(super) at: Microseconds,
    pub(super) until: Microseconds,
}

/// A pattern's slots, in their order.
pub(super) fn slots(pattern: &Pattern) -> Vec<Slot> {
    let mut slots: Vec<Slot> = Vec::with_capacity(pattern.readings.len() / 2);
    let mut readings = pattern.readings.iter();
    let mut first = readings.next();
    while let (Some(one), Some(other)) = (first, readings.next()) {
        match together(one, other) {
            Some(slot) => {
                slots.push(slot);
                first = readings.next();
            }
            None => first = Some(other),
        }
    }
    for n in 0..slots.len().saturating_sub(1) {
        let next = slots[n + 1].at;
        if (slots[n].at.0..=slots[n].at.0.saturating_add(SLOT_US_MAX)).contains(&next.0) {
            slots[n].until = next;
        }
    }
    slots
}

/// Two readings of one input, by either converter.
fn together(one: &Reading, other: &Reading) -> Option<Slot> {
    let (sense, drive) = match (one.channel.converter, other.channel.converter) {
        (Converter::Sense, Converter::Drive) => (one, other),
        (Converter::Drive, Converter::Sense) => (other, one),
        _ => return None,
    };
    let of = |reading: &Reading| INPUTS.iter().position(|input| *input == reading.channel.input);
    let input = of(sense).filter(|input| of(drive) == Some(*input))?;
    let wide = sense.range == Range::V4 && drive.range == Range::V4;
    let at = one.at.min(other.at);
    wide.then(|| Slot {
        input,
        sense_v: sense.volts(),
        drive_v: drive.volts(),
        saturated: sense.saturated() || drive.saturated(),
        at,
        until: Microseconds(at.0.saturating_add(SLOT_US)),
    })
}
