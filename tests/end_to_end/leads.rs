//! Made-up leads on the mated fixture: the operator only plugs in and out, and each lead is counted once.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof, runproof_keeping};

const LEADS: [&str; 7] = ["lead", "--simulate", "leads", "--gauge", "18awg", "--length", "5.5ft"];
const OPEN: [&str; 9] =
    ["lot", "open", "L-1", "--units", "24", "--series", "leads", "--every-unit", "--sheet"];

fn session(data: &Path, more: &[&str]) -> Ran {
    runproof_keeping(data, &[&LEADS[..], more].concat())
}

fn opened(name: &str) -> std::path::PathBuf {
    let data = folder(name);
    let ran = runproof_keeping(&data, &[&OPEN[..], &["made-up-lead"]].concat());
    assert!(ran.out.starts_with("NOT YET: lot L-1"), "{}", ran.err);
    data
}

fn lines(ran: &Ran) -> Vec<Value> {
    ran.out.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect()
}

fn stands(data: &Path) -> Value {
    runproof_keeping(data, &["lot", "show", "L-1", "--json"]).json()
}

/// What is said of a lead that is wrong like this.
fn said_of(fault: &str) -> &'static [&'static str] {
    match fault {
        "sound" => &[],
        "crossed" => &["crossed", "reversed-pair"],
        "open" => &["open"],
        "short" => &["short"],
        "high-resistance" => &["high-resistance"],
        _ => &["leakage"],
    }
}

#[test]
fn a_box_of_leads_is_told_lead_by_lead_and_counts_in_its_lot() {
    let data = opened("leads-session");
    let proved = runproof_keeping(&data, &["prove", "--simulate", "pieces"]);
    assert_eq!(proved.status, 0, "{}", proved.err);
    let ran = session(&data, &["--lot", "L-1", "--from", "3", "--json"]);
    assert_eq!(ran.status, 1, "some fail: {}", ran.err);
    let all = lines(&ran);
    assert_eq!(all.len(), 20);
    for (nth, line) in all.iter().enumerate() {
        assert_eq!(line["simulated"]["nth"], nth + 1, "none skipped, none twice");
        assert_eq!(line["lead"], nth + 3);
        let said = said_of(line["simulated"]["fault"].as_str().expect("a fault"));
        assert_eq!(line["verdict"] == "pass", said.is_empty(), "{line}");
        if let Some(fault) = line["fault"].as_str() {
            assert!(said.contains(&fault), "{line}");
        }
    }
    let last = all.last().expect("20");
    assert_eq!((&last["pass"], &last["fail"]), (&14.into(), &6.into()));
    let rate = last["leads_per_hour"].as_f64().expect("a rate");
    assert!((500.0..900.0).contains(&rate), "{rate}");
    let stand = stands(&data)["stands"]["sample"].clone();
    assert_eq!(stand["conforming"], 14, "{stand}");
    assert_eq!(session(&data, &["--lot", "L-1", "--count", "1", "--json"]).json()["lead"], 1);
}

/// Each fixture has a jig of its own, all are counted together, and hands that need not wait are quicker.
#[test]
fn one_person_works_at_two_fixtures() {
    let ran = session(&folder("leads-two"), &["--fixtures", "2", "--count", "16", "--json"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    let all = lines(&ran);
    let mut nths: Vec<_> = all.iter().map(|line| line["simulated"]["nth"].as_u64()).collect();
    nths.sort_unstable();
    nths.dedup();
    assert_eq!(nths.len(), 16, "none twice");
    assert!(nths.last().expect("16").expect("a number") <= 17, "one may be in the other fixture");
    let numbers: Vec<_> = all.iter().map(|line| line["lead"].as_u64()).collect();
    assert_eq!(numbers, (1..=16).map(Some).collect::<Vec<_>>());
    for fixture in [1, 2] {
        assert!(all.iter().filter(|line| line["fixture"] == fixture).count() >= 6);
    }
    for line in &all {
        let said = said_of(line["simulated"]["fault"].as_str().expect("a fault"));
        assert_eq!(line["verdict"] == "pass", said.is_empty(), "{line}");
    }
    let rate = all[15]["leads_per_hour"].as_f64().expect("a rate");
    assert!((1_000.0..1_500.0).contains(&rate), "{rate}");
    let words = session(&folder("leads-two-words"), &["--fixtures", "2", "--count", "3"]);
    assert!(words.out.contains("    1  at 1  PASS\n"), "{}", words.out);
    assert!(words.out.lines().chain(words.err.lines()).all(|line| line.chars().count() <= 80));
    let many = runproof(&[&LEADS[..], &["--fixtures", "5"]].concat());
    assert!(many.status == 64 && many.err.contains("1 to 4 fixtures"), "{}", many.err);
}

/// End A, and at the tone end B: slower, the same verdicts, and it says what it does not see.
#[test]
fn by_clips_it_works_too() {
    let data = folder("leads-clips");
    let ran = session(&data, &["--clips", "--json"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    let all = lines(&ran);
    assert_eq!(all.len(), 20);
    for (nth, line) in all.iter().enumerate() {
        assert_eq!(line["simulated"]["nth"], nth + 1, "none skipped, none twice");
        let said = said_of(line["simulated"]["fault"].as_str().expect("a fault"));
        assert_eq!(line["verdict"] == "pass", said.is_empty(), "{line}");
    }
    let rate = all[19]["leads_per_hour"].as_f64().expect("a rate");
    assert!((120.0..300.0).contains(&rate), "{rate}");
    let words = session(&data, &["--clips", "--count", "1"]);
    assert!(words.err.contains("exchanged clips look like a crossed lead"), "{}", words.err);
}

#[test]
fn the_station_speaks_in_trade_words_and_ends_with_its_sums() {
    let ran = runproof(&[&LEADS[..], &["--count", "11"]].concat());
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert!(ran.out.contains("    7  FAIL  "), "{}", ran.out);
    assert!(ran.out.contains("11 leads: 8 of 11 pass (72.7 %)"), "{}", ran.out);
    assert!(ran.out.contains("      1  short\n"), "{}", ran.out);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);
}

#[test]
fn what_is_missing_or_does_not_fit_is_told_before_anything_is_plugged_in() {
    complains(&runproof(&["lead", "--simulate", "leads"]), 64, "gauge and length");
    complains(&runproof(&LEADS[..5]), 64, "without the leads' length");
    let short = ["lead", "--simulate", "leads", "--gauge", "18awg", "--length", "0.2m"];
    complains(&runproof(&short), 64, "cannot be told from an empty socket");
    let words = ["lead", "--simulate", "laeds", "--gauge", "18awg", "--length", "5ft"];
    complains(&runproof(&words), 5, "no simulated session `laeds`");
    let data = folder("leads-wrong-lot");
    complains(&session(&data, &["--lot", "L-1"]), 5, "there is no lot `L-1`");
    let ran = runproof_keeping(&data, &[&OPEN[..], &["service-24vac"]].concat());
    assert!(ran.out.starts_with("NOT YET"), "{}", ran.err);
    complains(&session(&data, &["--lot", "L-1"]), 64, "not of made-up leads");
    complains(&runproof_keeping(&data, &["lead", "--undo"]), 5, "no lead was tested");
}

#[test]
fn a_lead_that_is_taken_back_counts_no_more_and_its_number_is_used_again() {
    let data = opened("leads-undo");
    assert_eq!(session(&data, &["--lot", "L-1", "--count", "4"]).status, 1);
    let ran = runproof_keeping(&data, &["lead", "--undo", "--lot", "L-1"]);
    assert_eq!(
        (ran.status, ran.out.as_str()),
        (0, "lead 4: taken back. Its number is used again.\n")
    );
    let left = stands(&data)["stands"]["sample"]["left"].clone();
    assert_eq!(left.to_string(), "[[4,24]]");
    let more = lines(&session(&data, &["--lot", "L-1", "--count", "2", "--json"]));
    let numbers: Vec<_> = more.iter().map(|line| &line["lead"]).collect();
    assert_eq!(numbers, [4, 5]);
    // Those that are of no lot have a last one of their own.
    assert_eq!(session(&data, &["--count", "2"]).status, 0);
    assert!(runproof_keeping(&data, &["lead", "--undo"]).out.starts_with("lead 2: taken back"));
    assert!(runproof_keeping(&data, &["lead", "--undo"]).out.starts_with("lead 1: taken back"));
    complains(&runproof_keeping(&data, &["lead", "--undo"]), 5, "no lead was tested");
}

#[test]
fn what_was_told_before_it_is_killed_is_kept() {
    let data = opened("leads-killed");
    let mut station = Command::new(env!("CARGO_BIN_EXE_runproof"))
        .args(LEADS)
        .args(["--lot", "L-1", "--json"])
        .env("XDG_DATA_HOME", &data)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut out = BufReader::new(station.stdout.take().expect("a pipe"));
    let mut told = String::new();
    for _ in 0..5 {
        told.clear();
        out.read_line(&mut told).expect("a line");
    }
    station.kill().expect("SIGKILL");
    station.wait().expect("it ended");
    let line: Value = serde_json::from_str(&told).expect("JSON");
    assert_eq!(line["lead"], 5);
    let exported = runproof_keeping(&data, &["records", "export", "--as", "json"]).out;
    let units = |unit: u32| exported.matches(&format!("\"unit\",\"value\":\"{unit}\"")).count();
    assert!((1..=5).all(|unit| units(unit) == 1), "{exported}");
}

#[test]
fn leads_that_are_not_as_told_end_the_session() {
    let data = folder("leads-longer");
    let words =
        ["lead", "--simulate", "leads", "--gauge", "18awg", "--length", "55ft", "--count", "4"];
    let ran = runproof_keeping(&data, &words);
    assert_eq!(ran.status, 2, "{}", ran.err);
    assert!(ran.err.contains("6 leads in a row were not shown to be in socket A"), "{}", ran.err);
    let none = [&words[..7], &["--count", "0"]].concat();
    assert_eq!(runproof_keeping(&data, &none).status, 64);
}
