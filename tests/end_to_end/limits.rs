//! Limit sheets: listed, shown, checked, and what they make of one and the same run.

use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use crate::program::{Ran, folder, runproof};

const SHEETS: [&str; 6] =
    ["service-24vac", "acceptance-24vac", "service-12vdc", "two-wire-bus", "made-up-lead", "reel"];

/// A run as a scene file: 24 m of 18 AWG at 20 °C, 20.95 Ω/km (ASTM B258, IEC 60028).
fn scene(name: &str, arrives_at: [u8; 4], faults: &str) -> String {
    let file = folder(name).join("run.toml");
    let text = format!(
        "about = \"{name}\"\nplug = \"goes-in\"\n[run]\nlength_m = 24.0\nohm_per_km = 20.95\n\
         copper_c = 20.0\narrives_at = {arrives_at:?}\n{faults}\n"
    );
    fs::write(&file, text).expect("written");
    file.to_str().expect("UTF-8").to_owned()
}

fn check(scene: &str, sheet: &str, more: &[&str]) -> Ran {
    let ran = runproof(&[&["check", "--simulate", scene, "--sheet", sheet], more].concat());
    assert!(!ran.err.contains("runproof:"), "{}", ran.err);
    ran
}

/// The JSON of a check, and its exit status.
fn result(scene: &str, sheet: &str, more: &[&str]) -> (Value, i32) {
    let ran = check(scene, sheet, &[more, &["--json"]].concat());
    (ran.json(), ran.status)
}

#[test]
fn the_sheets_are_listed() {
    let ran = runproof(&["limits"]);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    for name in SHEETS {
        assert!(ran.out.contains(&format!("  {name} ")), "{}", ran.out);
    }
}

/// Every limit has its unit, what it means to be beyond it, and its source.
#[test]
fn a_sheet_is_shown_with_the_source_of_every_limit() {
    for name in SHEETS {
        let ran = runproof(&["limits", name]);
        assert_eq!((ran.status, ran.err.as_str()), (0, ""));
        assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);
        let lines: Vec<&str> = ran.out.lines().collect();
        let rows = lines.iter().enumerate().filter(|(_, line)| {
            ["  fail  ", "  note  ", "  not judged"].iter().any(|told| line.contains(told))
        });
        let rows: Vec<usize> = rows.map(|(index, _)| index).collect();
        assert!(rows.len() >= 3, "{}", ran.out);
        for row in rows {
            let unit =
                ["Ω", "%", " ft", " V", " A", "pF/ft"].iter().any(|unit| lines[row].contains(unit));
            assert!(unit, "{}", lines[row]);
            assert!(lines[row + 1].trim_start().starts_with("source  "), "{}", lines[row + 1]);
        }
    }
    let table = runproof(&["limits", "service-24vac"]).out;
    for row in
        ["data+                        ≤ 50 Ω                fail        possibly", "≥ 100 kΩ"]
    {
        assert!(table.contains(row), "{table}");
    }
}

#[test]
fn lengths_are_shown_in_the_units_asked_for() {
    assert!(runproof(&["limits", "two-wire-bus"]).out.contains("≤ 100 ft "));
    assert!(runproof(&["limits", "two-wire-bus", "--units", "metric"]).out.contains("≤ 30.5 m "));
    let wire = ["--gauge", "18awg-solid", "--length", "24m", "--cable-temp", "20C"];
    let us = check("good-run", "service-24vac", &wire).out;
    assert!(us.contains("18 AWG solid, 78.7 ft, at 68 °F: a conductor is calculated"), "{us}");
    assert!(us.contains("0.50 Ω (0.49 to 0.51 Ω)"), "{us}");
    let metric = check("good-run", "service-24vac", &[&wire[..], &["--units", "metric"]].concat());
    assert!(metric.out.contains("18 AWG solid, 24 m, at 20 °C"), "{}", metric.out);
}

#[test]
fn a_sheet_of_ones_own_is_checked_and_used() {
    let sheets = Path::new(env!("CARGO_MANIFEST_DIR")).join("interpret/src/sheets");
    let text = fs::read_to_string(sheets.join("service-24vac.toml")).expect("the built-in sheet");
    let mine = folder("my-sheet").join("mine.toml");
    let path = mine.to_str().expect("UTF-8");
    let write = |text: &str| fs::write(&mine, text).expect("written");

    write(&text.replace("service-24vac", "strict").replace("value = 50", "value = 0.2"));
    let ran = runproof(&["limits", "--check", path]);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    assert!(ran.out.contains("strict 1 is a limit sheet"), "{}", ran.out);
    let (strict, status) = result("good-run", path, &[]);
    assert_eq!((&strict["sheet"]["name"], status), (&json!("strict"), 1));
    assert_eq!(strict["findings"][0]["kind"], "high-resistance");

    write(&text.replacen("value = 50", "value = -50", 1));
    for arguments in
        [&["limits", "--check", path][..], &["check", "--simulate", "good-run", "--sheet", path]]
    {
        let ran = runproof(arguments);
        assert_eq!((ran.status, ran.out.as_str()), (5, ""), "{}", ran.err);
        assert!(ran.err.contains("line 18: `value`: must be a number above 0"), "{}", ran.err);
        assert!(ran.err.contains("next: "), "{}", ran.err);
    }
}

#[test]
fn a_sheet_that_is_not_there() {
    for arguments in
        [&["limits", "nope"][..], &["check", "--simulate", "good-run", "--sheet", "nope"]]
    {
        let ran = runproof(arguments);
        assert_eq!((ran.status, ran.out.as_str()), (5, ""), "{}", ran.err);
        assert!(ran.err.contains("no limit sheet `nope`"), "{}", ran.err);
        assert!(ran.err.contains("next: list them with `runproof limits`"), "{}", ran.err);
    }
}

#[test]
fn gauges_lengths_and_temperatures_that_are_none() {
    for wrong in [
        ["--gauge", "18"],
        ["--gauge", "0.8mm2"],
        ["--length", "100"],
        ["--length", "-3m"],
        ["--cable-temp", "70..60C"],
        ["--units", "furlong"],
    ] {
        let ran = runproof(&[&["check", "--simulate", "good-run"], &wrong[..]].concat());
        assert_eq!((ran.status, ran.out.as_str()), (64, ""), "{wrong:?}: {}", ran.err);
    }
}

#[test]
fn two_wires_are_one_loop_whichever_way_round() {
    let others = "open = [{ post = 3, at = 0.0 }, { post = 4, at = 0.0 }]";
    for (name, arrives_at) in [("straight", [1, 2, 3, 4]), ("exchanged", [2, 1, 3, 4])] {
        let scene = scene(name, arrives_at, others);
        let (told, status) = result(&scene, "two-wire-bus", &[]);
        assert_eq!((status, &told["findings"]), (0, &json!([])), "{told}");
        assert_eq!(told["conductors"], json!([]));
        let row = &told["loops"][0];
        assert_eq!(row["posts"], json!([1, 2]));
        let ohm = row["resistance_ohm"].as_f64().expect("measured");
        let u_ohm = row["expanded_uncertainty_ohm"].as_f64().expect("with its uncertainty");
        assert!((ohm - 2.0 * 0.5028).abs() <= u_ohm && u_ohm < 2.0, "{ohm} ± {u_ohm}");
        let words = check(&scene, "two-wire-bus", &[]).out;
        assert!(words.starts_with("PASS: the loop is within its limit.\n"), "{words}");
        assert_eq!(words.matches("  loop  ").count(), 1, "{words}");

        let (told, status) = result(&scene, "service-24vac", &[]);
        assert_eq!((status, &told["findings"][0]["kind"]), (1, &json!("open")));
    }
}

/// Two wires have no names of their own: what is said of them names the posts.
#[test]
fn something_else_than_the_plug_between_two_wires() {
    let far = "open = [{ post = 3, at = 0.0 }, { post = 4, at = 0.0 }]\n\
               joint = [{ post = 1, at = 0.99, ohm = 45.0 }]";
    let ran = check(&scene("terminator", [1, 2, 3, 4], far), "two-wire-bus", &[]);
    assert_eq!(ran.status, 2);
    assert!(ran.out.starts_with("CANNOT TELL: no end plug was found"), "{}", ran.out);
    assert!(ran.out.contains("only post 1 and post 2 meet each other"), "{}", ran.out);
}

#[test]
fn a_four_conductor_run_on_a_two_wire_sheet_is_not_told() {
    let (told, status) = result("good-run", "two-wire-bus", &[]);
    assert_eq!((status, &told["findings"][0]["cause"]), (2, &json!("other-posts")));
    assert_eq!(told["loops"][0]["reason"], "not-measured");
}

/// A screw that was not tightened is workmanship: the headline says so, and service lets it pass.
#[test]
fn workmanship_is_called_workmanship() {
    let scene = scene("joint", [1, 2, 3, 4], "joint = [{ post = 2, at = 0.98, ohm = 0.65 }]");
    let accepted = check(&scene, "acceptance-24vac", &[]);
    assert_eq!(accepted.status, 1, "{}", accepted.out);
    let headline = accepted.out.split("\n\n").next().unwrap_or_default();
    let headline = headline.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(headline.starts_with("FAIL: data−"), "{headline}");
    assert!(
        headline.contains("workmanship; it hardly explains a communication error"),
        "{headline}"
    );
    let (told, _) = result(&scene, "acceptance-24vac", &[]);
    assert_eq!(told["findings"][0]["kind"], "sibling-difference");
    assert_eq!(told["findings"][0]["explains_complaint"], "unlikely");
    assert_eq!(check(&scene, "service-24vac", &[]).status, 0);
}

/// What explains a complaint comes before what does not.
#[test]
fn a_crossing_is_told_before_workmanship() {
    let joint = "joint = [{ post = 1, at = 0.98, ohm = 0.9 }]";
    let scene = scene("crossed-joint", [1, 2, 4, 3], joint);
    let (told, status) = result(&scene, "acceptance-24vac", &[]);
    assert_eq!((status, &told["findings"][0]["kind"]), (1, &json!("crossed")));
}

#[test]
fn loops_are_held_against_the_wire_that_is_told() {
    let told = |gauge: &'static str, temperature: &'static str| {
        let wire = ["--gauge", gauge, "--length", "30m", "--cable-temp", temperature];
        result("good-run", "acceptance-24vac", &wire)
    };
    // The run is 30 m of 18 AWG.
    let (right, status) = told("18awg-solid", "20..35C");
    assert_eq!((status, right["loops"].as_array().map(Vec::len)), (0, Some(2)), "{right}");
    let (thicker, status) = told("16awg", "20..35C");
    assert_eq!((status, &thicker["findings"][0]["kind"]), (1, &json!("high-loop-resistance")));
    let (unsure, status) = told("18awg", "-20..70C");
    assert_eq!((status, &unsure["findings"][0]["kind"]), (2, &json!("too-close-to-loop-limit")));
    let (untold, status) = result("good-run", "acceptance-24vac", &[]);
    assert_eq!((status, &untold["loops"]), (0, &json!([])));
    assert!(
        untold["not_tested"]
            .as_array()
            .is_some_and(|all| all.contains(&json!("loop-against-length")))
    );
}

#[test]
fn a_lead_needs_its_wire() {
    let (untold, status) = result("good-run", "made-up-lead", &[]);
    assert_eq!((status, &untold["findings"][0]["kind"]), (2, &json!("limit-unknown")));
    assert_eq!(untold["conductors"][0]["limit_ohm"], Value::Null);
    let wire = |length| ["--gauge", "18awg", "--length", length, "--cable-temp", "20..35C"];
    assert_eq!(result("good-run", "made-up-lead", &wire("30m")).1, 0);
    // As a lead of 5.5 ft it has far too much.
    let (short, status) = result("good-run", "made-up-lead", &wire("5.5ft"));
    assert_eq!((status, &short["findings"][0]["kind"]), (1, &json!("high-resistance")));
}

/// Results are told with a sheet's name and version, so no other limits go by those of a built-in one.
#[test]
fn a_built_in_sheets_name_is_taken() {
    let built_in = runproof_interpret::limits::BUILT_IN[0].1;
    let file = folder("limits-name").join("loose.toml");
    let name = file.to_str().expect("UTF-8");
    let loose = built_in.replacen("value = 3\n", "value = 30\n", 1);
    assert_ne!(loose, built_in);
    fs::write(&file, &loose).expect("written");
    for asked in [
        &["limits", "--check", name][..],
        &["check", "--simulate", "good-run", "--yes", "--sheet", name],
        &["live", "--simulate", "live-good", "--sheet", name],
    ] {
        let ran = runproof(asked);
        assert_eq!(ran.status, 5, "{}", ran.out);
        assert!(ran.err.contains("is built in, with other limits"), "{}", ran.err);
    }
    for free in [built_in.to_owned(), loose.replacen("\"service-24vac\"", "\"loose\"", 1)] {
        fs::write(&file, free).expect("written");
        let ran = runproof(&["limits", "--check", name]);
        assert_eq!(ran.status, 0, "{}", ran.err);
    }
}
