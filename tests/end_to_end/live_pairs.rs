//! What is told of a data pair: which way round, by what that was decided, and where a line of it may be open.

use std::fs;
use std::path::Path;

use crate::live::{live, words};
use crate::program::{folder, runproof};

/// A run of 30 m with these sources against common, each by post, what it is, and its ohms; as a scene.
fn scene(folder: &Path, sources: &[(u8, &str, f64)]) -> String {
    let mut text = String::from(
        "about = \"a pair\"\nplug = \"out\"\n[run]\nlength_m = 30.0\nohm_per_km = 20.95\ncopper_c = 25.0\n\
         arrives_at = [1, 2, 3, 4]\n",
    );
    for (post, what, ohm) in sources {
        text +=
            &format!("[[source]]\nbetween = [{post}, 3]\n{what}\nthrough = {{ ohm = {ohm:?} }}\n");
    }
    let file = folder.join("pair.toml");
    fs::write(&file, text).expect("written");
    file.to_str().expect("UTF-8").to_owned()
}

/// A sound run whose pair rests so.
fn pair_of(bias_v: f64) -> String {
    let [plus, minus] = [0.5, -0.5].map(|side| format!("direct_v = {}", 2.5 + side * bias_v));
    let supply = "volts_rms = 26.0\nhertz = 60.0";
    scene(&folder("live pairs"), &[(4, supply, 1.5), (1, &plus, 300.0), (2, &minus, 300.0)])
}

#[test]
fn what_is_told_of_the_pair_is_what_decided_it() {
    let told = |scene: &str| words(&live(scene, &["--zero", "none"]).out);
    let traffic = told("live-traffic");
    assert!(traffic.contains("someone sends; read between two messages."), "{traffic}");
    // 0.172 ± 0.006 V, and 0.2 V asked for.
    let undecided = told("live-four-terminators");
    assert!(
        undecided.contains(
            "of a receiver's threshold, +0.2 V, the jig decides nothing; with a fresh zero"
        ),
        "{undecided}"
    );
    for (bias_v, nearer) in [(0.215, "+0.2 V"), (-0.215, "−0.2 V"), (-0.185, "−0.2 V")] {
        let near = told(&pair_of(bias_v));
        assert!(near.contains(&format!("threshold, {nearer}, the jig decides nothing")), "{near}");
        assert!(near.contains("which way round is not decided: a receiver needs 0.2 V"), "{near}");
    }
    let hazard = told("live-over-voltage");
    assert!(hazard.contains("30 V alternating, or 42 V direct"), "{hazard}");
}

/// Data− is open, and no supply there: only a zero of the jig tells it from one that is held just there.
#[test]
fn an_open_line_is_told_with_a_zero_and_may_be_one_without() {
    let folder = folder("held or open");
    let scene = scene(&folder, &[(1, "direct_v = 1.6", 430.0)]);
    let severity_of = |zero: &str| {
        let told = ["live", "--simulate", &scene, "--zero", zero, "--json", "--no-record"];
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
    let screen = words(&live(&scene, &["--zero", "none", "--no-record"]).out);
    for told in [
        "without a fresh zero the jig cannot tell whether it does or is held just there",
        "which way round is not told: a line of it may hang on nothing",
    ] {
        assert!(screen.contains(told), "{screen}");
    }
}
