//! PDFs and labels: what they are called, what they say, what is refused. What is in a PDF `tests/outside/check_papers.py` reads.

use std::fs;
use std::path::Path;

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof_keeping, runproof_keeping_in};

const HOSTILE: &str = "</text><script>alert(1)</script> & \"q\" 数据線\u{1b}[2J\u{fffe}";

fn check(data: &Path, scene: &str, more: &[&str]) -> Ran {
    runproof_keeping(data, &[&["check", "--simulate", scene, "--yes"][..], more].concat())
}

/// What is written on a drawing.
fn words(drawing: &str) -> Vec<String> {
    let texts = drawing.split("<text ").skip(1);
    let texts = texts.filter_map(|text| text.split_once('>')?.1.split_once("</text>"));
    texts.map(|(text, _)| text.to_owned()).collect()
}

#[test]
fn a_pdf_is_written_where_it_is_asked_for() {
    let here = folder("papers-pdf");
    check(&here, "crossed-supply", &["--job", HOSTILE, "--note", HOSTILE]);
    let report =
        |more: &[&str]| runproof_keeping_in(&here, &here, &[&["report", "1"][..], more].concat());
    let ran = report(&["--pdf"]);
    assert_eq!(ran.out, "the report is report-1.pdf\n", "{}", ran.err);
    complains(&report(&["--pdf"]), 6, "exists already");
    assert_eq!(report(&["--to", "by-name.PDF"]).status, 0);
    assert_eq!(report(&["--pdf", "--to", "told"]).status, 0);
    assert_eq!(report(&["--to", "page.html"]).status, 0);
    let bytes = |name: &str| fs::read(here.join(name)).expect("a file");
    for name in ["report-1.pdf", "by-name.PDF", "told"] {
        assert!(bytes(name).starts_with(b"%PDF-"), "{name}");
        assert_eq!(bytes(name), bytes("report-1.pdf"), "the same says the same: {name}");
    }
    assert!(bytes("page.html").starts_with(b"<!DOCTYPE html>"));
    let ran = runproof_keeping_in(&here, &here, &["report", "--all-of-job", HOSTILE, "--pdf"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
}

#[test]
fn a_label_says_what_its_record_says() {
    let here = folder("papers-label");
    check(&here, "good-run", &["--run-name", "attic 7"]);
    check(&here, "crossed-supply", &["--length", "100ft"]);
    check(&here, "good-run", &["--run-name", HOSTILE]);
    let label = |record: &str| {
        let name = format!("label-{record}.svg");
        let ran = runproof_keeping_in(&here, &here, &["label", record]);
        assert_eq!(ran.out, format!("the label is in {name}\n"), "{}", ran.err);
        words(&fs::read_to_string(here.join(name)).expect("a label"))
    };
    let told = label("1");
    assert_eq!(&told[..3], ["PASS", "SIMULATED", "attic 7"], "{told:?}");
    assert_eq!(&label("2")[..4], ["FAIL", "SIMULATED", "record 2", "100 ft, as told"]);
    let hostile = label("3");
    assert!(hostile.iter().all(|word| !word.contains(['<', '\u{1b}'])), "{hostile:?}");
    runproof_keeping(&here, &["records", "void", "1", "--reason", "wrong wire"]);
    fs::remove_file(here.join("label-1.svg")).expect("it was there");
    assert_eq!(&label("1")[..3], ["VOID", "SIMULATED", "attic 7"], "it no longer passes");
}

#[test]
fn labels_stand_on_sheets() {
    let here = folder("papers-sheets");
    let run = |words: &[&str]| runproof_keeping_in(&here, &here, words);
    run(&["lot", "open", "R-1", "--units", "9", "--series", "reels", "--every-unit"]);
    complains(&run(&["label", "--lot", "R-1"]), 5, "no unit of the lot R-1 was tested yet");
    complains(&run(&["label", "--lot", "R-2"]), 5, "no lot `R-2`");
    for (unit, scene) in [("1", "good-run"), ("2", "crossed-supply"), ("2", "good-run")] {
        check(&here, scene, &["--lot", "R-1", "--unit", unit]);
    }
    assert_eq!(run(&["label", "--lot", "R-1", "--paper", "a4"]).status, 0);
    let sheet = words(&fs::read_to_string(here.join("label-R-1.svg")).expect("a sheet"));
    let count = |word: &str| sheet.iter().filter(|one| *one == word).count();
    assert_eq!((count("PASS"), count("FAIL")), (1, 1), "what failed once is no pass: {sheet:?}");
    assert_eq!((count("R-1 unit 1"), count("JIG NOT PROVED")), (1, 2), "{sheet:?}");
    let ran = run(&["label", "2", "3", "4", "--sheet", "1x2", "--to", "two.svg"]);
    assert_eq!(ran.out, "labels are in two-1.svg\nlabels are in two-2.svg\n", "{}", ran.err);
    let off = ["label", "2", "--sheet", "7x1", "--pitch", "32x17mm"];
    complains(&run(&off), 64, "do not fit on that paper");
    let small = run(&["label", "2", "--size", "20x10mm"]);
    assert!(small.status == 64 && small.err.contains("nobody could read it"), "{}", small.err);
    complains(&run(&["label", "2", "--sheet", "2x2", "--pitch", "0x0mm"]), 64, "do not fit");
    complains(&run(&["label", "1"]), 5, "record 1 is");
    complains(&run(&["label", "99"]), 5, "neither a file nor a record 99");
    assert_eq!(run(&["records", "show", "2", "--save", "two.jsonl"]).status, 0);
    complains(&run(&["label", "two.jsonl"]), 5, "is no record");
}
