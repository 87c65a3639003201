//! Prints what the live converter's input is at on the mean over each conversion of a live phase, without noise
//! and the converter's own errors, as JSON lines: `live SCENE.toml SEED`. The first line is the parts as
//! drawn. tests/outside/check_live.py compares it with ngspice.

use std::error::Error;

use runproof_firmware::boards::simulated::{Circuitry, Scene, Setting};
use runproof_protocol::{Converter, Input, Range};
use serde_json::json;

const READINGS: usize = 16;
const PACE_MICROS: u64 = 1_590;
/// From the jig's start.
const BEGINS_MICROS: u64 = 300_000;
/// The load's contacts are closed so long before.
const LOADED_AFTER_MICROS: u64 = 25_000;
/// From a conversion's start until it looks at its input: data sheet SBAS444E, 25 µs of wake-up.
const WAKE_NANOS: u64 = 25_000;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [path, seed] = arguments.as_slice() else {
        return Err("usage: live SCENE.toml SEED".into());
    };
    let scene = Scene::read(&std::fs::read_to_string(path)?)?;
    let circuitry = Circuitry::new(scene, seed.parse()?);
    println!("{}", json!({ "parts": serde_json::to_value(circuitry.parts())? }));
    let mut due_micros = BEGINS_MICROS;
    let mut first_range = Range::V0;
    for pattern in 0..12 {
        let loaded = pattern >= 8;
        if pattern == 8 {
            due_micros += LOADED_AFTER_MICROS;
        }
        let mut saturates = false;
        for reading in 0..READINGS {
            let (input, range) = match (reading % 4, loaded) {
                (0, _) | (2, false) => (Input::P1P2, first_range),
                (1, _) => (Input::P3P4, Range::V2),
                (2, true) => (Input::P4, Range::V4),
                _ => (Input::P1P4, Range::V2),
            };
            let from = due_micros * 1_000 + WAKE_NANOS;
            let to = from + circuitry.conversion_nanos(Converter::Live);
            let looks = [None, None, Some((input, range))];
            let setting = Setting { loaded, looks, ..Setting::default() };
            let averages = circuitry.averages_v(&setting, Converter::Live, &[[from, to]]);
            let volts = averages.first().ok_or("the converter looks")?;
            saturates |= range == Range::V0 && volts.abs() >= range.full_scale_volts();
            println!(
                "{}",
                json!({
                    "step": if loaded { "live-loaded" } else { "live" },
                    "pattern": pattern,
                    "channel": channel(input),
                    "range_v": range.full_scale_volts(),
                    "t_us": due_micros,
                    "from_ns": from,
                    "to_ns": to,
                    "volts": volts,
                })
            );
            due_micros += PACE_MICROS;
        }
        if saturates {
            first_range = Range::V2;
        }
    }
    Ok(())
}

fn channel(input: Input) -> String {
    let (plus, minus) = input.posts();
    let minus = minus.map(|post| format!("-D{}", post.number()));
    format!("D{}{}", plus.number(), minus.unwrap_or_default())
}
