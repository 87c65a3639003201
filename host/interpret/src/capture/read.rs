//! Reads the text form of a capture. No text, however damaged, does more than give an error.

use runproof_protocol::{Microseconds, Picofarads, Post};
use serde_json::{Map, Value};

use super::fields::Fields;
use super::head::SENSE_OHM;
use super::{
    BYTES_MAX, Capture, CaptureError, Ending, Entry, FlexEntry, Head, JigConstants, LINE_BYTES_MAX,
    LINES_MAX, LiveZero, PhaseEnd, Plug, Reading, Reason, Rise, ToEarth, Touch, VERSION, Warmth,
    Zero, words,
};

use super::kept::{JIG_C, ZERO_OHM, ZERO_U_OHM};
use super::live_zero::{COMMON, GAIN, OFFSET_V, U};

const TAKEN_KEY: &str = "taken_unix_s";
const HEAD_KEY: &str = "runproof_capture";

pub(super) fn read(text: &str) -> Result<Capture, CaptureError> {
    if text.len() > BYTES_MAX {
        return Err(too_large(1, BYTES_MAX, "bytes"));
    }
    let mut capture = None;
    for (index, text) in text.lines().enumerate().filter(|(_, text)| !text.trim().is_empty()) {
        let line = index + 1;
        if line > LINES_MAX {
            return Err(too_large(line, LINES_MAX, "lines"));
        }
        let map = object(line, text)?;
        let fields = Fields::new(line, &map);
        match &mut capture {
            None => capture = Some(Capture::new(head(line, &fields)?)),
            Some(_) if fields.has(HEAD_KEY) => return Err(line_error(line, Reason::HeadMisplaced)),
            Some(capture) => capture.entries.push(entry(&fields)?),
        }
    }
    capture.ok_or_else(|| line_error(1, Reason::Empty))
}

fn object(line: usize, text: &str) -> Result<Map<String, Value>, CaptureError> {
    if text.len() > LINE_BYTES_MAX {
        return Err(too_large(line, LINE_BYTES_MAX, "bytes in a line"));
    }
    serde_json::from_str(text).map_err(|error: serde_json::Error| {
        line_error(line, if error.is_eof() { Reason::CutOff } else { Reason::NotAnObject })
    })
}

fn head(line: usize, fields: &Fields) -> Result<Head, CaptureError> {
    if !fields.has(HEAD_KEY) {
        return Err(line_error(line, Reason::HeadMisplaced));
    }
    match fields.whole(HEAD_KEY)? {
        VERSION => {}
        other => return Err(fields.error(HEAD_KEY, Reason::NewerVersion(other))),
    }
    let jig = fields.object("jig")?;
    let plug = fields.object("plug")?;
    let head = Head {
        made_by: fields.text_or_empty("made_by")?,
        taken_unix_s: match fields.has(TAKEN_KEY) {
            true => Some(fields.whole(TAKEN_KEY)?),
            false => None,
        },
        jig: JigConstants {
            serial: jig.text_or_empty("serial")?,
            board: jig.text_or_empty("board")?,
            firmware: jig.text_or_empty("firmware")?,
            series_ohm: jig.four("series_ohm", FOUR_OHMS)?,
            series_tolerance: jig.number("series_tolerance", FRACTION, Some)?,
            sense_ohm: jig.number_or("sense_ohm", OHMS, SENSE_OHM)?,
            pull_ohm: jig.number("pull_ohm", OHMS, Some)?,
            divider_ohm: jig.number("divider_ohm", OHMS, Some)?,
            supply_load_ohm: match jig.has("supply_load_ohm") {
                true => Some(jig.number("supply_load_ohm", OHMS, Some)?),
                false => None,
            },
        },
        plug: Plug {
            id: plug.text_or_empty("id")?,
            ring_ohm: plug.four("ring_ohm", FOUR_OHMS)?,
            tolerance: plug.number("tolerance", FRACTION, Some)?,
        },
    };
    match head.plausible() {
        Ok(()) => Ok(head),
        Err(error) => Err(fields.error(error.key, Reason::Implausible(error))),
    }
}

fn entry(fields: &Fields) -> Result<Entry, CaptureError> {
    if fields.has("end") {
        phase_end(fields).map(Entry::End)
    } else if fields.has("rise_us") {
        rise(fields).map(Entry::Rise)
    } else if fields.has("touch") {
        touch(fields).map(Entry::Touch)
    } else if fields.has("clipped") {
        to_earth(fields).map(Entry::ToEarth)
    } else if fields.has("reel") {
        fields.reel("reel").map(|declared| Entry::Reel(Box::new(declared)))
    } else if fields.has("reel_again") {
        match fields.flag("reel_again")? {
            true => Ok(Entry::ReelAgain),
            false => Err(fields.error("reel_again", Reason::WrongKind { expected: "true" })),
        }
    } else if fields.has("zero_ohm") {
        zero(fields).map(Entry::Zero)
    } else if fields.has("at") {
        fields.one_of("at", "adapter or plate", words::parse_at).map(Entry::At)
    } else if fields.has("live_zero") {
        live_zero(fields).map(Entry::LiveZero)
    } else if fields.has("jig_c") {
        warmth(fields).map(Entry::Warmth)
    } else if let Some(key) = FlexEntry::KEYS.into_iter().find(|key| fields.has(key)) {
        fields.flex(key).map(|flex| Entry::Flex(Box::new(flex)))
    } else {
        reading(fields).map(Entry::Reading)
    }
}

fn reading(fields: &Fields) -> Result<Reading, CaptureError> {
    let range =
        fields.number("range_v", "a range in volts: 4.096, 2.048, 1.024, 0.256", words::range)?;
    Ok(Reading {
        phase: fields.one_of("phase", PHASE, words::parse_phase)?,
        step: fields.one_of(
            "step",
            "live, live-loaded, self-calibration, pre-scan, pairs, leakage or live-zero",
            words::parse_step,
        )?,
        pattern: fields.whole_u32("pattern")?,
        drives: fields.one_of("drive", "four of the letters H, L, Z", words::parse_drives)?,
        pulls: fields.one_of("pulls", "two of the letters H, L, Z", words::parse_drives)?,
        relays_closed: fields.one_of("relays", "open or closed", words::parse_relays)?,
        channel: fields.one_of("channel", "like N1 or N1-N4", words::parse_channel)?,
        range,
        volts: fields.number("volts", "a voltage within the range", |volts| {
            (volts.abs() <= range.full_scale_volts()).then_some(volts)
        })?,
        saturated: fields.flag("saturated")?,
        at: Microseconds(fields.whole("t_us")?),
    })
}

fn rise(fields: &Fields) -> Result<Rise, CaptureError> {
    fields.one_of("step", "rise", |step| (step == words::RISE).then_some(()))?;
    Ok(Rise {
        phase: fields.one_of("phase", PHASE, words::parse_phase)?,
        pattern: fields.whole_u32("pattern")?,
        post: fields.whole_as("post", "a post, 1 to 4", |number| {
            Post::from_number(number.try_into().ok()?)
        })?,
        reference: match fields.has("reference_pf") {
            true => Some(Picofarads(fields.whole_u32("reference_pf")?)),
            false => None,
        },
        relays_closed: fields.one_of("relays", "open or closed", words::parse_relays)?,
        micros: fields.micros("rise_us")?,
        at: Microseconds(fields.whole("t_us")?),
    })
}

fn touch(fields: &Fields) -> Result<Touch, CaptureError> {
    Ok(Touch {
        end: fields.one_of("touch", "near or far", words::parse_end)?,
        terminals: fields.two_posts("terminals")?,
        ohm: fields.six_ohms("ohm")?,
        at: Microseconds(fields.whole("t_us")?),
    })
}

fn to_earth(fields: &Fields) -> Result<ToEarth, CaptureError> {
    fields.one_of("clipped", "to-earth", |how| (how == words::TO_EARTH).then_some(()))?;
    let drain = || fields.one_of("shield", "landed, free or unsure", words::parse_drain);
    let shield = if fields.has("shield") { Some(drain()?) } else { None };
    Ok(ToEarth { shield })
}

fn warmth(fields: &Fields) -> Result<Warmth, CaptureError> {
    Ok(Warmth {
        phase: fields.one_of("phase", PHASE, words::parse_phase)?,
        jig_c: fields.number("jig_c", CELSIUS, celsius)?,
    })
}

fn zero(fields: &Fields) -> Result<Zero, CaptureError> {
    Ok(Zero {
        ohm: fields
            .six("zero_ohm", "six resistances, 1 to 1000 Ω", |ohm| ZERO_OHM.contains(&ohm))?,
        u_ohm: fields
            .six("u_ohm", "six uncertainties, 1 µΩ to 1 Ω", |ohm| ZERO_U_OHM.contains(&ohm))?,
        jig_c: match fields.has("jig_c") {
            true => Some(fields.number("jig_c", CELSIUS, celsius)?),
            false => None,
        },
        taken_unix_s: fields.whole(TAKEN_KEY)?,
    })
}

fn live_zero(fields: &Fields) -> Result<LiveZero, CaptureError> {
    let four = |key, expected, range: std::ops::RangeInclusive<f64>| {
        fields.four_that(key, expected, |number| range.contains(&number))
    };
    let u = |key| four(key, "four uncertainties, 0 to 0.01", U);
    Ok(LiveZero {
        gain: four("live_zero", "four gains, 0.5 to 1.5", GAIN)?,
        u_gain: u("u_gain")?,
        offset_v: four("offset_v", "four offsets, −0.01 to 0.01 V", OFFSET_V)?,
        u_offset_v: u("u_offset_v")?,
        common: four("common", "four parts, −0.1 to 0.1", COMMON)?,
        u_common: u("u_common")?,
        jig_c: match fields.has("jig_c") {
            true => Some(fields.number("jig_c", CELSIUS, celsius)?),
            false => None,
        },
        taken_unix_s: fields.whole(TAKEN_KEY)?,
    })
}

/// What a jig can be like.
fn celsius(celsius: f64) -> Option<f64> {
    JIG_C.contains(&celsius).then_some(celsius)
}

fn phase_end(fields: &Fields) -> Result<PhaseEnd, CaptureError> {
    let phase = fields.one_of("phase", PHASE, words::parse_phase)?;
    let reason = fields.text_or_empty("reason")?;
    let ending = match fields.one_of("end", "done, stopped, hazard or lost", Some)? {
        "done" => Ending::Done { patterns: fields.whole_u32("patterns")? },
        "stopped" => Ending::Stopped { reason },
        "hazard" => {
            Ending::Hazard { reason, largest_v: fields.number("largest_v", "a voltage", Some)? }
        }
        "lost" => Ending::Lost { reason },
        _ => {
            let expected = "done, stopped, hazard or lost";
            return Err(fields.error("end", Reason::WrongKind { expected }));
        }
    };
    Ok(PhaseEnd { phase, ending })
}

const CELSIUS: &str = "a temperature in °C, −100 to 200";
const OHMS: &str = "a resistance in ohms";
const FOUR_OHMS: &str = "four resistances in ohms";
const FRACTION: &str = "a fraction";
const PHASE: &str = "open, plug, glance, live, live-zero, far-lights, supply-load or fixture";

fn line_error(line: usize, reason: Reason) -> CaptureError {
    CaptureError { line, key: None, reason }
}

fn too_large(line: usize, limit: usize, unit: &'static str) -> CaptureError {
    line_error(line, Reason::TooLarge { limit, unit })
}
