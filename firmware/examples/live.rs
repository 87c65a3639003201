//! Prints what the live converter's input is at on the mean over each conversion of a live phase, and of one in which
//! the supply is loaded, without noise
//! and the converter's own errors, as JSON lines: `live SCENE.toml SEED`. The first line is the parts as
//! drawn. tests/outside/check_live.py compares it with ngspice.

use std::error::Error;

use runproof_firmware::boards::simulated::{Circuitry, Scene, Setting};
use runproof_protocol::{Converter, Input, Range, SUPPLY_LOAD_MAX};
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
    let mut reader = Reader { circuitry, due_micros: BEGINS_MICROS, peak_v: 0.0 };
    let mut pair = Range::V0;
    for pattern in 0..12 {
        let loaded = pattern >= 8;
        if pattern == 8 {
            reader.due_micros += LOADED_AFTER_MICROS;
        }
        let looks = [0, 1, 2, 3].map(|turn| match (turn, loaded) {
            (0, _) | (2, false) => (Input::P1P2, pair),
            (1, _) => SUPPLY,
            (2, true) => (Input::P4, Range::V4),
            _ => (Input::P1P4, Range::V2),
        });
        let step = if loaded { "live-loaded" } else { "live" };
        let setting = Setting { loaded, ..Setting::default() };
        if reader.pattern("live", step, pattern, looks, setting)? {
            pair = Range::V2;
        }
    }
    // As the engine has it: a look whether the load may be put on, then the load.
    reader.peak_v = 0.0;
    reader.pattern("supply-load", "live", 0, [SUPPLY; 4], Setting::default())?;
    if reader.peak_v * 4_522.0 / 22.0 <= SUPPLY_LOAD_MAX.0 as f64 / 1e6 {
        reader.due_micros += LOADED_AFTER_MICROS;
        let setting = Setting { supply_loaded: true, ..Setting::default() };
        for pattern in 1..3 {
            reader.pattern("supply-load", "supply-loaded", pattern, [SUPPLY; 4], setting)?;
        }
    }
    Ok(())
}

const SUPPLY: (Input, Range) = (Input::P3P4, Range::V2);

struct Reader {
    circuitry: Circuitry,
    due_micros: u64,
    /// The largest of the last pattern's readings, and of those before it since it was set.
    peak_v: f64,
}

impl Reader {
    /// Prints a pattern's readings; whether one of them is beyond the narrow range.
    fn pattern(
        &mut self,
        phase: &str,
        step: &str,
        pattern: u16,
        turns: [(Input, Range); 4],
        setting: Setting,
    ) -> Result<bool, Box<dyn Error>> {
        let mut saturates = false;
        for reading in 0..READINGS {
            let (input, range) = turns[reading % 4];
            let from = self.due_micros * 1_000 + WAKE_NANOS;
            let to = from + self.circuitry.conversion_nanos(Converter::Live);
            let looks = [None, None, Some((input, range))];
            let setting = Setting { looks, ..setting };
            let averages = self.circuitry.averages_v(&setting, Converter::Live, &[[from, to]]);
            let volts = averages.first().ok_or("the converter looks")?;
            saturates |= range == Range::V0 && volts.abs() >= range.full_scale_volts();
            self.peak_v = self.peak_v.max(volts.abs());
            let line = json!({
                "phase": phase,
                "step": step,
                "pattern": pattern,
                "channel": channel(input),
                "range_v": range.full_scale_volts(),
                "t_us": self.due_micros,
                "from_ns": from,
                "to_ns": to,
                "volts": volts,
            });
            println!("{line}");
            self.due_micros += PACE_MICROS;
        }
        Ok(saturates)
    }
}

fn channel(input: Input) -> String {
    let (plus, minus) = input.posts();
    let minus = minus.map(|post| format!("-D{}", post.number()));
    format!("D{}{}", plus.number(), minus.unwrap_or_default())
}
