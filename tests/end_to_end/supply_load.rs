//! The supply under the jig's own load: what gives way, what a control is left with, and when it is not put on.

use std::fs;

use runproof_firmware::boards::simulated::Scene;
use serde_json::Value;

use crate::program::{Ran, folder, runproof};

fn live(scene: &str, arguments: &[&str]) -> Ran {
    runproof(&[&["live", "--simulate", scene], arguments].concat())
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// Source and both conductors of the scene in a row: copper at 25 °C has 1 + 5 × 0.00393 of its ohms at 20 °C
/// (IEC 60028), and conductors of one cable differ a little.
fn before_the_jig_ohm(scene: &str) -> f64 {
    let scene = Scene::built_in(scene).expect("built in");
    let joints: f64 = scene.run.joint.iter().map(|joint| joint.ohm).sum();
    2.0 * scene.run.length_m * scene.run.ohm_per_km / 1e3 * 1.01965 + 0.6 + joints
}

/// Stated with 95 %: of 80, fewer than 70 are less likely than one in 1,000 (binomial).
#[test]
fn the_resistance_before_the_jig_is_found() {
    let mut held = 0;
    for scene in ["live-good", "live-sags"] {
        let truth = before_the_jig_ohm(scene);
        for seed in 1..=40 {
            let result = live(scene, &["--seed", &seed.to_string(), "--json"]).json();
            let load = &result["supply_load"];
            let (ohm, u) = (number(&load["source_ohm"]["value"]), number(&load["source_ohm"]["u"]));
            assert!(u < 0.5 + 0.06 * ohm, "{scene} {seed}: ± {u} Ω");
            held += usize::from((ohm - truth).abs() <= u + 0.03);
            let [alone, loaded] = ["alone_v", "loaded_v"].map(|key| number(&load[key]["value"]));
            let by_ohms_law = alone / (1.0 + ohm / 181.5);
            assert!((loaded - by_ohms_law).abs() < 0.01 * loaded, "{scene} {seed}: {load}");
        }
    }
    assert!(held >= 70, "{held} of 80");
}

/// A meter finds 26 V on both; a control that takes 0.15 A has 25.7 V of the one, and 19 V of the other.
#[test]
fn a_supply_that_sags_fails_and_only_by_the_load() {
    let good = live("live-good", &["--json"]);
    assert_eq!(good.status, 0);
    let control = &good.json()["supply_load"]["control"];
    assert_eq!((&control["verdict"], number(&control["current_a"])), (&"pass".into(), 0.15));
    let not_tested = |result: &Value| result["not_tested"].to_string();
    assert!(!not_tested(&good.json()).contains("under-the-controls-load"));

    let sags = live("live-sags", &["--json"]);
    assert_eq!(sags.status, 1);
    let left_v = number(&sags.json()["supply_load"]["control"]["here_v"]["value"]);
    let by_hand = 26.0 - 0.15 * before_the_jig_ohm("live-sags");
    assert!((left_v - by_hand).abs() < 0.4, "{left_v} V, by hand {by_hand}");
    assert!(live("live-sags", &[]).out.contains("sags"));

    let alone = live("live-sags", &["--no-load", "--json"]);
    assert_eq!(alone.status, 0);
    assert!(alone.json()["supply_load"].is_null());
    assert!(not_tested(&alone.json()).contains("under-the-controls-load"));
    let less = live("live-sags", &["--control-current", "0.05", "--json"]);
    assert_eq!(less.status, 0, "{}", less.out);
}

/// A check of the run says what it has in ohms; so much less is left at its far end.
#[test]
fn what_is_left_at_the_far_end() {
    let check = folder("far end of a supply").join("check.jsonl");
    let check = check.to_str().expect("UTF-8");
    runproof(&["check", "--simulate", "long-thin-run", "--save", check, "--touch", "never"]);
    let result = live("live-good", &["--at", "adapter", "--run", check, "--json"]).json();
    let control = &result["supply_load"]["control"];
    let run = Scene::built_in("long-thin-run").expect("built in").run;
    let by_hand =
        2.0 * run.length_m * run.ohm_per_km / 1e3 * (1.0 + 0.00393 * (run.copper_c - 20.0));
    let (ohm, u) = (number(&control["run_ohm"]["value"]), number(&control["run_ohm"]["u"]));
    assert!((ohm - by_hand).abs() < u + 0.03 * by_hand, "{ohm} ± {u} Ω, by hand {by_hand}");
    let [here, far] = ["here_v", "far_v"].map(|key| number(&control[key]["value"]));
    assert!((here - far - 0.15 * ohm).abs() < 1e-9, "{here} and {far} V");
    let told = live("live-good", &["--at", "adapter", "--run", check]).out;
    assert!(told.replace('\n', " ").contains("far end"), "{told}");
}

/// What is no supply, or what nobody should load, is left alone; and a jig that has no load.
#[test]
fn it_is_put_on_only_where_it_may() {
    let folder = folder("loaded or not");
    let bare = folder.join("bare.toml");
    let text = include_str!("../../firmware/src/boards/simulated/scenes/live/live-good.toml");
    fs::write(&bare, text.to_owned() + "\n[jig]\nsupply_load = false\n").expect("written");
    let bare = bare.to_str().expect("UTF-8");
    for (scene, sheet, arguments, is_loaded) in [
        ("live-good", "service-24vac", &[][..], true),
        ("live-dc12", "service-12vdc", &[], true),
        ("live-good", "two-wire-bus", &[], false),
        ("live-no-supply", "service-24vac", &[], false),
        ("live-mains-on-data", "service-24vac", &[], false),
        ("live-industrial-mains", "service-24vac", &[], false),
        ("live-over-voltage", "service-24vac", &[], false),
        ("live-to-earth", "service-24vac", &[], false),
        ("live-good", "service-24vac", &["--watch", "--for", "1s"], false),
        (bare, "service-24vac", &[], false),
    ] {
        let file = folder.join("capture.jsonl");
        let _none = fs::remove_file(&file);
        let saved = ["--sheet", sheet, "--save", file.to_str().expect("UTF-8")];
        live(scene, &[&saved[..], arguments].concat());
        let capture = fs::read_to_string(&file).expect("saved");
        let loaded = capture.contains("supply-loaded");
        assert_eq!(loaded, is_loaded, "{scene} {sheet} {arguments:?}");
        let again = runproof(&["judge", file.to_str().expect("UTF-8"), "--sheet", sheet, "--json"]);
        assert_eq!(again.json()["supply_load"].is_null(), !loaded, "{scene}");
    }
}

/// Every line of it left out, one after the other: it is missed, or nothing is told of the load; never a pass that the
/// whole capture was not.
#[test]
fn what_is_missing_is_no_pass() {
    let folder = folder("cut loads");
    let file = folder.join("whole.jsonl");
    live("live-sags", &["--save", file.to_str().expect("UTF-8")]);
    let whole = fs::read_to_string(&file).expect("saved");
    let lines: Vec<&str> = whole.lines().collect();
    let of_load = lines.iter().enumerate().filter(|(_, line)| line.contains("supply-load"));
    let of_load: Vec<usize> = of_load.map(|(n, _)| n).skip(1).collect();
    assert!(of_load.len() > 48, "{}", of_load.len());
    for left_out in of_load {
        let kept = lines.iter().enumerate().filter(|(n, _)| *n != left_out);
        let text: String = kept.map(|(_, line)| format!("{line}\n")).collect();
        let file = folder.join("cut.jsonl");
        fs::write(&file, text).expect("written");
        let ran = runproof(&["judge", file.to_str().expect("UTF-8"), "--json"]);
        assert!(matches!(ran.status, 1 | 2), "without line {left_out}: {}", ran.out);
    }
}

#[test]
fn what_is_told_wrong_is_said() {
    let current = live("live-good", &["--control-current", "25"]);
    assert_eq!(current.status, 64, "{}", current.err);
    assert!(current.err.contains("0.001 to 3"), "{}", current.err);
    let file = folder("no ohms").join("live.jsonl");
    let file = file.to_str().expect("UTF-8");
    live("live-good", &["--save", file]);
    let run = live("live-good", &["--run", file]);
    assert!(run.err.contains("check --save"), "{}", run.err);
    assert_eq!((run.status, run.out.as_str()), (5, ""));
}

/// Both ends at the current that one of them sags at: 45 Ω and the run's own at 0.15 A are 6.75 V and a little.
#[test]
fn what_a_bad_joint_takes_is_told_between_both_ends() {
    let file = folder("sags between").join("adapter.jsonl");
    let file = file.to_str().expect("UTF-8");
    live("live-good", &["--at", "adapter", "--save", file]);
    let at_the_plate = ["--at", "plate", "--against", file];
    let result = live("live-sags", &[&at_the_plate[..], &["--json"]].concat()).json();
    let between = &result["other_end"];
    assert_eq!(number(&between["control_current_a"]), 0.15);
    assert_eq!(between["supply"], "less");
    let (lost, u) =
        (number(&between["supply_lost_v"]["value"]), number(&between["supply_lost_v"]["u"]));
    assert!((lost - 6.75).abs() < u, "{lost} ± {u} V");
    let told =
        live("live-sags", &at_the_plate).out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("tells their resistance"), "{told}");
    // What fails at one end is not cleared by the other.
    let told = live("live-common-missing", &at_the_plate).out;
    assert!(!told.contains("loses nothing that matters"), "{told}");
}
