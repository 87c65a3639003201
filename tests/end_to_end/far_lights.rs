//! The verdict at the far end: what `check` says of it, and that nothing of it changes the result.

use std::fs;

use crate::program::{Ran, folder, runproof};

/// A check of a run whose key is turned over at a time.
fn check(name: &str, run: &str, turned_s: Option<f64>, arguments: &[&str]) -> Ran {
    let scene = folder(&format!("far-lights-{name}")).join("scene.toml");
    let turned = turned_s.map_or(String::new(), |at_s| format!("key_reversed_s = {at_s:?}\n"));
    let text = format!(
        "about = \"a key that is turned over\"\nplug = \"goes-in\"\n{turned}\n[run]\nlength_m = 30.0\n\
         ohm_per_km = 20.95\ncopper_c = 20.0\n{run}"
    );
    fs::write(&scene, text).expect("written");
    let scene = scene.to_str().expect("UTF-8");
    let check = ["check", "--simulate", scene, "--touch", "never", "--no-record"];
    runproof(&[&check[..], arguments].concat())
}

const STRAIGHT: &str = "arrives_at = [1, 2, 3, 4]\n";
const CROSSED: &str = "arrives_at = [1, 4, 3, 2]\n";

/// Both phases are over before.
const TURNED_S: f64 = 12.0;

fn told(ran: &Ran) -> String {
    ran.err.split_whitespace().collect::<Vec<_>>().join(" ")
}

const DRIVEN: &str = "its lights were driven with the verdict";

#[test]
fn the_result_comes_first_and_stays_as_it_is() {
    for (name, run, status) in [("straight", STRAIGHT, 0), ("crossed", CROSSED, 1)] {
        let ran = check(name, run, Some(TURNED_S), &[]);
        let without = check(name, run, None, &[]);
        assert_eq!((ran.status, without.status), (status, status), "{}{}", ran.out, ran.err);
        assert_eq!(ran.out, without.out);
        assert!(told(&ran).contains(DRIVEN), "{name}: {}", ran.err);
        assert!(told(&ran).contains("Then turn the key over"), "{name}: {}", ran.err);
        assert!(!told(&without).contains("turn the key over"), "{name}: {}", without.err);
        let json = check(name, run, Some(TURNED_S), &["--json"]);
        assert_eq!(
            (json.status, json.json()["sheet"]["name"].as_str()),
            (status, Some("service-24vac"))
        );
        assert!(told(&json).contains(DRIVEN), "{name}: {}", json.err);
    }
}

#[test]
fn a_key_that_is_not_turned_is_looked_for_only_as_long_as_told() {
    let ran = check("not-turned", STRAIGHT, None, &["--far-lights", "5s"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(told(&ran).contains("the key was not seen turned over"), "{}", ran.err);
    let ran = check("not-at-all", STRAIGHT, Some(TURNED_S), &["--far-lights", "0s"]);
    assert!(!told(&ran).contains("turn"), "{}", ran.err);
}

/// With one conductor open the other pair still shows it; past a short nobody knows where to.
#[test]
fn what_can_be_lit_is_told() {
    let open = "arrives_at = [1, 2, 3, 4]\nopen = [{ post = 4, at = 0.5 }]\n";
    let ran = check("open", open, Some(TURNED_S), &[]);
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert!(told(&ran).contains("Only the pair across 1 and 2 can light."), "{}", ran.err);
    assert!(told(&ran).contains(DRIVEN), "{}", ran.err);
    let short = "arrives_at = [1, 2, 3, 4]\nshort = [{ posts = [1, 3], at = 0.5, ohm = 0.2 }]\n";
    let ran = check("short", short, Some(TURNED_S), &[]);
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert!(told(&ran).contains("cannot be shown by the key's lights"), "{}", ran.err);
    assert!(!told(&ran).contains(DRIVEN), "{}", ran.err);
}

#[test]
fn voltage_after_the_result_is_told_and_changes_no_verdict() {
    let live = "arrives_at = [1, 2, 3, 4]\n\n[[source]]\nbetween = [4, 3]\nvolts_rms = 24.0\nhertz = 60.0\n\
                through = { ohm = 1.5 }\nfrom_s = 16.0\n";
    let ran = check("live", live, Some(TURNED_S), &[]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert!(told(&ran).contains("DANGER: voltage"), "{}", ran.err);
}

#[test]
fn a_test_to_earth_has_no_far_end() {
    let ran =
        runproof(&["check", "--simulate", "sound-to-earth", "--to-earth", "--far-lights", "5s"]);
    assert_eq!(ran.status, 64, "{}", ran.err);
}
