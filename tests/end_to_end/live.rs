//! A powered run: what is said of every built-in one, kept, judged again, watched, and read at both ends.

use std::fs;
use std::path::Path;

use runproof_firmware::boards::simulated::LIVE;
use serde_json::Value;

use crate::program::{Ran, folder, runproof, runproof_keeping};

/// The verdict, and findings that must be among those told; of a pass none that is more than a note.
const EXPECTED: [(&str, &str, &[&str]); 23] = [
    ("live-good", "pass", &[]),
    ("live-50hz", "pass", &[]),
    ("live-traffic", "pass", &[]),
    ("live-reversed", "fail", &["reversed-pair"]),
    ("live-no-supply", "fail", &["no-supply"]),
    ("live-low-supply", "fail", &["low-supply"]),
    ("live-sags", "fail", &["supply-sags"]),
    ("live-no-bias", "fail", &["pair-not-biased"]),
    ("live-pair-shorted", "fail", &["pair-loaded"]),
    ("live-four-terminators", "fail", &["pair-loaded"]),
    ("live-hum", "fail", &["pair-not-biased"]),
    ("live-ghost", "fail", &["no-supply"]),
    ("live-common-missing", "fail", &["common-missing"]),
    ("live-half-wave", "fail", &["other-supply"]),
    ("live-full-wave", "fail", &["other-supply"]),
    ("live-dc12", "fail", &["other-supply"]),
    ("live-second-phase", "fail", &["hazard", "second-source"]),
    ("live-second-frequency", "fail", &["second-source"]),
    ("live-to-earth", "fail", &["all-move-together"]),
    ("live-to-earth-grounded", "fail", &["all-move-together"]),
    ("live-over-voltage", "fail", &["hazard", "high-supply"]),
    ("live-mains-on-data", "fail", &["hazard"]),
    ("live-industrial-mains", "fail", &["hazard"]),
];

pub(crate) fn live(scene: &str, arguments: &[&str]) -> Ran {
    runproof(&[&["live", "--simulate", scene], arguments].concat())
}

pub(crate) fn words(told: &str) -> String {
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The widest line, in letters.
fn width(told: &str) -> usize {
    told.lines().map(|line| line.chars().count()).max().unwrap_or_default()
}

fn kinds(result: &Value) -> Vec<&str> {
    let findings = result["findings"].as_array().expect("a list");
    findings.iter().map(|one| one["kind"].as_str().expect("text")).collect()
}

#[test]
fn every_powered_scene_has_its_line() {
    let mut lines = EXPECTED.map(|(name, ..)| name);
    let mut scenes: Vec<&str> = LIVE.iter().map(|(name, _)| *name).collect();
    lines.sort_unstable();
    scenes.sort_unstable();
    assert_eq!(lines.to_vec(), scenes);
}

#[test]
fn every_powered_scene_is_told_and_told_again_from_its_capture() {
    let folder = folder("live captures");
    for seed in ["1", "2", "3"] {
        let zero = folder.join(format!("zero-{seed}.jsonl"));
        let zero = zero.to_str().expect("UTF-8");
        let taken = ["zero", "--simulate", "tail-on-clips", "--seed", seed, "--save", zero];
        assert_eq!(runproof(&taken).status, 0);
        for (name, verdict, told) in EXPECTED {
            let file = folder.join(format!("{name}-{seed}.jsonl"));
            let path = file.to_str().expect("UTF-8");
            let at = ["--seed", seed, "--at", "plate", "--zero", zero, "--save", path];
            let at = [&at[..], &["--json", "--no-record"]].concat();
            let ran = live(name, &at);
            let result = ran.json();
            assert_eq!(result["verdict"], verdict, "{name} of {seed}: {}", ran.out);
            let status = ["pass", "fail", "cannot-tell"].iter().position(|one| *one == verdict);
            assert_eq!(Some(ran.status as usize), status, "{name} of {seed}");
            let kinds = kinds(&result);
            assert!(told.iter().all(|kind| kinds.contains(kind)), "{name} of {seed}: {kinds:?}");
            let grave = |one: &Value| one["severity"] != "note";
            let graver = result["findings"].as_array().is_some_and(|all| all.iter().any(grave));
            assert_eq!(verdict != "pass", graver, "{name} of {seed}: {kinds:?}");
            let again = runproof(&["judge", path, "--json"]);
            assert_eq!((again.out, again.status), (ran.out, ran.status), "{name} of {seed}");
        }
    }
}

/// No screen claims that a run is without danger.
#[test]
fn nothing_is_called_safe_and_nothing_dead() {
    for (name, ..) in EXPECTED {
        let ran = live(name, &[]);
        let claims = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        let caution = "this jig is never the device that proves a run dead";
        assert!(claims.contains(caution), "{name}");
        let claims = claims.replace(caution, "").to_lowercase();
        for word in ["safe", "harmless", "no danger", " is dead", "proved dead", "without voltage"]
        {
            assert!(!claims.contains(word), "{name}: {word} in {claims}");
        }
        assert!(width(&ran.out) <= 80, "{name}:\n{}", ran.out);
    }
}

/// By every sheet, on every run, once and watched: no line is wider than a terminal, no headline says a thing twice.
#[test]
fn every_screen_fits_by_every_sheet() {
    for sheet in ["service-12vdc", "acceptance-24vac", "two-wire-bus", "made-up-lead"] {
        for (name, ..) in EXPECTED {
            let ran = live(name, &["--sheet", sheet]);
            assert!(width(&ran.out) <= 80, "{name} by {sheet}:\n{}", ran.out);
            let (headline, _) = ran.out.split_once("\n\n").expect("a table below it");
            let headline = words(headline);
            let mut said: Vec<&str> = headline.split("; and ").collect();
            let count = said.len();
            said.sort_unstable();
            said.dedup();
            assert_eq!(said.len(), count, "{headline}");
            assert_ne!(ran.status, 3, "{name} by {sheet}: {}", ran.err);
            if sheet == "two-wire-bus" {
                assert!(!ran.out.contains("data+") && !ran.out.contains("common"), "{}", ran.out);
                assert!(ran.out.contains("  wires 1, 2 "), "{}", ran.out);
            }
            if ["two-wire-bus", "made-up-lead"].contains(&sheet) {
                assert_ne!(ran.status, 0, "{name} by {sheet}");
                let ranges = words(&ran.out).matches("has no ranges for a powered run:").count();
                assert_eq!(ranges, 1, "{name}:\n{}", ran.out);
            }
        }
    }
    for (name, ..) in EXPECTED {
        let ran = live(name, &["--watch", "--for", "1s"]);
        assert!(width(&ran.out) <= 80, "{name}:\n{}", ran.out);
        let is_hazard = ran.out.contains("DANGER: ");
        assert_eq!(is_hazard, ran.out.contains("  DANGER         "), "{name}:\n{}", ran.out);
    }
}

#[test]
fn a_hazard_is_told_between_two_conductors() {
    for (name, told) in [
        ("live-mains-on-data", "at least 168 V between data+ and common"),
        ("live-industrial-mains", "at least 416 V between common and supply"),
        ("live-over-voltage", "up to 36.0 V between common and supply"),
        ("live-second-phase", "between data− and supply"),
    ] {
        let ran = live(name, &[]);
        let (headline, _) = ran.out.split_once("\n\n").expect("a table below it");
        assert!(words(headline).contains(told), "{name}: {headline}");
    }
}

/// A good powered run with one thing changed: no pass, the fault's own name first.
#[test]
fn what_is_joined_wrong_is_told() {
    let folder = folder("live joined wrong");
    let (_, good) = LIVE.into_iter().find(|(name, _)| *name == "live-good").expect("it");
    let open = "[[run.open]]\npost = 1\nat = 0.5\n\n[[source]]";
    let touch = "[[run.short]]\nposts = [1, 4]\nat = 0.5\nohm = 1.0\n\n[[source]]";
    let (arrives, ac) = ("[1, 2, 3, 4]", "service-24vac");
    for (name, from, to, kind, sheet) in [
        ("cut", "[[source]]", open, "floats", "service-24vac"),
        ("bad-joint", "{ ohm = 0.6 }", "{ ohm = 3000.0 }", "supply-gives-way", "service-24vac"),
        ("exchanged", "[1, 2, 3, 4]", "[1, 3, 2, 4]", "pair-above-range", "service-24vac"),
        ("touch", "[[source]]", touch, "supply-on-data", ac),
        ("supply-crossed", arrives, "[4, 2, 3, 1]", "supply-elsewhere", ac),
        ("common-crossed", arrives, "[1, 2, 4, 3]", "supply-crossed-with-common", ac),
        ("backwards", "volts_rms = 26.0", "direct_v = -12.3", "low-supply", "service-12vdc"),
    ] {
        assert!(good.contains(from), "{from}");
        let scene = folder.join(format!("{name}.toml"));
        fs::write(&scene, good.replacen(from, to, 1)).expect("written");
        let scene = scene.to_str().expect("UTF-8");
        let ran = live(scene, &["--sheet", sheet, "--json"]);
        let result = ran.json();
        assert!(kinds(&result).contains(&kind), "{name}: {}", ran.out);
        assert!(!kinds(&result).contains(&"reversed-pair") || name == "exchanged", "{name}");
        assert_ne!(ran.status, 0, "{name}");
    }
    for (name, told) in [
        ("touch", "FAIL: the supply touches data+."),
        ("supply-crossed", "FAIL: the supply is on data+ instead of its own conductor."),
        ("common-crossed", "FAIL: supply and common are exchanged."),
    ] {
        let ran = live(folder.join(format!("{name}.toml")).to_str().expect("UTF-8"), &[]);
        assert!(ran.out.starts_with(told), "{name}: {}", ran.out);
        assert!(words(&ran.out).contains("lift both ends, and `runproof check`"), "{name}");
    }
    let backwards = folder.join("backwards.toml");
    let backwards = live(backwards.to_str().expect("UTF-8"), &["--sheet", "service-12vdc"]).out;
    let told = words(&backwards);
    assert!(
        told.contains("supply stands at −12.30 V against common: the two are exchanged"),
        "{told}"
    );
}

#[test]
fn a_zero_reads_the_voltmeter_when_the_key_is_taken_out() {
    let data = folder("live zero");
    let narrow = |data: &Path| {
        let ran = runproof_keeping(data, &["live", "--simulate", "live-good", "--json"]);
        let result = ran.json();
        let u = result["pair"]["bias_v"]["u"].as_f64().expect("a number");
        (result["zero"]["status"].as_str().expect("text").to_owned(), u)
    };
    let (status, without_v) = narrow(&data);
    assert_eq!(status, "none");
    let taken = runproof_keeping(&data, &["zero", "--simulate", "tail-on-clips"]);
    assert_eq!(taken.status, 0, "{}", taken.err);
    assert!(taken.out.contains("voltmeter      read as well"), "{}", taken.out);
    let (status, with_v) = narrow(&data);
    assert_eq!(status, "fresh");
    assert!(with_v < without_v && with_v < 0.015, "{with_v} V after {without_v} V");
    let none =
        runproof_keeping(&data, &["live", "--simulate", "live-good", "--zero", "none", "--json"]);
    assert_eq!(none.json()["zero"]["status"], "none");
    // With nobody there to take the key out, the plug alone is read.
    let alone =
        runproof_keeping(&folder("plug alone"), &["zero", "--simulate", "tail-on-clips", "--yes"]);
    assert!(alone.out.contains("voltmeter      not zeroed"), "{}", alone.out);
}

#[test]
fn a_watch_tells_the_least_and_the_most() {
    let ran = live("live-traffic", &["--watch", "--for", "2s"]);
    let readings = ran.out.lines().take_while(|line| !line.is_empty()).count();
    assert!((5..10).contains(&readings), "{readings} readings in 2 s:\n{}", ran.out);
    assert!(ran.out.contains(&format!("{readings} readings; supply 2")), "{}", ran.out);
    let lines = live("live-traffic", &["--watch", "--for", "2s", "--json"]).out;
    let (each, whole) = lines.split_at(lines.find("\n{\n").expect("a result at the end") + 1);
    assert_eq!(each.lines().count(), readings);
    for line in each.lines() {
        assert!(serde_json::from_str::<Value>(line).is_ok(), "{line}");
    }
    assert!(serde_json::from_str::<Value>(whole).is_ok());
}

#[test]
fn two_ends_are_laid_side_by_side() {
    let folder = folder("live ends");
    let at_adapter = folder.join("adapter.jsonl");
    let adapter = at_adapter.to_str().expect("UTF-8");
    assert_eq!(live("live-good", &["--at", "adapter", "--save", adapter]).status, 0);
    let plate = live("live-low-supply", &["--at", "plate", "--against", adapter, "--json"]).json();
    let lost = &plate["other_end"];
    assert_eq!(lost["places"], serde_json::json!(["adapter", "plate"]));
    let [from, to] = [0, 1].map(|n| lost["supply_v"][n]["value"].as_f64().expect("a number"));
    let lost_v = lost["supply_lost_v"]["value"].as_f64().expect("a number");
    assert!((from - to - lost_v).abs() < 1e-9 && lost_v > 1.0, "{lost}");
    let told = words(&live("live-low-supply", &["--at", "plate", "--against", adapter]).out);
    assert!(told.contains("at the adapter,") && told.contains("are lost between."), "{told}");
    assert!(told.contains("next: these volts are lost in supply and common"), "{told}");
}

#[test]
fn what_are_not_two_ends_of_one_run_is_not_compared() {
    let folder = folder("live no ends");
    let file = |name: &str| folder.join(name).to_str().expect("UTF-8").to_owned();
    let (adapter, nowhere, cut) = (file("adapter.jsonl"), file("nowhere.jsonl"), file("cut.jsonl"));
    live("live-good", &["--at", "adapter", "--save", &adapter]);
    live("live-good", &["--save", &nowhere]);
    fs::write(&cut, "{\"runproof\"").expect("written");
    for (at, against, what, next) in [
        ("adapter", &adapter, "both were read at the same end", "live --watch"),
        (
            "plate",
            &nowhere,
            "does not say at which end it was taken",
            "live --at plate --save FILE",
        ),
        ("plate", &cut, "is not a capture", "`runproof live --save` wrote"),
    ] {
        let ran = live("live-good", &["--at", at, "--against", against]);
        assert_eq!((ran.status, ran.out.as_str()), (5, ""), "{at} {against}: {}", ran.err);
        assert!(ran.err.contains(what) && ran.err.contains(next), "{}", ran.err);
    }
    // Without a place of its own nothing is begun.
    let placeless = live("live-good", &["--against", &adapter]);
    assert!(placeless.status != 0 && placeless.err.contains("--at"), "{}", placeless.err);
    let kinds = ["--at", "plate", "--against", &adapter];
    let told = words(&live("live-dc12", &kinds).out);
    assert!(told.contains("cannot be compared: the supply is of one kind at the one"), "{told}");
    assert!(!told.contains("are lost between"), "{told}");
    let json = live("live-dc12", &[&kinds[..], &["--json"]].concat()).json();
    assert_eq!((&json["other_end"], &json["not_compared"]), (&Value::Null, &"other-kind".into()));
}

#[test]
fn what_is_no_live_reading_is_refused() {
    let folder = folder("live refused");
    let check = folder.join("check.jsonl");
    let check = check.to_str().expect("UTF-8");
    runproof(&["check", "--simulate", "good-run", "--yes", "--save", check]);
    let against = live("live-good", &["--at", "plate", "--against", check]);
    assert_eq!(against.status, 5);
    assert!(against.err.contains("holds no reading of a live run"), "{}", against.err);
    let zero = live("live-good", &["--zero", check]);
    assert_eq!(zero.status, 5, "{}", zero.err);
    assert!(zero.err.contains("no zero of the jig's voltmeter"), "{}", zero.err);
    // Of a folder each file is judged by what it is; a live reading has no budgets to explain.
    let reading = folder.join("reading.jsonl");
    let reading = reading.to_str().expect("UTF-8");
    live("live-reversed", &["--save", reading]);
    let judged = runproof(&["judge", folder.to_str().expect("UTF-8")]);
    assert_eq!(judged.status, 1, "{}", judged.out);
    assert!(judged.out.contains("PASS        check.jsonl"), "{}", judged.out);
    assert!(judged.out.contains("reading.jsonl  the data pair is reversed."), "{}", judged.out);
    let lines = runproof(&["judge", folder.to_str().expect("UTF-8"), "--json"]).out;
    let last: Value = serde_json::from_str(lines.lines().last().expect("a line")).expect("JSON");
    assert_eq!(last["result"]["runproof_live"], 1);
    let explained = runproof(&["explain", reading]);
    assert_eq!(explained.status, 5, "{}", explained.out);
    // Nothing that was saved is overwritten.
    let again = live("live-good", &["--save", check]);
    assert_eq!(again.status, 6, "{}", again.err);
}
