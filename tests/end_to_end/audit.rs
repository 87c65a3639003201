//! An audit: all that is on record of a jig, and what is not.

use std::fs;

use crate::bad_input::complains;
use crate::program::{folder, runproof_keeping};
use crate::prove::{pieces_with, proved};

#[test]
fn an_audit_tells_what_is_on_record_and_what_is_not() {
    let data = folder("audit");
    let run = |words: &[&str]| runproof_keeping(&data, words);
    complains(&run(&["audit", "--jig", "seed-1"]), 5, "nothing was recorded");
    assert_eq!(proved(&data, &pieces_with(&data, 0.001), &[]).status, 0);
    run(&["check", "--simulate", "good-run", "--yes"]);
    run(&["check", "--simulate", "crossed-supply", "--yes", "--job", "1047"]);
    run(&["check", "--simulate", "crossed-supply", "--yes"]);
    run(&["records", "void", "6", "--reason", "wrong wire"]);
    run(&["zero", "--simulate", "tail-on-clips"]);
    run(&["lot", "open", "R-1", "--units", "1", "--series", "reels", "--every-unit"]);
    run(&["check", "--simulate", "crossed-supply", "--yes", "--lot", "R-1", "--unit", "1"]);
    let told = run(&["audit", "--jig", "seed-1"]);
    assert_eq!(told.status, 0, "{}", told.err);
    assert!(told.out.lines().all(|line| line.chars().count() <= 80), "{}", told.out);
    let flat = told.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "PROVED: jig seed-1 read every known piece as stated",
        "check 1 2 0 1",
        "by the proofs on record the jig was never found out",
        "simulated; job 1047; said of it: what became of it is not on record",
        "not closed: no disposition is on record",
        "SHA-256 of its text",
        "the hash of the jig's firmware",
    ] {
        assert!(flat.contains(said), "{said} in {}", told.out);
    }
    let json = run(&["audit", "--jig", "seed-1", "--json"]).json();
    assert_eq!(json["counts"]["check"]["fail"], 2, "{json}");
    assert_eq!(json["tests"].as_array().map(Vec::len), Some(4));
    assert_eq!(json["zeros"].as_array().map(Vec::len), Some(1));
    assert!(json["in_doubt"].is_null(), "it was never found out: {json}");
    let capture = data.join("capture.jsonl");
    run(&["records", "show", "4", "--save", capture.to_str().expect("UTF-8")]);
    let shown = run(&["report", "4", "--to", data.join("4.html").to_str().expect("UTF-8")]);
    assert_eq!(shown.status, 0, "{}", shown.err);
    let sha256 = json["tests"][0]["capture_sha256"].as_str().expect("a hash");
    let page = fs::read_to_string(data.join("4.html")).expect("a page");
    assert!(page.contains(&sha256[..32]) && page.contains(&sha256[32..]), "{sha256}");
    let page = data.join("audit.html");
    let to = ["audit", "--jig", "seed-1", "--to", page.to_str().expect("UTF-8")];
    assert_eq!(run(&to).status, 0);
    assert!(fs::read_to_string(page).expect("a page").contains("wrong wire"));
    complains(&run(&["audit", "--jig", "seed-9"]), 5, "nothing is on record of the jig seed-9");
    let soon = run(&["audit", "--jig", "seed-1", "--since", "soon"]);
    assert!(soon.status == 64 && soon.err.contains("give a day"), "{}", soon.err);
    let before = run(&["audit", "--jig", "seed-1", "--until", "2020-01-01"]);
    assert!(before.out.contains("no test of a run is on record in this time"), "{}", before.out);
}

#[test]
fn what_was_judged_before_a_jig_was_found_out_is_listed() {
    let data = folder("audit-out");
    assert_eq!(proved(&data, &pieces_with(&data, 0.001), &[]).status, 0);
    let check = ["check", "--simulate", "good-run", "--yes", "--job", "1047"];
    assert_eq!(runproof_keeping(&data, &check).status, 0);
    assert_eq!(proved(&data, &pieces_with(&data, 0.3), &[]).status, 1);
    let told = runproof_keeping(&data, &["audit", "--jig", "seed-1"]).out;
    assert!(told.starts_with("OUT: jig seed-1 is out"), "{told}");
    let flat = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("one test was measured after this jig was last proved"), "{told}");
    assert!(flat.contains("the piece `good` read otherwise than stated"), "{told}");
    let json = runproof_keeping(&data, &["audit", "--jig", "seed-1", "--json"]).json();
    assert_eq!(json["in_doubt"], serde_json::json!([4]));
    assert_eq!(json["tests"][0]["jig_was_proved"], false, "{json}");
}
