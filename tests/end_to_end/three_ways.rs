//! Every built-in scene gets its verdict: measured in memory and judged again from the saved capture.
//! (The third way, through the emulated microcontroller, is in `emulated.rs`.)

use std::path::Path;
use std::thread;

use runproof_firmware::boards::simulated::BUILT_IN;

use crate::program::{folder, runproof};
use crate::scenes::{self, Expected, Tally};

/// Each scene in so many jigs; in 200 of them with LONG in the environment.
const SEEDS: u32 = 50;
const SEEDS_LONG: u32 = 200;

fn seeds() -> u32 {
    if std::env::var_os("LONG").is_some() { SEEDS_LONG } else { SEEDS }
}

#[test]
fn every_scene_has_its_line() {
    let lines = scenes::ALL.map(|expected| expected.scene);
    let mut lines: Vec<&str> = lines.into_iter().chain(scenes::TO_EARTH).collect();
    let mut scenes: Vec<&str> = BUILT_IN.iter().map(|(name, _)| *name).collect();
    lines.sort_unstable();
    scenes.sort_unstable();
    assert_eq!(lines, scenes);
}

#[test]
fn every_scene_in_memory_and_from_its_capture() {
    let folder = folder("captures");
    let mut tally = Tally::default();
    let (some, others) = scenes::ALL.split_at(scenes::ALL.len() / 2);
    thread::scope(|scope| {
        let halves = [some, others].map(|half| scope.spawn(|| tallied(half, &folder)));
        for half in halves {
            tally.add(half.join().expect("it does not panic"));
        }
    });
    tally.is_right(scenes::ALL.len() * seeds() as usize);
}

fn tallied(scenes: &[Expected], folder: &Path) -> Tally {
    let mut tally = Tally::default();
    for expected in scenes {
        for seed in 1..=seeds() {
            let file = folder.join(format!("{}-{seed}.jsonl", expected.scene));
            let name = file.to_str().expect("UTF-8");
            let seed_text = seed.to_string();
            let run =
                ["check", "--simulate", expected.scene, "--seed", &seed_text, "--touch", "never"];
            let kept = ["--no-record", "--save", name, "--json"];
            // Half of them wait for the run as a person makes it ready.
            let waits: &[&str] = if seed % 2 == 0 { &["--yes"] } else { &[] };
            let checked = runproof(&[&run[..], &kept, waits, &expected.told()].concat());
            tally.count(expected, seed, &checked, name);
            std::fs::remove_file(&file).expect("it was saved");
        }
    }
    tally
}
