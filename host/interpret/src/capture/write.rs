//! Writes the text form of a capture.

use runproof_protocol::Post;
use serde::Serialize;

use super::{
    Capture, Ending, Entry, Head, LiveZero, PhaseEnd, Reading, Rise, ToEarth, Touch, VERSION,
    Warmth, Zero, words,
};
use crate::declared::Declared;

pub(super) fn write(capture: &Capture) -> String {
    let mut text = line(&HeadLine::from(&capture.head));
    for entry in &capture.entries {
        text += &match entry {
            Entry::Reading(reading) => line(&ReadingLine::from(reading)),
            Entry::Rise(rise) => line(&RiseLine::from(rise)),
            Entry::End(end) => line(&EndLine::from(end)),
            Entry::Touch(touch) => line(&TouchLine::from(touch)),
            Entry::ToEarth(clipped) => line(&ToEarthLine::from(clipped)),
            Entry::Warmth(warmth) => line(&WarmthLine::from(warmth)),
            Entry::Zero(zero) => line(&ZeroLine::from(zero)),
            Entry::At(at) => line(&AtLine { at: words::at(*at) }),
            Entry::LiveZero(zero) => line(&LiveZeroLine::from(zero)),
            Entry::Reel(declared) => line(&ReelLine { reel: declared }),
            Entry::ReelAgain => line(&ReelAgainLine { reel_again: true }),
            Entry::Flex(flex) => line(flex),
        };
    }
    text
}

fn line(value: &impl Serialize) -> String {
    let text = serde_json::to_string(value).expect("plain texts and numbers always serialise");
    text + "\n"
}

#[derive(Serialize)]
struct HeadLine<'a> {
    runproof_capture: u64,
    made_by: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    taken_unix_s: Option<u64>,
    jig: JigObject<'a>,
    plug: PlugObject<'a>,
}

#[derive(Serialize)]
struct JigObject<'a> {
    serial: &'a str,
    board: &'a str,
    firmware: &'a str,
    series_ohm: [f64; 4],
    series_tolerance: f64,
    sense_ohm: f64,
    pull_ohm: f64,
    divider_ohm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    supply_load_ohm: Option<f64>,
}

#[derive(Serialize)]
struct PlugObject<'a> {
    #[serde(skip_serializing_if = "str::is_empty")]
    id: &'a str,
    ring_ohm: [f64; 4],
    tolerance: f64,
}

impl<'a> From<&'a Head> for HeadLine<'a> {
    fn from(head: &'a Head) -> Self {
        let Head { made_by, taken_unix_s, jig, plug } = head;
        Self {
            runproof_capture: VERSION,
            made_by,
            taken_unix_s: *taken_unix_s,
            jig: JigObject {
                serial: &jig.serial,
                board: &jig.board,
                firmware: &jig.firmware,
                series_ohm: jig.series_ohm,
                series_tolerance: jig.series_tolerance,
                sense_ohm: jig.sense_ohm,
                pull_ohm: jig.pull_ohm,
                divider_ohm: jig.divider_ohm,
                supply_load_ohm: jig.supply_load_ohm,
            },
            plug: PlugObject { id: &plug.id, ring_ohm: plug.ring_ohm, tolerance: plug.tolerance },
        }
    }
}

#[derive(Serialize)]
struct ReadingLine {
    phase: &'static str,
    step: &'static str,
    pattern: u32,
    drive: String,
    pulls: String,
    relays: &'static str,
    channel: String,
    range_v: f64,
    volts: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    saturated: Option<bool>,
    t_us: u64,
}

impl From<&Reading> for ReadingLine {
    fn from(reading: &Reading) -> Self {
        Self {
            phase: words::phase(reading.phase),
            step: words::step(reading.step),
            pattern: reading.pattern,
            drive: words::drives(&reading.drives),
            pulls: words::drives(&reading.pulls),
            relays: words::relays(reading.relays_closed),
            channel: words::channel(reading.channel),
            range_v: reading.range.full_scale_volts(),
            volts: reading.volts,
            saturated: reading.saturated.then_some(true),
            t_us: reading.at.0,
        }
    }
}

#[derive(Serialize)]
struct RiseLine<'a> {
    phase: &'static str,
    step: &'static str,
    pattern: u32,
    post: u8,
    #[serde(skip_serializing_if = "Option::is_none")]
    reference_pf: Option<u32>,
    relays: &'static str,
    rise_us: &'a [Option<u16>],
    t_us: u64,
}

impl<'a> From<&'a Rise> for RiseLine<'a> {
    fn from(rise: &'a Rise) -> Self {
        Self {
            phase: words::phase(rise.phase),
            step: words::RISE,
            pattern: rise.pattern,
            post: rise.post.number(),
            reference_pf: rise.reference.map(|reference| reference.0),
            relays: words::relays(rise.relays_closed),
            rise_us: &rise.micros,
            t_us: rise.at.0,
        }
    }
}

#[derive(Serialize)]
struct EndLine<'a> {
    end: &'static str,
    phase: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    patterns: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    reason: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    largest_v: Option<f64>,
}

impl<'a> From<&'a PhaseEnd> for EndLine<'a> {
    fn from(end: &'a PhaseEnd) -> Self {
        let (word, patterns, reason, largest_v) = match &end.ending {
            Ending::Done { patterns } => ("done", Some(*patterns), None, None),
            Ending::Stopped { reason } => ("stopped", None, Some(reason), None),
            Ending::Hazard { reason, largest_v } => {
                ("hazard", None, Some(reason), Some(*largest_v))
            }
            Ending::Lost { reason } => ("lost", None, Some(reason), None),
        };
        Self {
            end: word,
            phase: words::phase(end.phase),
            patterns,
            reason: reason.map(String::as_str),
            largest_v,
        }
    }
}

#[derive(Serialize)]
struct TouchLine {
    touch: &'static str,
    terminals: [u8; 2],
    ohm: [Option<f64>; 6],
    t_us: u64,
}

impl From<&Touch> for TouchLine {
    fn from(touch: &Touch) -> Self {
        Self {
            touch: words::end(touch.end),
            terminals: touch.terminals.map(Post::number),
            ohm: touch.ohm,
            t_us: touch.at.0,
        }
    }
}

#[derive(Serialize)]
struct ToEarthLine {
    clipped: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    shield: Option<&'static str>,
}

impl From<&ToEarth> for ToEarthLine {
    fn from(ToEarth { shield }: &ToEarth) -> Self {
        Self { clipped: words::TO_EARTH, shield: shield.map(words::drain) }
    }
}

#[derive(Serialize)]
struct WarmthLine {
    phase: &'static str,
    jig_c: f64,
}

impl From<&Warmth> for WarmthLine {
    fn from(warmth: &Warmth) -> Self {
        Self { phase: words::phase(warmth.phase), jig_c: warmth.jig_c }
    }
}

#[derive(Serialize)]
struct AtLine {
    at: &'static str,
}

#[derive(Serialize)]
struct ReelLine<'a> {
    reel: &'a Declared,
}

#[derive(Serialize)]
struct ReelAgainLine {
    reel_again: bool,
}

#[derive(Serialize)]
struct ZeroLine {
    zero_ohm: [f64; 6],
    u_ohm: [f64; 6],
    #[serde(skip_serializing_if = "Option::is_none")]
    jig_c: Option<f64>,
    taken_unix_s: u64,
}

impl From<&Zero> for ZeroLine {
    fn from(zero: &Zero) -> Self {
        let Zero { ohm, u_ohm, jig_c, taken_unix_s } = *zero;
        Self { zero_ohm: ohm, u_ohm, jig_c, taken_unix_s }
    }
}

#[derive(Serialize)]
struct LiveZeroLine {
    live_zero: [f64; 4],
    u_gain: [f64; 4],
    offset_v: [f64; 4],
    u_offset_v: [f64; 4],
    common: [f64; 4],
    u_common: [f64; 4],
    #[serde(skip_serializing_if = "Option::is_none")]
    jig_c: Option<f64>,
    taken_unix_s: u64,
}

impl From<&LiveZero> for LiveZeroLine {
    fn from(zero: &LiveZero) -> Self {
        let LiveZero { gain, u_gain, offset_v, u_offset_v, common, u_common, jig_c, taken_unix_s } =
            *zero;
        Self {
            live_zero: gain,
            u_gain,
            offset_v,
            u_offset_v,
            common,
            u_common,
            jig_c,
            taken_unix_s,
        }
    }
}
