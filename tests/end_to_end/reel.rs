//! `reel`: a shop's test of a reel of cable, its records, and the same result again later.

use std::fs;
use std::path::Path;

use runproof_firmware::boards::simulated::REELS;
use serde_json::{Value, json};

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof, runproof_keeping};

const LABEL: [&str; 4] = ["--gauge", "18awg-solid", "--surface", "plain"];
const WARMTH: [&str; 2] = ["--temperature", "18..22C"];
const MARKS: [&str; 2] = ["--marks", "100ft..346ft"];

fn on_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn all(scene: &str) -> Vec<&str> {
    let gauge: &[&str] = match scene {
        "reel-warming" => &["--gauge", "22awg-solid", "--surface", "plain"],
        _ => &LABEL,
    };
    let buried: &[&str] = if scene == "reel-buried" { &["--buried"] } else { &[] };
    [gauge, &WARMTH, &MARKS, buried].concat()
}

/// A built-in reel, and the same judged again from its capture.
fn tested(name: &str, scene: &str, told: &[&str]) -> (Ran, Value) {
    let file = folder(&format!("reel-{name}")).join("capture.jsonl");
    let file = file.to_str().expect("UTF-8");
    let reel = ["reel", "--simulate", scene, "--no-record", "--save", file];
    let ran = runproof(&[&reel, told].concat());
    let again = runproof(&["judge", file]);
    assert_eq!((again.status, &again.out), (ran.status, &ran.out), "{}", ran.err);
    (ran, runproof(&["judge", file, "--json"]).json())
}

fn kinds(result: &Value) -> Vec<&str> {
    let findings = result["findings"].as_array().expect("a list");
    findings.iter().filter_map(|one| one["kind"].as_str()).collect()
}

#[test]
fn every_scene_gets_its_verdict() {
    let expected = [
        ("reel-copper", 0, None),
        ("reel-copper-clad", 1, Some("copper-clad")),
        ("reel-warming", 2, Some("still-warming")),
        ("reel-buried", 2, Some("buried")),
        ("reel-open", 1, None),
        ("reel-short", 1, None),
        ("reel-thin", 1, Some("thinner-than-declared")),
    ];
    assert_eq!(expected.map(|(scene, ..)| scene), REELS.map(|(name, _)| name));
    for (scene, status, kind) in expected {
        for seed in ["1", "2", "3", "4", "5"] {
            let told = [&all(scene)[..], &["--seed", seed]].concat();
            let (ran, result) = tested(&format!("{scene}-{seed}"), scene, &told);
            assert_eq!(ran.status, status, "{scene} {seed}: {}", ran.out);
            assert_eq!(kinds(&result).first().copied(), kind, "{scene} {seed}: {}", ran.out);
            let wide = |line: &str| line.chars().count() > 80;
            assert!(!ran.out.lines().any(wide), "{}", ran.out);
        }
    }
    let open = tested("open", "reel-open", &all("reel-open")).1;
    assert_eq!(open["run"]["findings"][0]["kind"], "open");
    assert_eq!(open["conductors"][2]["reason"], "open");
    let short = tested("short", "reel-short", &all("reel-short")).1;
    assert_eq!(short["run"]["findings"][0]["kind"], "short");
}

#[test]
fn a_pass_says_how_long_and_of_what() {
    let (ran, result) = tested("words", "reel-copper", &all("reel-copper"));
    let told = on_one_line(&ran.out);
    for said in [
        "PASS: all four conductors are whole, apart, and of the copper that was declared",
        "by resistance the same within both intervals.",
        "of copper sizes 18 AWG solid fits.",
        "copper, by resistance and marks, of cores as thick as declared.",
        "standard: ASTM B258",
        "what is listed for control wiring is of copper",
        "never clip this jig to a cable that is installed",
    ] {
        assert!(told.contains(said), "{said}: {told}");
    }
    let metres = &result["length_m"];
    let [least, most] = ["least", "most"].map(|key| metres[key].as_f64().expect("a length"));
    assert!((least..most).contains(&75.0) && most - least < 7.0, "{metres}");
    assert_eq!(result["material"]["by"], json!(["marks"]));
    assert_eq!(result["conductors"].as_array().map(Vec::len), Some(4));
    let metric = runproof(
        &[&["reel", "--simulate", "reel-copper", "--units", "metric"][..], &all("reel-copper")]
            .concat(),
    );
    assert!(metric.out.contains("Ω/km") && !metric.out.contains("/kft"), "{}", metric.out);
    let waited = result["warming"]["apart_s"].as_f64().expect("two readings");
    assert!((119.0..125.0).contains(&waited), "{waited}");
}

/// Whatever is not told, nothing passes without it; and what is missing is named.
#[test]
fn missing_data_never_passes() {
    for (name, told, kind) in [
        ("temperature", [&LABEL[..], &MARKS].concat(), "temperature-not-told"),
        ("marks", [&LABEL[..], &WARMTH].concat(), "material-not-told"),
        ("gauge", [&WARMTH[..], &MARKS].concat(), "gauge-not-declared"),
        ("twice", [&all("reel-copper")[..], &["--apart", "0s"]].concat(), "not-read-twice"),
        ("nothing", vec![], "temperature-not-told"),
    ] {
        let (ran, result) = tested(&format!("without-{name}"), "reel-copper", &told);
        assert_eq!(ran.status, 2, "{name}: {}", ran.out);
        assert!(kinds(&result).contains(&kind), "{name}: {:?}", kinds(&result));
        let verdicts = result["conductors"].as_array().expect("four");
        assert!(verdicts.iter().all(|one| one["verdict"] == "cannot-tell"), "{name}");
        if ["temperature", "gauge", "twice", "nothing"].contains(&name) {
            assert_eq!(result["length_m"], Value::Null, "{name}");
        }
    }
    let told = [&LABEL[..], &WARMTH].concat();
    let (ran, _) = tested("apart", "reel-copper-clad", &told);
    assert_eq!(ran.status, 2, "without a second quantity it is short copper as well: {}", ran.out);
    let told = on_one_line(&ran.out);
    assert!(told.contains("length and material cannot be told apart"), "{told}");
}

/// 75 m of the simulated four cores: as copper, 27 lb/kft; and as copper-clad aluminium, some 15.
#[test]
fn weight_tells_the_metal_without_marks() {
    let told = [&LABEL[..], &WARMTH, &["--tare", "2kg"]].concat();
    let cable = ["--cable-weight", "27lb/kft"];
    let of = |name: &str, scene: &str, more: &[&str]| {
        tested(&format!("weight-{name}"), scene, &[&told[..], more].concat())
    };
    let (ran, result) = of("copper", "reel-copper", &[&["--weight", "5.0kg"][..], &cable].concat());
    assert_eq!(ran.status, 0, "{}", ran.out);
    assert_eq!(result["material"]["told"], "copper");
    assert_eq!(result["material"]["by"], json!(["weight"]));
    // The same weight, and nothing of the cable's own: copper cannot be shown by it.
    assert_eq!(of("bare", "reel-copper", &["--weight", "5.0kg"]).0.status, 2);
    let (ran, result) = of("clad", "reel-copper-clad", &["--weight", "3.7kg"]);
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert_eq!(kinds(&result), ["lighter-than-copper"]);
    let both = [&["--weight", "3.7kg"][..], &cable, &MARKS].concat();
    let (ran, result) = of("both", "reel-copper-clad", &both);
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert_eq!(result["material"]["by"], json!(["marks", "weight"]));
    let (ran, result) =
        of("contradiction", "reel-copper", &[&["--weight", "3.7kg"][..], &cable, &MARKS].concat());
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert!(kinds(&result)[0] != "copper-clad", "{:?}", kinds(&result));
}

#[test]
fn capacitance_is_a_length_as_well() {
    let told = [&LABEL[..], &WARMTH, &["--capacitance", "105pF/m"]].concat();
    let (ran, result) = tested("capacitance", "reel-copper-clad", &told);
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert_eq!(result["material"]["by"], json!(["capacitance"]));
    let buried = ["--buried", "--capacitance", "105pF/m"];
    let (ran, result) = tested("buried", "reel-buried", &buried);
    assert_eq!(ran.status, 2, "{}", ran.out);
    let metres = &result["by_capacitance_m"];
    let [least, most] = ["least", "most"].map(|key| metres[key].as_f64().expect("a length"));
    assert!(least < 75.0 && 75.0 < most && most - least < 12.0, "{metres}");
    let told = on_one_line(&ran.out);
    assert!(told.contains("Not tested: whether its cores are whole"), "{told}");
}

/// A reel's record is judged again as it was; its length goes down with each cut, and where it went up that is told.
#[test]
fn a_reels_lengths_are_kept_under_its_id() {
    let data = folder("reel-history");
    let kept = |scene: &str, more: &[&str]| {
        let reel = [&["reel", "--simulate", scene, "--reel", "R-7"][..], &LABEL, &WARMTH].concat();
        runproof_keeping(&data, &[&reel[..], more].concat())
    };
    let cut = data.join("cut.toml");
    let (_, whole) = REELS[0];
    fs::write(&cut, whole.replace("length_m = 75.0", "length_m = 40.0")).expect("written");
    let first = kept("reel-copper", &MARKS);
    assert_eq!(first.status, 0, "{}", first.out);
    let cut = kept(cut.to_str().expect("UTF-8"), &["--marks", "100ft..231ft"]);
    assert_eq!(cut.status, 0, "{}", cut.out);
    assert!(on_one_line(&cut.out).contains("when it was tested last: 1"), "{}", cut.out);
    let grown = kept("reel-copper", &MARKS);
    assert_eq!(grown.status, 0, "a remark: {}", grown.out);
    assert!(on_one_line(&grown.out).contains("it is longer than it was"), "{}", grown.out);
    runproof_keeping(&data, &["reel", "--simulate", "reel-copper", "--reel", "R-8"]);

    let history = runproof_keeping(&data, &["reel", "--history", "R-7"]);
    assert_eq!(history.status, 0, "{}", history.err);
    assert_eq!(history.out.matches("PASS").count(), 3, "{}", history.out);
    assert_eq!(history.out.matches(", longer").count(), 1, "{}", history.out);
    let history = runproof_keeping(&data, &["reel", "--history", "R-7", "--json"]).json();
    let longer: Vec<_> =
        history["tests"].as_array().expect("a list").iter().map(|one| &one["longer"]).collect();
    assert_eq!(longer, [false, false, true]);

    let list = runproof_keeping(&data, &["records", "--kind", "reel", "--reel", "R-7"]).out;
    assert!(list.contains("reel R-7") && !list.contains("R-8"), "{list}");
    let shown = runproof_keeping(&data, &["records", "show", "1"]);
    let record_row = first.out.split("  record  ").next().expect("it");
    assert!(shown.out.starts_with(record_row), "{}\n{}", shown.out, first.out);
    let page = data.join("page.html");
    let report = runproof_keeping(&data, &["report", "1", "--to", page.to_str().expect("UTF-8")]);
    assert_eq!(report.status, 0, "{}", report.err);
    let page = fs::read_to_string(page).expect("a page");
    for said in ["PASS", "of copper sizes 18 AWG solid fits", "inner end", "reel R-7"] {
        assert!(page.contains(said), "{said}");
    }
    moved_to_another_computer(&data);
}

fn moved_to_another_computer(data: &Path) {
    let whole = data.join("whole.jsonl");
    let whole = whole.to_str().expect("UTF-8");
    let exported = runproof_keeping(data, &["records", "export", "--as", "whole", "--to", whole]);
    assert_eq!(exported.status, 0, "{}", exported.err);
    let other = folder("reel-other-computer");
    assert_eq!(runproof_keeping(&other, &["records", "import", whole]).status, 0);
    let history = runproof_keeping(&other, &["reel", "--history", "R-7"]);
    assert_eq!(history.out.matches("PASS").count(), 3, "{}", history.out);
    let capture = other.join("capture.jsonl");
    let capture = capture.to_str().expect("UTF-8");
    runproof_keeping(&other, &["records", "show", "1", "--save", capture]);
    let third = folder("reel-third-computer");
    assert_eq!(runproof_keeping(&third, &["records", "import", capture]).status, 0);
    let list = runproof_keeping(&third, &["records", "--kind", "reel"]).out;
    assert!(list.contains("PASS: all four conductors are whole"), "{list}");
}

#[test]
fn what_makes_no_sense_of_a_reel_is_refused() {
    let reel = ["reel", "--simulate", "reel-copper"];
    for (told, status, what, next) in [
        (&["--marks", "100"][..], 64, "the marks at both ends with their unit", ""),
        (&["--temperature", "22..18C"], 64, "the colder first", ""),
        (&["--temperature", "68"], 64, "say in which unit", ""),
        (&["--temperature", "68C"], 64, "are these °F", ""),
        (&["--apart", "30s"], 64, "2min at least", ""),
        (&["--weight", "31"], 64, "a weight with its unit", ""),
        (&["--weight", "3kg"], 64, "--tare", ""),
        (&["--weight", "3kg", "--tare", "4kg"], 64, "must be less than the whole reel", "--help"),
        (&["--wire-tolerance", "0"], 64, "wire_tolerance_percent", "read its label"),
        (&["--sheet", "two-wire-bus"], 64, "no use with the limit sheet", "choose"),
    ] {
        let ran = runproof(&[&reel[..], told].concat());
        assert_eq!(ran.status, status, "{told:?}: {}", ran.err);
        let err = on_one_line(&ran.err);
        assert!(err.contains(what) && err.contains(next), "{told:?}: {err}");
        assert!(ran.out.is_empty(), "{}", ran.out);
    }
    let file = folder("reel-elsewhere").join("reel.jsonl");
    let file = file.to_str().expect("UTF-8");
    runproof(&["reel", "--simulate", "reel-copper", "--no-record", "--save", file]);
    complains(&runproof(&["judge", file, "--gauge", "20awg"]), 64, "nothing is told beside");
    complains(&runproof(&["code", file]), 5, "there is no code for reels yet");
    complains(&runproof(&["explain", file]), 5, "of a reel");
    complains(&runproof(&["next", "--check", file]), 5, "is of a reel, and a run is needed");
    let data = folder("reel-none");
    runproof_keeping(&data, &["check", "--simulate", "good-run"]);
    complains(
        &runproof_keeping(&data, &["reel", "--history", "R-1"]),
        5,
        "no record of a reel R-1",
    );
}

#[test]
fn nothing_is_taken_for_copper_that_may_be_of_either() {
    let reel = |more: &[&str]| {
        let words = [&["reel", "--simulate", "reel-copper-clad"][..], &WARMTH, more].concat();
        runproof(&words)
    };
    // A maker's number is as true of a thicker core of copper-clad aluminium.
    let ran = reel(&["--ohm-per-length", "9.8ohm/kft", "--marks", "0ft..246ft"]);
    assert_eq!(ran.status, 2, "{}", ran.out);
    // Marks that are too far apart make it look like copper; its capacitance says otherwise.
    let far = ["--gauge", "18awg-solid", "--marks", "0ft..380ft"];
    assert_eq!(reel(&far).status, 0, "by marks alone nobody could know");
    let ran = reel(&[&far[..], &["--capacitance", "105pF/m"]].concat());
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert!(on_one_line(&ran.out).contains("does not fit together"), "{}", ran.out);
}
