//! A lot is declared, its units are looked at and tested, and it is decided by its plan.

use std::path::Path;

use serde_json::Value;

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof_keeping};

/// Eight units at an AQL of 2.5: letter A, from which table II-A points to C: 5, 0 and 1.
const OPEN: [&str; 9] = ["lot", "open", "R-1", "--units", "8", "--series", "reels", "--aql", "2.5"];

/// The lot is open, and its jig is proved.
fn opened(data: &Path, more: &[&str]) -> Ran {
    let proved = runproof_keeping(data, &["prove", "--simulate", "pieces"]);
    assert_eq!(proved.status, 0, "{}", proved.err);
    runproof_keeping(data, &[&OPEN[..], more].concat())
}

fn stands(data: &Path, lot: &str) -> Value {
    runproof_keeping(data, &["lot", "show", lot, "--json"]).json()
}

/// Without its line breaks.
fn told(ran: &Ran) -> String {
    ran.out.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn sample(data: &Path, lot: &str) -> Vec<String> {
    let drawn = stands(data, lot)["stands"]["drawn"]["sample"].clone();
    drawn.as_array().expect("units").iter().map(Value::to_string).collect()
}

fn tested(data: &Path, scene: &str, lot: &str, unit: &str) -> Ran {
    let words = ["check", "--simulate", scene, "--yes", "--lot", lot, "--unit", unit];
    runproof_keeping(data, &words)
}

fn looked_at(data: &Path, lot: &str) {
    let ran = runproof_keeping(data, &["lot", "identity", lot, "1-8"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
}

#[test]
fn a_lot_is_accepted_when_every_unit_was_looked_at_and_its_sample_tested() {
    let data = folder("lot-accepted");
    let ran = opened(&data, &["--seed", "7"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(
        ran.out.starts_with("NOT YET: lot R-1: 8 units to look at, 5 units to test\n"),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("code letter A, where the table points to C"), "{}", ran.out);
    // By the algorithm that the library states, with the seed 7, worked out beside it.
    assert_eq!(sample(&data, "R-1"), ["3", "4", "5", "7", "8"]);
    looked_at(&data, "R-1");
    for unit in sample(&data, "R-1") {
        assert_eq!(stands(&data, "R-1")["decision"], "not-yet");
        let ran = runproof_keeping(&data, &["lot", "close", "R-1", "--disposition", "stock"]);
        complains(&ran, 2, "cannot be decided yet");
        let ran = tested(&data, "good-run", "R-1", &unit);
        assert_eq!(ran.status, 0, "{}", ran.err);
        assert!(ran.out.contains("acceptance-24vac"), "the lot says by which sheet: {}", ran.out);
    }
    let ran = runproof_keeping(&data, &["lot", "show", "R-1"]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    assert!(ran.out.starts_with("ACCEPT: lot R-1: no unit of the sample failed"), "{}", ran.out);
    assert!(ran.out.contains("  SIMULATED "), "{}", ran.out);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);
    let ran = runproof_keeping(&data, &["lot", "close", "R-1", "--disposition", "put into stock"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(told(&ran).contains("decided for good: put into stock"), "{}", ran.out);
    complains(&tested(&data, "good-run", "R-1", "2"), 5, "was decided: put into stock");
    let list = runproof_keeping(&data, &["lot"]).out;
    assert!(list.contains("ACCEPT") && list.contains("closed"), "{list}");
}

#[test]
fn a_unit_that_failed_rejects_and_no_later_pass_takes_it_back() {
    let data = folder("lot-rejected");
    opened(&data, &[]);
    looked_at(&data, "R-1");
    let unit = sample(&data, "R-1").swap_remove(2);
    assert_eq!(tested(&data, "crossed-supply", "R-1", &unit).status, 1);
    let again = tested(&data, "good-run", "R-1", &unit);
    assert_eq!(again.status, 0);
    assert!(again.err.contains(&format!("unit {unit} counts as failed")), "{}", again.err);
    let drawn = sample(&data, "R-1");
    let other = (1..).map(|unit: u32| unit.to_string()).find(|unit| !drawn.contains(unit));
    let beside = tested(&data, "good-run", "R-1", &other.expect("a unit that is not drawn"));
    assert!(beside.err.contains("is not in the sample"), "{}", beside.err);
    let ran = runproof_keeping(&data, &["lot", "show", "R-1"]);
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert!(ran.out.starts_with("REJECT: lot R-1: 1 unit of the sample failed"), "{}", ran.out);
    // Three pieces and the lot are recorded before it.
    assert_eq!(
        runproof_keeping(&data, &["records", "void", "5", "--reason", "wrong wire"]).status,
        0
    );
    assert_eq!(stands(&data, "R-1")["decision"], "not-yet");
    assert_eq!(stands(&data, "R-1")["stands"]["sample"]["conforming"], 1);
    let told = runproof_keeping(&data, &["lot", "show", "R-1"]).out;
    assert!(told.contains("1 test that failed was taken out of it"), "{told}");
    assert!(told.contains("which is void: wrong"), "{told}");
}

#[test]
fn what_a_closed_lot_was_decided_by_stays() {
    let data = folder("lot-stays");
    opened(&data, &[]);
    looked_at(&data, "R-1");
    for unit in sample(&data, "R-1") {
        tested(&data, "good-run", "R-1", &unit);
    }
    let close = ["lot", "close", "R-1", "--disposition", "put into stock"];
    assert_eq!(runproof_keeping(&data, &close).status, 0);
    let record = |words: &[&str]| runproof_keeping(&data, &[&["records"][..], words].concat());
    complains(&record(&["void", "4", "--reason", "typing error"]), 5, "which was decided by it");
    complains(&record(&["add", "5", "--lot", "R-1", "--unit", "2"]), 5, "which was decided by it");
    runproof_keeping(&data, &["check", "--simulate", "crossed-supply", "--yes"]);
    complains(
        &record(&["add", "10", "--lot", "R-1", "--unit", "3"]),
        5,
        "was decided: put into stock",
    );
    assert_eq!(record(&["void", "5", "--reason", "it was another wire"]).status, 0);
    let told = runproof_keeping(&data, &["lot", "show", "R-1"]);
    assert_eq!(told.status, 2, "{}", told.out);
    assert!(told.out.starts_with("IN DOUBT: lot R-1: it was decided"), "{}", told.out);
    assert!(runproof_keeping(&data, &["lot"]).out.starts_with("IN DOUBT"));
}

#[test]
fn a_lot_that_is_sorted_says_what_comes_out() {
    let data = folder("lot-sorted");
    assert_eq!(runproof_keeping(&data, &["prove", "--simulate", "pieces"]).status, 0);
    let name = "it's $(id)";
    let words = ["lot", "open", name, "--units", "2", "--series", "leads", "--every-unit"];
    let told = runproof_keeping(&data, &words).out;
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("runproof lot identity 'it'\\''s $(id)' 1-2"), "{told}");
    runproof_keeping(&data, &["lot", "identity", name, "1-2"]);
    tested(&data, "good-run", name, "1");
    tested(&data, "crossed-supply", name, "2");
    let told = runproof_keeping(&data, &["lot", "show", name]);
    assert_eq!(told.status, 1);
    let words = told.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.starts_with("SORTED:")
            && words.contains("1 unit failed and to be taken out: number 2"),
        "{words}"
    );
}

#[test]
fn what_an_unproved_jig_measured_counts_for_nothing() {
    let data = folder("lot-unproved");
    assert_eq!(runproof_keeping(&data, &OPEN).status, 0);
    looked_at(&data, "R-1");
    for unit in sample(&data, "R-1") {
        tested(&data, "good-run", "R-1", &unit);
    }
    let ran = runproof_keeping(&data, &["lot", "show", "R-1"]);
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert!(ran.out.contains("by a jig that was not proved"), "{}", ran.out);
}

#[test]
fn a_miss_holds_the_lot() {
    let data = folder("lot-held");
    opened(&data, &[]);
    looked_at(&data, "R-1");
    let ran =
        runproof_keeping(&data, &["lot", "identity", "R-1", "2,5-6", "--missed", "print,weight"]);
    assert!(ran.out.starts_with("HOLD: lot R-1: 3 units are not"), "{}", ran.out);
    assert_eq!(runproof_keeping(&data, &["lot", "show", "R-1"]).status, 1);
    for unit in sample(&data, "R-1") {
        tested(&data, "good-run", "R-1", &unit);
    }
    assert_eq!(stands(&data, "R-1")["decision"], "hold", "no sample clears it");
    let ran = runproof_keeping(&data, &["lot", "close", "R-1", "--disposition", "sent back"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
}

/// Two rejected lots, and the next one is inspected tightened: of 8 at 2.5 % table II-B points to D: 8, 0 and 1.
#[test]
fn lots_of_a_series_tighten_the_next() {
    let data = folder("lot-series");
    assert_eq!(runproof_keeping(&data, &["prove", "--simulate", "pieces"]).status, 0);
    for lot in ["R-1", "R-2"] {
        let words = [&["lot", "open", lot][..], &OPEN[3..]].concat();
        assert_eq!(runproof_keeping(&data, &words).status, 0);
        tested(&data, "crossed-supply", lot, &sample(&data, lot)[0]);
        assert_eq!(
            runproof_keeping(&data, &["lot", "close", lot, "--disposition", "sorted"]).status,
            1
        );
    }
    let third = runproof_keeping(&data, &[&["lot", "open", "R-3"][..], &OPEN[3..]].concat());
    let told = third.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("tightened inspection, code letter A, where the table points to D"),
        "{told}"
    );
    assert_eq!(sample(&data, "R-3").len(), 8);
    let other = ["lot", "open", "R-4", "--units", "8", "--series", "leads", "--aql", "2.5"];
    let told = runproof_keeping(&data, &other).out;
    assert!(told.split_whitespace().collect::<Vec<_>>().join(" ").contains("normal inspection"));
}

#[test]
fn eight_of_forty_find_one_bad_reel_once_in_five() {
    let data = folder("lot-finds");
    let words = [
        "lot", "open", "R-9", "--units", "40", "--series", "reels", "--limit", "25%", "--risk",
        "7.7%",
    ];
    let ran = runproof_keeping(&data, &words);
    let told = told(&ran);
    assert!(told.contains("test 8; accept if none fails"), "{told}");
    assert!(
        told.contains("one bad unit among 40 is found by 20.0 % of all samples of 8"),
        "{told}"
    );
    let every = ["lot", "open", "L-1", "--units", "3", "--series", "leads", "--every-unit"];
    assert!(runproof_keeping(&data, &every).out.contains("3 units to test"));
}

#[test]
fn a_lot_as_a_page_and_as_a_record() {
    let data = folder("lot-page");
    opened(&data, &[]);
    let page = data.join("lot.html");
    let words = ["lot", "show", "R-1", "--to", page.to_str().expect("UTF-8")];
    assert_eq!(runproof_keeping(&data, &words).status, 2);
    let html = std::fs::read_to_string(&page).expect("a page");
    assert!(html.contains("<polyline") && html.contains("NOT YET"), "{html}");
    complains(&runproof_keeping(&data, &words), 6, "exists already");
    let shown = runproof_keeping(&data, &["records", "show", "4"]);
    assert!(shown.out.starts_with("NOT YET: lot R-1"), "{} {}", shown.out, shown.err);
    for command in ["report", "judge", "explain", "code"] {
        complains(&runproof_keeping(&data, &[command, "4"]), 5, "record 4 is a lot, not a test");
    }
}

#[test]
fn what_is_no_lot_is_told() {
    let data = folder("lot-wrong");
    let lot = |words: &[&str]| runproof_keeping(&data, &[&["lot"][..], words].concat());
    complains(&lot(&["show", "R-1"]), 5, "there is no lot `R-1`");
    complains(&tested(&data, "good-run", "R-1", "1"), 5, "there is no lot `R-1`");
    assert_eq!(opened(&data, &[]).status, 0);
    complains(&opened(&data, &[]), 5, "there is a lot `R-1` already");
    complains(&lot(&["identity", "R-1", "9"]), 64, "has 8 units, none is numbered 9");
    complains(&tested(&data, "good-run", "R-1", "9"), 64, "has 8 units, none is numbered 9");
    let live = ["live", "--simulate", "live-sound", "--lot", "R-1", "--unit", "1"];
    complains(&runproof_keeping(&data, &live), 64, "counts by another test");
    let other = [
        "check",
        "--simulate",
        "good-run",
        "--yes",
        "--lot",
        "R-1",
        "--unit",
        "1",
        "--sheet",
        "two-wire-bus",
    ];
    complains(
        &runproof_keeping(&data, &other),
        64,
        "are judged by the limit sheet acceptance-24vac",
    );
    complains(&lot(&["open", "x", "--units", "0", "--series", "s", "--every-unit"]), 64, "not 0");
    complains(
        &lot(&["open", "x", "--units", "1", "--series", "s", "--aql", "1"]),
        64,
        "no plan for a lot of 1",
    );
    complains(
        &lot(&["open", "x", "--units", "9", "--series", "s", "--aql", "65"]),
        64,
        "counts faults",
    );
    for wrong in ["2.0", "0", "-1", "x", "nan", "inf"] {
        let ran = lot(&["open", "x", "--units", "9", "--series", "s", &format!("--aql={wrong}")]);
        assert_eq!((ran.status, ran.out.as_str()), (64, ""), "{wrong}");
    }
    for wrong in ["0", "101", "x", ""] {
        let ran = lot(&["open", "x", "--units", "9", "--series", "s", &format!("--limit={wrong}")]);
        assert_eq!((ran.status, ran.out.as_str()), (64, ""), "{wrong}");
    }
    for more in [
        ["--every-unit", "--severity=reduced"],
        ["--every-unit", "--risk=5%"],
        ["--aql=1.0", "--risk=5%"],
        ["--limit=5%", "--level=II"],
        ["--limit=0.05", "--risk=5%"],
    ] {
        let ran = lot(&[&["open", "x", "--units", "90", "--series", "s"][..], &more].concat());
        assert_eq!((ran.status, ran.out.as_str()), (64, ""), "{more:?}");
    }
    assert_eq!(
        lot(&["open", "x", "--units", "9", "--series", "s"]).status,
        64,
        "a plan is asked for"
    );
}

#[test]
fn a_lot_by_resistance_takes_a_value_of_every_unit_and_no_other_fault() {
    let data = folder("lot-by-resistance");
    assert_eq!(runproof_keeping(&data, &["prove", "--simulate", "pieces"]).status, 0);
    let open = |lot: &str, more: &[&str]| {
        let words = ["lot", "open", lot, "--units", "90", "--series", "reels", "--by-resistance"];
        runproof_keeping(&data, &[&words[..], more].concat())
    };
    let risks = ["--good", "5%", "--bad", "40%"];
    for (lot, odd, decision) in [("R-1", "good-run", "accept"), ("R-2", "crossed-supply", "reject")]
    {
        assert_eq!(open(lot, &risks).status, 0);
        assert_eq!(runproof_keeping(&data, &["lot", "identity", lot, "1-90"]).status, 0);
        let sample = sample(&data, lot);
        assert!((4..20).contains(&sample.len()), "{sample:?}");
        for (n, unit) in sample.iter().enumerate() {
            assert_eq!(stands(&data, lot)["decision"], "not-yet", "{unit}");
            tested(&data, if n + 1 == sample.len() { odd } else { "good-run" }, lot, unit);
        }
        assert_eq!(stands(&data, lot)["decision"], decision);
    }
    let told = runproof_keeping(&data, &["lot", "show", "R-1"]).out;
    assert!(told.contains("standard deviations below it"), "{told}");
    complains(&open("x", &["--good", "5%", "--bad", "5%"]), 64, "a bad lot has more");
    complains(&open("x", &["--good", "1%", "--bad", "1.5%"]), 64, "measures");
    assert_eq!(open("x", &[]).status, 64, "what is good and bad is asked for");
}

#[test]
fn reels_make_a_lot_too() {
    let data = folder("lot-of-reels");
    assert_eq!(runproof_keeping(&data, &["prove", "--simulate", "pieces"]).status, 0);
    let words = [
        "lot",
        "open",
        "R-1",
        "--units",
        "1",
        "--series",
        "reels",
        "--every-unit",
        "--test",
        "reel",
        "--sheet",
        "reel",
    ];
    assert_eq!(runproof_keeping(&data, &words).status, 0);
    runproof_keeping(&data, &["lot", "identity", "R-1", "1"]);
    complains(&tested(&data, "good-run", "R-1", "1"), 64, "counts by another test, `reel`");
    let mut reel = vec!["reel", "--simulate", "reel-copper", "--lot", "R-1", "--unit", "1"];
    reel.extend(["--gauge", "18awg-solid", "--surface", "plain", "--temperature", "18..22C"]);
    reel.extend(["--marks", "100ft..346ft"]);
    let ran = runproof_keeping(&data, &reel);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert_eq!(stands(&data, "R-1")["decision"], "accept");
}
