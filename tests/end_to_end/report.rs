//! Reports: a page that stands by itself, of a record or a capture, of a job, of before and after.

use std::fs;
use std::path::Path;

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof_keeping, runproof_keeping_in};

const HOSTILE: &str = "</title><script>alert(1)</script> & \"q\" 数据線\u{1b}[2J";

fn page(data: &Path, words: &[&str]) -> String {
    let to = data.join("page.html");
    let _before = fs::remove_file(&to);
    let all = [&["report"][..], words, &["--to", to.to_str().expect("UTF-8")]].concat();
    let ran = runproof_keeping(data, &all);
    assert_eq!(ran.status, 0, "{words:?}: {}", ran.err);
    fs::read_to_string(to).expect("a page")
}

fn check(data: &Path, scene: &str, more: &[&str]) -> Ran {
    runproof_keeping(data, &[&["check", "--simulate", scene][..], more].concat())
}

/// What a reader sees, on one line.
fn text(page: &str) -> String {
    let body = page.split("</style>").nth(1).expect("a body");
    let mut text = String::new();
    let mut in_tag = false;
    for c in body.chars() {
        match c {
            '<' => in_tag = true,
            '>' => {
                in_tag = false;
                text.push(' ');
            }
            c if !in_tag => text.push(c),
            _ => {}
        }
    }
    let text = text
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&amp;", "&");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_report_says_what_the_terminal_says() {
    let data = folder("report-same");
    for (n, scene) in [(1, "crossed-supply"), (2, "staple-short"), (3, "open-supply")] {
        let told = check(&data, scene, &["--gauge", "18awg", "--length", "100ft"]).out;
        let page = text(&page(&data, &[&n.to_string()]));
        let flat = told.split_whitespace().collect::<Vec<_>>().join(" ");
        let reason =
            flat.split(": ").nth(1).and_then(|rest| rest.split('.').next()).expect("a reason");
        assert!(page.contains(reason), "{reason} in {page}");
        for label in
            ["  found ", "  next ", "  could miss ", "  not tested ", "  told ", "  caution "]
        {
            let row = told
                .split(&format!("\n{label}"))
                .nth(1)
                .unwrap_or_else(|| panic!("{label} in {told}"));
            let row: Vec<&str> = row
                .lines()
                .enumerate()
                .take_while(|(n, line)| *n == 0 || line.starts_with("                 "))
                .map(|(_, line)| line.trim())
                .collect();
            assert!(page.contains(row.join(" ").trim()), "{row:?} in {page}");
        }
        let code = told.split("  read aloud     ").nth(1).and_then(|rest| rest.lines().next());
        assert!(page.contains(code.expect("a code")), "{page}");
        for limit in ["Limits: service-24vac 1.", "≤ 50 Ω", "common practice, no source"] {
            assert!(page.contains(limit), "{limit} in {page}");
        }
    }
}

#[test]
fn what_was_said_is_escaped() {
    let data = folder("report-hostile");
    check(&data, "good-run", &["--job", HOSTILE, "--note", HOSTILE]);
    let page = page(&data, &["1"]);
    assert!(!page.contains("<script") && !page.contains('\u{1b}'), "{page}");
    assert!(text(&page).contains(&HOSTILE.replace('\u{1b}', "?")), "{page}");
    assert!(page.len() < 300 << 10);
}

#[test]
fn before_and_after_names_what_changed() {
    let data = folder("report-before");
    check(&data, "crossed-supply", &[]);
    check(&data, "good-run", &[]);
    runproof_keeping(&data, &["live", "--simulate", "live-good"]);
    let told = text(&page(&data, &["2", "--before", "1"]));
    assert!(told.contains("Before FAIL, after PASS"), "{told}");
    assert!(told.contains("data−: arrives at supply before, data− after"), "{told}");
    assert!(
        told.contains("No longer found: data− arrives at supply, supply arrives at data−."),
        "{told}"
    );
    assert!(
        text(&page(&data, &["2", "--before", "2"])).contains("Nothing that was measured changed.")
    );
    assert!(text(&page(&data, &["3", "--before", "2"])).contains("These are two kinds of test"));
}

#[test]
fn a_job_has_all_its_runs_but_the_void_ones() {
    let data = folder("report-job");
    for scene in ["good-run", "crossed-supply", "no-plug"] {
        check(&data, scene, &["--job", "job 47"]);
    }
    runproof_keeping(&data, &["zero", "--simulate", "tail-on-clips", "--job", "job 47"]);
    runproof_keeping(&data, &["records", "void", "3", "--reason", "plug forgotten"]);
    let told = text(&page(&data, &["--all-of-job", "job 47"]));
    assert!(told.starts_with("2 results result verdict why run record 1 ✓ PASS "), "{told}");
    assert!(!told.contains("record 3"), "{told}");
    assert!(told.contains("SIMULATED a simulated run"), "{told}");
    let void = text(&page(&data, &["3"]));
    assert!(void.contains("VOID this record no longer counts: plug forgotten"), "{void}");
    complains(
        &runproof_keeping(&data, &["report", "--all-of-job", "48"]),
        5,
        "no record of the job 48",
    );
    complains(&runproof_keeping(&data, &["report", "4"]), 5, "record 4 is a zero");
}

/// A page of each kind of test, from captures alone, each in a file of its own name.
#[test]
fn captures_are_reported_as_well() {
    let here = folder("report-captures");
    let tests: [(&str, &[&str]); 4] = [
        ("two", &["check", "--simulate", "two-wire"]),
        ("earth", &["check", "--simulate", "nicked-to-conduit", "--to-earth", "--yes"]),
        ("live", &["live", "--simulate", "live-hum"]),
        ("danger", &["live", "--simulate", "live-over-voltage"]),
    ];
    for (name, test) in tests {
        let file = format!("{name}.jsonl");
        let save = ["--no-record", "--save", &file];
        runproof_keeping_in(&here, &here, &[test, &save].concat());
        let report = ["report", file.as_str()];
        let sheet: &[&str] = if name == "two" { &["--sheet", "two-wire-bus"] } else { &[] };
        let ran = runproof_keeping_in(&here, &here, &[&report, sheet].concat());
        assert_eq!(ran.out, format!("the report is report-{name}.html\n"), "{}", ran.err);
        let page = fs::read_to_string(here.join(format!("report-{name}.html"))).expect("a page");
        assert!(page.contains("<svg class=\"picture\"") && page.contains("<svg class=\"qr\""));
        let again = runproof_keeping_in(&here, &here, &[&report, sheet].concat());
        complains(&again, 6, "exists already");
    }
    assert!(
        text(&fs::read_to_string(here.join("report-danger.html")).expect("a page"))
            .contains("DANGER")
    );
    complains(&runproof_keeping(&here, &["report", "77"]), 5, "neither a file nor a record 77");
    let several = ["report", "1", "2", "--before", "3"];
    complains(&runproof_keeping(&here, &several), 64, "only one result has a before");
}
