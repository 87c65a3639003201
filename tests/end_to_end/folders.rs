//! A folder of captures, judged at once.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::bad_input::complains;
use crate::program::{folder, runproof};

/// A capture of each of these scenes, in a folder of this test's own.
fn captures(test: &str, scenes: &[&str]) -> String {
    let folder = folder(&format!("folder-{test}"));
    for scene in scenes {
        let file = folder.join(format!("{scene}.jsonl"));
        let path = file.to_str().expect("UTF-8");
        let ran = runproof(&["check", "--simulate", scene, "--save", path]);
        assert!(file.exists(), "{}", ran.err);
    }
    folder.to_str().expect("UTF-8").to_owned()
}

#[test]
fn each_capture_has_its_line_and_the_worst_is_the_exit_status() {
    let folder = captures("all", &["good-run", "open-supply", "no-plug"]);
    let ran = runproof(&["judge", &folder]);
    assert_eq!((ran.status, ran.err.as_str()), (1, ""));
    let lines: Vec<&str> = ran.out.lines().collect();
    assert_eq!(lines.len(), 4, "{}", ran.out);
    assert!(lines[0].starts_with("PASS        good-run.jsonl     all four"), "{}", ran.out);
    assert!(lines[1].starts_with("CANNOT TELL no-plug.jsonl      no end plug"), "{}", ran.out);
    assert!(lines[2].starts_with("FAIL        open-supply.jsonl  supply is open"), "{}", ran.out);
    assert_eq!(lines[3], "3 in all: 1 pass, 1 fail, 1 cannot tell.");
    fs::remove_file(Path::new(&folder).join("open-supply.jsonl")).expect("removed");
    assert_eq!(runproof(&["judge", &folder]).status, 2);
    fs::remove_file(Path::new(&folder).join("no-plug.jsonl")).expect("removed");
    assert_eq!(runproof(&["judge", &folder]).status, 0);
}

/// Alone and in the folder, under another sheet too, a capture has the same result.
#[test]
fn a_folder_says_of_each_what_it_says_alone() {
    let folder = captures("json", &["good-run", "staple-short"]);
    let against = ["--sheet", "made-up-lead", "--gauge", "18awg", "--length", "90ft", "--json"];
    let ran = runproof(&[&["judge", folder.as_str()][..], &against].concat());
    let mut files = vec![];
    for line in ran.out.lines() {
        let line: Value = serde_json::from_str(line).expect("a JSON object a line");
        let file = line["file"].as_str().expect("a name").to_owned();
        let path = Path::new(&folder).join(&file);
        let alone = runproof(&[&["judge", path.to_str().expect("UTF-8")][..], &against].concat());
        assert_eq!(line["result"], alone.json(), "{file}");
        assert_eq!(line["error"], Value::Null);
        files.push(file);
    }
    assert_eq!(files, ["good-run.jsonl", "staple-short.jsonl"]);
}

/// What is no capture is told, and keeps nothing else from being judged.
#[test]
fn a_file_that_is_no_capture_spoils_only_itself() {
    let folder = captures("mixed", &["good-run"]);
    fs::write(Path::new(&folder).join("notes.txt"), "re-clip\u{7} 2").expect("written");
    fs::write(Path::new(&folder).join("photo"), [0xff, 0xd8, 0xff]).expect("written");
    fs::write(Path::new(&folder).join(".hidden"), "x").expect("written");
    fs::create_dir(Path::new(&folder).join("inside")).expect("made");
    let ran = runproof(&["judge", &folder]);
    assert_eq!((ran.status, ran.err.as_str()), (5, ""));
    assert!(ran.out.contains("\nNOT JUDGED  notes.txt"), "{}", ran.out);
    assert!(ran.out.contains("line 1: not a JSON object."), "{}", ran.out);
    assert!(ran.out.contains("is not a text file."), "{}", ran.out);
    let totals = "3 in all: 1 pass, 0 fail, 0 cannot tell; 2 files could not be judged.\n";
    assert!(ran.out.ends_with(totals), "{}", ran.out);
}

#[test]
fn an_empty_folder_is_told() {
    let empty = folder("folder-empty");
    complains(&runproof(&["judge", empty.to_str().expect("UTF-8")]), 5, "there is no file in");
}

#[test]
fn what_is_true_of_one_run_is_not_told_of_a_folder() {
    let folder = captures("one-run", &["good-run"]);
    let colours = "data+=a,data-=b,common=c,supply=d";
    for told in [
        &["--lifted"][..],
        &["--cannot-lift", "far"],
        &["--near-colours", colours],
        &["--far-colours", colours],
        &["--other-end", "no-such-file"],
    ] {
        let ran = runproof(&[&["judge", folder.as_str()][..], told].concat());
        complains(&ran, 64, &format!("{} can be true of one run only", told[0]));
    }
    let wire = ["--gauge", "14awg", "--length", "90ft", "--cable-temp", "20C"];
    let ran = runproof(&[&["judge", folder.as_str()][..], &wire].concat());
    let told = "Told of every one of them: 14 AWG, 90 ft, a cable at 68 °F.\nCAUTION: ";
    assert!(ran.out.contains(told), "{}", ran.out);
}
