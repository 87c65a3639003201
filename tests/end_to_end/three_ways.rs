//! Every built-in scene gets its verdict, in memory and judged again from the saved capture.
//! (The third way, through the emulated microcontroller, is in `emulated.rs`.)

use crate::program::{folder, runproof};
use crate::scenes;

const SEEDS: u32 = 50;

#[test]
fn every_scene_in_memory_and_from_its_capture() {
    let folder = folder("captures");
    let (mut right, mut wrong) = (0, vec![]);
    let (mut inside, mut all) = (0, 0);
    for expected in &scenes::ALL {
        for seed in 1..=SEEDS {
            let file = folder.join(format!("{}-{seed}.jsonl", expected.scene));
            let file = file.to_str().expect("UTF-8");
            let seed = seed.to_string();
            let check = ["check", "--simulate", expected.scene, "--seed", &seed];
            let checked = runproof(&[&check[..], &["--save", file, "--json"]].concat());
            let judged = runproof(&["judge", file, "--json"]);
            let result = checked.json();
            let mut differences = expected.differences(checked.status, &result);
            if judged.status != checked.status || judged.json() != result {
                differences.push("judging the capture again gives another result".into());
            }
            if differences.is_empty() {
                right += 1;
            } else {
                wrong.push(format!("{} seed {seed}: {differences:?}", expected.scene));
            }
            let covered = expected.covered(&result);
            (inside, all) = (inside + covered.0, all + covered.1);
        }
    }
    println!(
        "{right} right, {} wrong; {inside} of {all} intervals cover the wire",
        wrong.len()
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(
        inside * 100 >= all * 94,
        "{inside} of {all} intervals cover the wire"
    );
}
