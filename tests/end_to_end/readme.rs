//! What README shows is what the program prints.

use std::path::Path;

use crate::program::runproof;

#[test]
fn the_example_is_the_programs_output() {
    let readme = Path::new(env!("CARGO_MANIFEST_DIR")).join("../README.md");
    let readme = std::fs::read_to_string(readme).expect("README.md");
    let ran = runproof(&["check", "--simulate", "crossed-supply"]);
    let example = format!("$ runproof check --simulate crossed-supply\n{}```", ran.out);
    assert!(readme.contains(&example), "README.md does not show this:\n{}", ran.out);
}
