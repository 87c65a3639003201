//! Where a number's uncertainty comes from, and the rule that it is judged by.

use std::fs;

use serde_json::Value;

use crate::bad_input::complains;
use crate::program::{folder, runproof};

/// A capture of this scene.
fn capture(scene: &str, test: &str) -> String {
    let file = folder(&format!("explain-{test}")).join("capture.jsonl");
    let path = file.to_str().expect("UTF-8").to_owned();
    let ran = runproof(&["check", "--simulate", scene, "--save", &path]);
    assert!(file.exists(), "{}", ran.err);
    path
}

/// What is printed of each conductor adds up, as squares, to what is printed below it, and half of
/// the uncertainty behind ±.
#[test]
fn causes_add_up_to_the_uncertainty() {
    let path = capture("good-run", "sum");
    let ran = runproof(&["explain", &path]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let result: Value = runproof(&["judge", &path, "--json"]).json();
    let mut blocks = ran.out.split("\n\n").skip(1);
    for conductor in result["conductors"].as_array().expect("conductors") {
        let block = blocks.next().expect("a conductor");
        let milliohms: Vec<f64> = block
            .lines()
            .filter_map(|line| line.trim_start().split_once(" mΩ")?.0.parse().ok())
            .collect();
        let (together, causes) = milliohms.split_last().expect("causes");
        assert_eq!(causes.len(), 7, "{block}");
        let root = causes.iter().map(|one| one * one).sum::<f64>().sqrt();
        assert!((root - together).abs() < 0.2, "{block}");
        let u_ohm = conductor["expanded_uncertainty_ohm"].as_f64().expect("a number");
        let k = conductor["coverage_factor"].as_f64().expect("a number");
        assert!((1.65..=2.0).contains(&k), "{block}");
        assert!((1e-3 * k * together - u_ohm).abs() < 2e-4, "{block}");
        assert!(block.contains(&format!("k = {k:.2}")), "{block}");
        assert!(block.contains(" 3 Ω; the reading is ") || block.contains(" 50 Ω; the"), "{block}");
        assert!(conductor["conformance"].as_f64().is_some_and(|one| one > 0.9999), "{block}");
    }
    assert!(ran.out.contains("JCGM 106"), "{}", ran.out);
}

#[test]
fn what_has_no_number_says_why() {
    let ran = runproof(&["explain", &capture("open-supply", "open")]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("supply, post 4: no number (open)."), "{}", ran.out);
}

#[test]
fn what_is_no_capture_is_told() {
    let file = folder("explain-none").join("text");
    fs::write(&file, "{\"a\":").expect("written");
    let ran = runproof(&["explain", file.to_str().expect("UTF-8")]);
    complains(&ran, 5, "line 1: cut off before its end");
}

/// Common reads 0.68 Ω, known to 0.06 Ω, and is held against 0.72 Ω.
#[test]
fn a_sheet_chooses_its_decision_rule() {
    let path = capture("good-run", "rule");
    let sheet = runproof_interpret::limits::BUILT_IN[0].1;
    assert!(sheet.contains("value = 3\n") && sheet.contains("\"guarded\""));
    let near = sheet.replace("value = 3\n", "value = 0.72\n");
    let near = near.replacen("\"service-24vac\"", "\"near-the-limit\"", 1);
    let file = folder("explain-sheet").join("sheet.toml");
    let name = file.to_str().expect("UTF-8");
    let judged = |text: &str| {
        fs::write(&file, text).expect("written");
        let ran = runproof(&["judge", &path, "--sheet", name, "--json"]);
        assert!(ran.err.is_empty(), "{}", ran.err);
        (ran.status, ran.json())
    };
    let (status, result) = judged(&near);
    assert_eq!((status, &result["decision_rule"]), (2, &"guarded".into()), "{result}");
    let simple = near.replace("\"guarded\"", "\"simple\"");
    let (status, result) = judged(&simple);
    assert_eq!((status, &result["decision_rule"]), (0, &"simple".into()), "{result}");
    let wrong = near.replace("\"guarded\"", "\"lenient\"");
    fs::write(&file, wrong).expect("written");
    let ran = runproof(&["judge", &path, "--sheet", name]);
    complains(&ran, 5, "decision_rule");
}

#[test]
fn touches_are_told_one_by_one_and_together() {
    let ran = runproof(&["explain", &capture("rolled-splice", "touches")]);
    let words = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for told in [
        "touched here data+ and common: posts 1 and 3 met, at some 0.",
        "touched far data+ and common: posts 2 and 3 met",
        "they show the clips here: straight.",
        "they show the run: data+ arrives at data−, data− arrives at common, common arrives at data+.",
    ] {
        assert!(words.contains(told), "{told}\n{}", ran.out);
    }
    let ran = runproof(&["explain", &capture("clips-shifted", "clips")]);
    assert!(ran.out.contains("the clips here: clip 2 is on data+'s wire"), "{}", ran.out);
    let ran = runproof(&["explain", &capture("good-run", "untouched")]);
    assert!(!ran.out.contains("touched"), "{}", ran.out);
}

#[test]
fn a_folder_is_told() {
    let folder = folder("explain-folder");
    let ran = runproof(&["explain", folder.to_str().expect("UTF-8")]);
    complains(&ran, 5, "is a folder, and one file is needed");
}
