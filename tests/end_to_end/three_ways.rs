//! Every built-in scene gets its verdict: measured in memory and judged again from the saved capture.
//! (The third way, through the emulated microcontroller, is in `emulated.rs`.)

use crate::program::{folder, runproof};
use crate::scenes::{self, Tally};

const SEEDS: u32 = 40;

#[test]
fn every_scene_in_memory_and_from_its_capture() {
    let folder = folder("captures");
    let mut tally = Tally::default();
    for expected in &scenes::ALL {
        for seed in 1..=SEEDS {
            let file = folder.join(format!("{}-{seed}.jsonl", expected.scene));
            let file = file.to_str().expect("UTF-8");
            let seed_text = seed.to_string();
            let run = ["check", "--simulate", expected.scene, "--seed", &seed_text];
            let checked = runproof(&[&run[..], &["--save", file, "--json"]].concat());
            tally.count(expected, seed, &checked, file);
        }
    }
    tally.is_right(scenes::ALL.len() * SEEDS as usize);
}
