//! A zero is taken once, found again, held to its jig and plug, and never stands in a check's way.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::program::{folder, runproof, runproof_keeping};

const ZERO: [&str; 4] = ["zero", "--simulate", "tail-on-clips", "--yes"];

fn checked(data: &Path, arguments: &[&str]) -> Value {
    let check = ["check", "--simulate", "good-run", "--yes", "--json"];
    runproof_keeping(data, &[&check[..], arguments].concat()).json()
}

fn expanded_ohm(result: &Value) -> f64 {
    result["conductors"][1]["expanded_uncertainty_ohm"].as_f64().expect("a number")
}

#[test]
fn a_zero_is_found_again_and_narrows_a_check() {
    let data = folder("zero kept");
    let plain = checked(&data, &[]);
    assert_eq!(plain["zero"], Value::Null);
    let taken = runproof_keeping(&data, &ZERO);
    assert_eq!(taken.status, 0, "{}", taken.err);
    assert!(taken.out.starts_with("ZERO: the end plug reads as it should."), "{}", taken.out);
    assert!(taken.out.contains("there is no earlier one"), "{}", taken.out);
    let zeroed = checked(&data, &[]);
    assert_eq!(zeroed["zero"]["used"], true, "{}", zeroed["zero"]);
    assert_eq!(zeroed["zero"]["again"], false, "{}", zeroed["zero"]);
    assert!(expanded_ohm(&zeroed) < expanded_ohm(&plain), "not narrower");
    assert_eq!(zeroed["verdict"], "pass");
    // Another jig, another plug, and whoever wants none.
    for other in [["--seed", "2"], ["--plug", "B"], ["--zero", "none"]] {
        assert_eq!(checked(&data, &other)["zero"], Value::Null, "{other:?}");
    }
}

#[test]
fn a_capture_takes_its_zero_along() {
    let folder = folder("zero saved");
    let (zero, capture) = (folder.join("zero.jsonl"), folder.join("run.jsonl"));
    let [zero, capture] = [&zero, &capture].map(|path| path.to_str().expect("UTF-8"));
    let taken = runproof(&[&ZERO[..], &["--save", zero]].concat());
    assert_eq!(taken.status, 0, "{}", taken.err);
    let check = ["check", "--simulate", "good-run", "--yes", "--zero", zero, "--save", capture];
    let check = [&check[..], &["--no-record"]].concat();
    let ran = runproof(&check);
    assert!(
        ran.out.contains("zero           less than a day old, the jig as warm as then."),
        "{}",
        ran.out
    );
    assert_eq!(runproof(&["judge", capture]).out, ran.out);
    let explained = runproof(&["explain", capture]).out;
    assert!(explained.contains("the contacts between tail and clips"), "{explained}");
    // Nothing that was saved is overwritten.
    let again = runproof(&[&ZERO[..], &["--save", zero]].concat());
    assert_eq!(again.status, 6, "{}", again.err);
    let other =
        runproof(&["check", "--simulate", "good-run", "--yes", "--seed", "2", "--zero", zero]);
    assert_eq!(other.status, 5, "{}", other.out);
    assert!(other.err.contains("is of jig seed-1"), "{}", other.err);
    let no_zero = runproof(&["check", "--simulate", "good-run", "--yes", "--zero", capture]);
    assert_eq!(no_zero.status, 5, "{}", no_zero.out);
    assert!(no_zero.err.contains("is no zero"), "{}", no_zero.err);
}

#[test]
fn what_is_no_zero_is_not_kept() {
    let data = folder("zero refused");
    for (scene, told) in [
        ("no-plug", "put the four clips of the plug's tail on the jig's clips"),
        ("powered-run", "there is voltage on the clips"),
    ] {
        let ran = runproof_keeping(&data, &["zero", "--simulate", scene, "--yes"]);
        assert_eq!(ran.status, 2, "{scene}: {}", ran.err);
        assert!(ran.err.contains(told), "{scene}: {}", ran.err);
    }
    let kept = fs::read_dir(data.join("runproof/zeros")).map(Iterator::count).unwrap_or_default();
    assert_eq!(kept, 0);
}

/// A file that is none, beside a good one.
#[test]
fn what_is_no_zero_in_the_folder_is_passed_over() {
    let data = folder("zero beside junk");
    assert_eq!(runproof_keeping(&data, &ZERO).status, 0);
    let zeros = data.join("runproof/zeros");
    fs::write(zeros.join("seed-1 1.jsonl"), "{\"cut").expect("written");
    fs::write(zeros.join("notes.txt"), [0xFF, 0xFE]).expect("written");
    fs::create_dir(zeros.join("old")).expect("made");
    assert_eq!(checked(&data, &[])["zero"]["used"], true);
}
