//! What README shows is what the program prints.

use std::path::Path;

use crate::program::runproof;

#[test]
fn the_example_is_the_programs_output() {
    let readme = Path::new(env!("CARGO_MANIFEST_DIR")).join("../README.md");
    let readme = std::fs::read_to_string(readme).expect("README.md");
    let ran = runproof(&["check", "--simulate", "crossed-supply"]);
    let told = but_the_id(&ran.out);
    let example = format!("$ runproof check --simulate crossed-supply\n{told}```");
    assert!(but_the_id(&readme).contains(&example), "README.md does not show this:\n{}", ran.out);
}

/// Each record's id is its own.
fn but_the_id(text: &str) -> String {
    const LABEL: &str = "  record         1 here, id ";
    let mut parts = text.split(LABEL);
    let mut told = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let id = part.lines().next().unwrap_or_default();
        assert!(id.len() == 36 && id.matches('-').count() == 4, "{id}");
        told += LABEL;
        told += &part[id.len()..];
    }
    assert!(told.contains(LABEL), "no record is told of:\n{text}");
    told
}
