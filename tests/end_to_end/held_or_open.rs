//! A data line that is open, read with no supply there: only a zero of the jig tells it from one that is held just there.

use std::fs;

use crate::program::{folder, runproof};

const OPEN: &str = r#"
about = "No supply reaches this place; data− is open."
plug = "out"

[run]
length_m = 30.0
ohm_per_km = 20.95
copper_c = 25.0
arrives_at = [1, 2, 3, 4]

[[source]]
between = [1, 3]
direct_v = 1.6
through = { ohm = 430.0 }
"#;

#[test]
fn an_open_line_is_told_with_a_zero_and_may_be_one_without() {
    let folder = folder("held or open");
    let scene = folder.join("open.toml");
    fs::write(&scene, OPEN).expect("written");
    let scene = scene.to_str().expect("UTF-8");
    let severity_of = |zero: &str| {
        let told = ["live", "--simulate", scene, "--zero", zero, "--json", "--no-record"];
        let result = runproof(&told).json();
        let findings = result["findings"].as_array().expect("findings").clone();
        let floats = findings.iter().find(|one| one["kind"] == "floats").expect("told");
        assert_eq!(result["verdict"], "fail", "there is no supply");
        (floats["severity"].clone(), result["pair"]["verdict"].clone())
    };
    assert_eq!(severity_of("none"), ("cannot-tell".into(), "cannot-tell".into()));
    let zero = folder.join("zero.jsonl");
    let zero = zero.to_str().expect("UTF-8");
    assert_eq!(runproof(&["zero", "--simulate", "tail-on-clips", "--save", zero]).status, 0);
    assert_eq!(severity_of(zero), ("fail".into(), "fail".into()));
    let screen = runproof(&["live", "--simulate", scene, "--zero", "none", "--no-record"]).out;
    let words = screen.split_whitespace().collect::<Vec<_>>().join(" ");
    for told in [
        "without a fresh zero the jig cannot tell whether it does or is held just there",
        "which way round is not told: a line of it may hang on nothing",
    ] {
        assert!(words.contains(told), "{screen}");
    }
}
