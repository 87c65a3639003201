//! Each test leaves a record by itself; records are listed, shown, added to, voided, taken out and in.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof_keeping, runproof_keeping_in, runproof_under};

const HOSTILE: &str = "<script>alert(1)</script>, \"q\"\u{1b}[2J =1+1 数据 שלום";

fn text(path: &Path) -> &str {
    path.to_str().expect("UTF-8")
}

fn lines(ran: &Ran) -> Vec<Value> {
    ran.out.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect()
}

fn numbers(data: &Path, asked: &[&str]) -> Vec<i64> {
    let words = [&["records", "export", "--as", "json"][..], asked].concat();
    let ran = runproof_keeping(data, &words);
    assert_eq!(ran.status, 0, "{}", ran.err);
    lines(&ran).iter().map(|one| one["number"].as_i64().expect("a number")).collect()
}

#[test]
fn each_test_leaves_a_record_by_itself() {
    let data = folder("records-each");
    let about = [
        "--job",
        "1047",
        "--place",
        HOSTILE,
        "--operator",
        "bench 2",
        "--note",
        "a",
        "--note",
        "b",
    ];
    let check = [&["check", "--simulate", "crossed-supply"][..], &about].concat();
    let check = runproof_keeping(&data, &check);
    assert_eq!(check.status, 1);
    assert!(check.out.contains("\n  record         1 here, id "), "{}", check.out);
    let live = ["live", "--simulate", "live-reversed", "--json", "--job", "1047"];
    let live = runproof_keeping(&data, &live).json();
    assert_eq!(live["record"]["number"], 2);
    let earth = ["check", "--simulate", "nicked-to-conduit", "--to-earth", "--yes", "--json"];
    let earth = runproof_keeping(&data, &earth);
    assert_eq!(earth.json()["record"]["number"], 3, "{}", earth.err);
    assert_eq!(runproof_keeping(&data, &["zero", "--simulate", "tail-on-clips"]).status, 0);
    runproof_keeping(&data, &["check", "--simulate", "good-run", "--no-record"]);

    let rows = lines(&runproof_keeping(&data, &["records", "export", "--as", "json"]));
    let told: Vec<_> =
        rows.iter().map(|one| (one["kind"].as_str(), one["verdict"].as_str())).collect();
    assert_eq!(told[0], (Some("zero"), None));
    assert_eq!(told[1].0, Some("to-earth"));
    assert_eq!(told[2..], [(Some("live"), Some("fail")), (Some("check"), Some("fail"))]);
    assert!(rows.iter().all(|one| one["simulated"] == true && one["zone"] != ""));
    assert_eq!(rows[3]["found"][0], "crossed");
    assert_eq!(rows[3]["details"].as_array().map(Vec::len), Some(5));

    let list = runproof_keeping(&data, &["records"]).out;
    assert!(list.contains("FAIL: data− and supply are crossed."), "{list}");
    assert!(!list.contains('\u{1b}'), "what was said must not steer a terminal");
    let wide = |line: &str| line.chars().count() > 80 && !line.contains("records.sqlite3");
    assert!(!list.lines().any(wide), "{list}");
    assert_eq!(numbers(&data, &["--kind", "live"]), [2]);
    assert_eq!(numbers(&data, &["--job", "1047", "--verdict", "fail"]), [2, 1]);
    assert_eq!(numbers(&data, &["alert(1)"]), [1]);
    assert_eq!(numbers(&data, &["--since", "2001-01-01", "--until", "2001-12-31"]), [0; 0]);
    assert_eq!(numbers(&data, &["--not-simulated"]), [0; 0]);
}

#[test]
fn a_record_is_shown_as_it_was_judged() {
    let data = folder("records-shown");
    let sheet = data.join("own.toml");
    let own = include_str!("../../host/interpret/src/sheets/service-24vac.toml").replacen(
        "\"service-24vac\"",
        "\"our-own\"",
        1,
    );
    fs::write(&sheet, own).expect("written");
    let told = [
        "--gauge",
        "18awg",
        "--length",
        "100ft",
        "--near-colours",
        "data+=a,data-=b,common=c,supply=d",
    ];
    let check = ["check", "--simulate", "corroded-splice", "--sheet", text(&sheet)];
    let check = runproof_keeping(&data, &[&check[..], &told].concat());
    fs::remove_file(&sheet).expect("ours");
    let shown = runproof_keeping(&data, &["records", "show", "1"]);
    assert_eq!(shown.status, check.status);
    let result = check.out.split("\n  record  ").next().expect("a result");
    assert!(shown.out.starts_with(result), "{}\n{}", check.out, shown.out);
    assert!(shown.out.contains("limits our-own 1"), "{}", shown.out);

    let capture = data.join("capture.jsonl");
    let saved = ["records", "show", "1", "--save", text(&capture), "--save-sheet", text(&sheet)];
    assert_eq!(runproof_keeping(&data, &saved).status, check.status);
    let judge = [&["judge", text(&capture), "--sheet", text(&sheet)][..], &told].concat();
    let judged = runproof_keeping(&data, &judge);
    assert!(judged.out.starts_with(result), "{}", judged.out);
    complains(&runproof_keeping(&data, &saved), 6, "exists already");
    // A record stands wherever a capture is asked for.
    let by_number = [&["judge", "1", "--sheet", text(&sheet)][..], &told].concat();
    assert_eq!(runproof_keeping(&data, &by_number).out, judged.out);
    complains(
        &runproof_keeping(&data, &["explain", "9"]),
        5,
        "there is neither a file nor a record 9",
    );
}

#[test]
fn what_is_said_later_is_added() {
    let data = folder("records-added");
    runproof_keeping(&data, &["check", "--simulate", "good-run", "--job", "1047"]);
    runproof_keeping(&data, &["check", "--simulate", "good-run"]);
    let photo = data.join("hatch.png");
    fs::write(&photo, "").expect("written");
    let add =
        ["records", "add", "1", "--job", "1048", "--photo", text(&photo), "--note", "at the hatch"];
    assert_eq!(runproof_keeping(&data, &add).status, 0);
    assert_eq!(
        (numbers(&data, &["--job", "1048"]), numbers(&data, &["--job", "1047"])),
        (vec![1], vec![])
    );
    let shown = runproof_keeping(&data, &["records", "show", "1"]).out;
    let at = |row: &str| shown.find(row).unwrap_or_else(|| panic!("no {row} in:\n{shown}"));
    assert!(at("\n  job            said before: 1047") < at("\n  job            1048"));
    assert!(shown.contains("hatch.png"), "{shown}");
    let void = ["records", "void", "2", "--reason", "the wrong cable"];
    assert_eq!(runproof_keeping(&data, &void).status, 0);
    assert_eq!(numbers(&data, &["--not-void"]), [1]);
    let list = runproof_keeping(&data, &["records"]).out;
    assert!(list.contains("VOID the wrong cable"), "{list}");
    let shown = runproof_keeping(&data, &["records", "show", "2"]).out;
    assert!(shown.starts_with("VOID: this record no longer counts: the wrong cable\n"), "{shown}");

    complains(&runproof_keeping(&data, &["records", "add", "1"]), 64, "nothing to add was said");
    let void = ["records", "void", "1", "--reason", " "];
    complains(&runproof_keeping(&data, &void), 64, "nothing to add was said");
    let none = ["records", "add", "7", "--note", "x"];
    complains(&runproof_keeping(&data, &none), 5, "there is no record 7");
    let photo = ["records", "add", "1", "--photo", "no-such.png"];
    let photo = runproof_keeping(&data, &photo);
    assert_eq!(photo.status, 64);
    assert!(photo.err.contains("there is no such file"), "{}", photo.err);
}

#[test]
fn whole_records_go_to_another_computer() {
    let (data, other) = (folder("records-here"), folder("records-there"));
    for scene in ["good-run", "crossed-supply"] {
        runproof_keeping(&data, &["check", "--simulate", scene, "--place", HOSTILE]);
    }
    runproof_keeping(&data, &["live", "--simulate", "live-good"]);
    runproof_keeping(&data, &["records", "void", "1", "--reason", "a trial"]);
    let file = data.join("all.jsonl");
    let out = runproof_keeping(&data, &["records", "export", "--as", "whole", "--to", text(&file)]);
    assert_eq!(out.out, format!("3 records in {}\n", file.display()));
    let import = ["records", "import", text(&file)];
    assert!(runproof_keeping(&other, &import).out.ends_with("3 new, 0 were here.\n"));
    assert!(runproof_keeping(&other, &import).out.ends_with("0 new, 3 were here.\n"));
    let export = |data: &Path| {
        let mut rows = lines(&runproof_keeping(data, &["records", "export", "--as", "json"]));
        rows.iter_mut().for_each(|row| row["saved"] = Value::Null);
        rows
    };
    assert_eq!(export(&data), export(&other), "but for when they came");
    assert_eq!(
        runproof_keeping(&data, &["records", "show", "2", "--json"]).out,
        runproof_keeping(&other, &["records", "show", "2", "--json"]).out
    );
    // One of which the verdict was changed is not taken.
    let changed = data.join("changed.jsonl");
    let whole = fs::read_to_string(&file).expect("it");
    let passes = whole.replacen("\"verdict\":\"fail\"", "\"verdict\":\"pass\"", 1);
    assert_ne!(whole, passes);
    fs::write(&changed, passes).expect("written");
    let ran = runproof_keeping(&folder("records-changed"), &["records", "import", text(&changed)]);
    assert_eq!(ran.status, 5);
    assert!(ran.out.contains("says otherwise than what follows"), "{}", ran.out);
    // What is broken is told, and what stands before it is taken.
    let broken = data.join("broken.jsonl");
    fs::write(&broken, &whole[..whole.len() - 100]).expect("written");
    let third = folder("records-third");
    let ran = runproof_keeping(&third, &["records", "import", text(&broken)]);
    assert_eq!(ran.status, 5);
    assert!(ran.out.contains("line 3, is no record"), "{}", ran.out);
    assert!(ran.out.ends_with("2 new, 0 were here; 1 file could not be taken.\n"), "{}", ran.out);
}

#[test]
fn captures_are_taken_once_each() {
    let (data, files) = (folder("records-import"), folder("records-captures"));
    let save = |name: &str, command: &[&str]| {
        let path = files.join(name);
        runproof_keeping(&files, &[command, &["--no-record", "--save", text(&path)]].concat());
    };
    save("a-check", &["check", "--simulate", "cut-common"]);
    save("b-live", &["live", "--simulate", "live-no-supply"]);
    save("c-zero", &["zero", "--simulate", "tail-on-clips"]);
    fs::write(files.join("d-letter"), "hello").expect("written");
    let import = ["records", "import", text(&files), "--job", "mail of Tuesday"];
    let ran = runproof_keeping(&data, &import);
    assert_eq!(ran.status, 5);
    assert!(ran.out.contains("d-letter  not taken: "), "{}", ran.out);
    assert!(ran.out.ends_with("3 new, 0 were here; 1 file could not be taken.\n"), "{}", ran.out);
    assert_eq!(numbers(&data, &["--job", "mail of Tuesday"]).len(), 3);
    for (kind, verdict) in [("check", "fail"), ("live", "fail"), ("zero", "")] {
        let row = runproof_keeping(&data, &["records", "export", "--as", "json", "--kind", kind]);
        assert_eq!(lines(&row)[0]["verdict"].as_str().unwrap_or_default(), verdict, "{kind}");
    }
    let again = runproof_keeping(&data, &import).out;
    assert!(again.ends_with("0 new, 3 were here; 1 file could not be taken.\n"), "{again}");
}

/// The folder for records is none: what was measured goes into a file beside, from which it is taken later.
#[test]
fn what_cannot_be_kept_goes_to_a_file() {
    let here = folder("records-beside");
    let no_folder = here.join("a file");
    fs::write(&no_folder, "").expect("written");
    let check = ["check", "--simulate", "crossed-supply", "--job", "1047"];
    let ran = runproof_keeping_in(&here, &no_folder, &check);
    assert_eq!(ran.status, 1, "the verdict");
    assert!(ran.out.starts_with("FAIL: "), "{}", ran.out);
    assert!(!ran.out.contains("\n  record "), "{}", ran.out);
    let told = "runproof: the record could not be kept where records are: ";
    assert!(ran.err.contains(told), "{}", ran.err);
    let files = fs::read_dir(&here).expect("a folder").map(|file| file.expect("it").path());
    let beside = files.into_iter().find(|path| text(path).contains("unsaved-")).expect("a file");
    let path = beside.display().to_string();
    let path = if path.contains(' ') { format!("'{path}'") } else { path };
    assert!(ran.err.contains(&format!("runproof records import {path}")), "{}", ran.err);
    let ran = runproof_keeping(&here, &["records", "import", text(&beside)]);
    assert!(ran.out.ends_with("1 new, 0 were here.\n"), "{}", ran.out);
    assert_eq!(numbers(&here, &["--job", "1047"]), [1]);
}

#[test]
fn a_store_that_is_none_is_left_and_told() {
    let data = folder("records-damaged");
    let place = data.join("runproof").join("records.sqlite3");
    fs::create_dir_all(place.parent().expect("a folder")).expect("made");
    fs::write(&place, "a letter to the workshop\n".repeat(100)).expect("written");
    complains(&runproof_keeping(&data, &["records"]), 5, "is damaged, or no store of records");
    let ran = runproof_keeping(&data, &["check", "--simulate", "good-run"]);
    assert_eq!(ran.status, 0);
    assert!(ran.err.contains("has the record, whole"), "{}", ran.err);
    assert!(fs::read_to_string(&place).expect("it").starts_with("a letter"));
}

#[test]
fn before_the_first_record_there_is_none() {
    let data = folder("records-none");
    assert!(
        runproof_keeping(&data, &["records"]).out.starts_with("No record on this computer yet")
    );
    complains(&runproof_keeping(&data, &["records", "show", "1"]), 5, "there is no record 1");
    complains(&runproof_keeping(&data, &["records", "export"]), 5, "nothing was recorded");
    assert!(!data.join("runproof").exists(), "asking makes none");
}

/// What is left of it is told as a record, not as something else.
#[test]
fn a_record_that_was_cut_off_is_told_as_one() {
    let data = folder("records cut off");
    assert_eq!(runproof_keeping(&data, &["check", "--simulate", "good-run", "--yes"]).status, 0);
    let [whole, cut] = ["whole.jsonl", "cut.jsonl"].map(|name| data.join(name));
    let export = ["records", "export", "--as", "whole", "--to", whole.to_str().expect("UTF-8")];
    assert_eq!(runproof_keeping(&data, &export).status, 0);
    let text = std::fs::read_to_string(&whole).expect("an export");
    for length in [30, 5_000, text.len() - 2] {
        std::fs::write(&cut, &text.as_bytes()[..length]).expect("written");
        let ran = runproof_keeping(&data, &["records", "import", cut.to_str().expect("UTF-8")]);
        assert_eq!(ran.status, 5, "{}", ran.out);
        assert!(ran.out.contains("line 1, is no record"), "{length}: {}", ran.out);
    }
}

/// Whoever has read enough of it closes the pipe: no failure.
#[test]
fn an_export_nobody_reads_on_ends_quietly() {
    const READ_BY_NOBODY: &str = r#"
        "$1" "$2" "$3" check --simulate good-run --yes >"$TMPDIR/null" 2>&1
        { sleep 0.5; "$@"; } | true
    "#;
    let temporary = folder("records nobody reads");
    let temporary = format!("TMPDIR={}", temporary.display());
    for format in ["csv", "json", "whole"] {
        let shell = ["env", &temporary, "bash", "-o", "pipefail", "-c", READ_BY_NOBODY, "shell"];
        let ran = runproof_under(&shell, &["records", "export", "--as", format]);
        assert_eq!((ran.status, ran.err.as_str()), (0, ""), "{format}");
    }
}
