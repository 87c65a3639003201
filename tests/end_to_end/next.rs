//! The next step, by the program: from saved captures, what is told and answers.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};

use crate::bad_input::complains;
use crate::program::{Ran, folder, runproof};

const BUILT_IN: &str = runproof_interpret::next::BUILT_IN;

/// A capture of a simulated scene.
fn saved(folder: &Path, name: &str, how: &[&str]) -> String {
    let path = folder.join(name).to_str().expect("UTF-8").to_owned();
    let ran = runproof(&[how, &["--save", &path]].concat());
    assert!(Path::new(&path).exists(), "{}", ran.err);
    path
}

fn check(folder: &Path, scene: &str) -> String {
    saved(folder, &format!("{scene}.jsonl"), &["check", "--simulate", scene])
}

fn next(arguments: &[&str]) -> Ran {
    let ran = runproof(&[&["next"], arguments].concat());
    for line in ran.out.lines() {
        // A path of this test's folder may be longer than any line.
        let is_long = line.contains(env!("CARGO_TARGET_TMPDIR"));
        assert!(is_long || line.chars().count() <= 80, "{arguments:?}: {line}");
    }
    ran
}

fn step(arguments: &[&str]) -> Value {
    let ran = runproof(&[&["next"], arguments, &["--json"]].concat());
    assert_eq!(ran.status, 0, "{}", ran.err);
    ran.json()
}

fn names(all: &Value) -> Vec<&str> {
    let all = all.as_array().expect("a list").iter();
    all.map(|one| one["name"].as_str().expect("a name")).collect()
}

#[test]
fn check_and_temporary_cable_decide() {
    let folder = folder("next-decides");
    let [bad, good, unsure] =
        ["crossed-supply", "good-run", "no-plug"].map(|scene| check(&folder, scene));
    let of = |file: &str, cable: &str| {
        let told = step(&["--check", file, "--told", &format!("temporary-cable={cable}")]);
        (told["step"]["name"].clone(), told["step"]["wiring"].clone())
    };
    assert_eq!(of(&bad, "works"), (json!("wiring-proven"), json!("at-fault")));
    assert_eq!(of(&bad, "fails"), (json!("more-than-one"), json!("at-fault")));
    assert_eq!(of(&good, "works"), (json!("noise-or-intermittent"), json!("undecided")));
    assert_eq!(of(&good, "fails"), (json!("not-the-wiring"), json!("cleared")));
    assert_eq!(of(&unsure, "works"), (json!("check-again"), Value::Null));
    assert_eq!(of(&unsure, "fails"), (json!("check-again"), Value::Null));
}

#[test]
fn a_cleared_run_says_what_else_shows_the_same() {
    let folder = folder("next-cleared");
    let good = check(&folder, "good-run");
    let told = ["--check", &good, "--told", "temporary-cable=fails", "--answer", "address=yes"];
    let ran = next(&told);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    for part in ["CONCLUSION: It is not the wiring", "wiring         cleared", "told, not measured"]
    {
        assert!(ran.out.contains(part), "{part}: {}", ran.out);
    }
    let told = step(&told);
    let left = names(&told["left"]);
    for one in ["other-kind", "software", "terminator", "board"] {
        assert!(left.contains(&one), "{left:?}");
    }
    assert!(!left.contains(&"address"), "{left:?}");
    let out = told["ruled_out"].as_array().expect("a list");
    let run = out.iter().find(|one| one["name"] == "run").expect("ruled out");
    assert_eq!(run["because"][0]["by"], "measured");
    assert_eq!(run["because"][0]["file"], json!(good));
    let address = out.iter().find(|one| one["name"] == "address").expect("ruled out");
    assert_eq!(address["because"][0]["by"], "answered");
}

/// Every command that it prints, run as it stands, goes on to another step, until an end.
#[test]
fn its_own_commands_lead_to_an_end() {
    let folder = folder("next-walk");
    let program = PathBuf::from(env!("CARGO_BIN_EXE_runproof"));
    let bin = program.parent().expect("a folder").to_str().expect("UTF-8");
    let path = format!("{bin}:{}", std::env::var("PATH").unwrap_or_default());
    let sh = |command: &str| {
        let mut shell = Command::new("sh");
        shell.args(["-c", command]).current_dir(&folder).env("PATH", &path);
        shell.env("XDG_DATA_HOME", &folder);
        String::from_utf8(shell.output().expect("a shell").stdout).expect("UTF-8")
    };
    let mut command =
        "runproof next --answer 'mains-cable=no' --told 'supply-adapter=26'".to_owned();
    let mut seen = vec![];
    loop {
        let told: Value = serde_json::from_str(&sh(&format!("{command} --json"))).expect("JSON");
        seen.push(told["step"]["name"].as_str().expect("a name").to_owned());
        if told["step"]["is_end"] == true {
            break;
        }
        let run: Vec<&str> =
            told["run"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
        if let [measure, _] = run.as_slice() {
            if measure.starts_with("runproof check") {
                let scene =
                    if measure.contains("--to-earth") { "sound-to-earth" } else { "good-run" };
                sh(&format!("{measure} --simulate {scene}"));
                command = run[1].to_owned();
                continue;
            }
            command = told["or_told"].as_str().expect("told instead").to_owned();
        } else {
            command = run[0].to_owned();
        }
        command = command
            .replace("=ANSWER", "=unknown")
            .replace("=WORD", "=unknown")
            .replace("=NUMBER", "=unknown");
        command = command.replace("temporary-cable=unknown", "temporary-cable=fails");
    }
    assert!(
        [
            "devices",
            "live-at-unit",
            "live-at-plate",
            "check",
            "to-earth",
            "landed-right",
            "temporary-cable"
        ]
        .iter()
        .all(|one| seen.contains(&(*one).to_owned())),
        "{seen:?}"
    );
    assert_eq!(seen.last().map(String::as_str), Some("not-the-wiring"), "{seen:?}");
    let mut once = seen.clone();
    once.sort();
    once.dedup();
    assert_eq!(once.len(), seen.len(), "{seen:?}");
}

#[test]
fn voltage_and_mains_stop_it() {
    let folder = folder("next-stops");
    let powered = check(&folder, "powered-run");
    let ran = next(&["--check", &powered, "--told", "temporary-cable=works"]);
    assert!(ran.out.starts_with("STOP:"), "{} {}", ran.out, ran.err);
    let ran = next(&["--answer", "mains-cable=yes"]);
    assert!(ran.out.starts_with("STOP: "), "{}", ran.out);
    let out = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(out.contains("licensed practice come first"), "{}", ran.out);
    assert!(!ran.out.contains("runproof next"), "{}", ran.out);
}

/// What touches wires says so, with power off and a rated meter; an exchange, of which wires.
#[test]
fn cautions_go_with_what_hands_are_on() {
    let folder = folder("next-cautions");
    let good = check(&folder, "good-run");
    let told = ["--answer", "mains-cable=no", "--answer", "to-earth=unknown"];
    let exchange = ["--check", &good, "--told", "pair-plate=-0.6"];
    let mut all = vec![];
    for key in ["devices", "worked-before", "power", "visible-damage"] {
        all.extend(["--answer".to_owned(), format!("{key}=unknown")]);
    }
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    let told = [&exchange[..], &told, &all].concat();
    let rest =
        ["supply-adapter", "pair-adapter", "supply-plate", "traffic", "supply-sags", "right-kind"];
    let rest: Vec<String> = rest
        .iter()
        .chain(&["software", "address", "terminator", "restart-helped", "isolation-helped"])
        .flat_map(|key| ["--answer".to_owned(), format!("{key}=unknown")])
        .collect();
    let rest: Vec<&str> = rest.iter().map(String::as_str).collect();
    let ran = next(&[told, rest].concat());
    let out = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "exchange the two data conductors at one end only",
        "power off at every unit",
        "rated meter",
        "never data with common or supply",
    ] {
        assert!(out.contains(part), "{part}: {}", ran.out);
    }
}

#[test]
fn live_readings_are_given_with_their_end() {
    let folder = folder("next-live");
    let live = |name: &str, at: &[&str]| {
        saved(&folder, name, &[&["live", "--simulate", "powered-run"], at].concat())
    };
    let plate = live("plate.jsonl", &["--at", "plate"]);
    let nowhere = live("nowhere.jsonl", &[]);
    let told = step(&["--live", &plate]);
    assert_eq!(told["captures"][0]["kind"], "live-plate");
    assert!(
        told["known"]
            .as_array()
            .is_some_and(|all| all.iter().any(|one| one["key"] == "supply-plate"))
    );
    complains(&next(&["--live", &nowhere]), 5, "does not say at which end");
    complains(&next(&["--check", &plate]), 5, "it is a live look");
    let good = check(&folder, "good-run");
    complains(&next(&["--live", &good]), 5, "it is a check");
    let head = fs::read_to_string(&good).expect("saved").lines().next().expect("a head").to_owned();
    let empty = folder.join("head.jsonl");
    fs::write(&empty, head + "\n").expect("written");
    let empty = empty.to_str().expect("UTF-8");
    complains(&next(&["--check", empty]), 5, "neither the open run nor the plug was measured");
    complains(&next(&["--live", empty]), 5, "nothing was measured live");
}

#[test]
fn what_was_measured_counts_before_what_is_told() {
    let folder = folder("next-told");
    let bad = check(&folder, "crossed-supply");
    let told = ["--check", &bad, "--told", "check=pass", "--told", "temporary-cable=works"];
    let ran = next(&told);
    let out = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(out.contains("pass was told, fail was measured"), "{}", ran.out);
    let told = step(&told);
    assert_eq!(told["step"]["name"], "wiring-proven");
    let contradiction = json!({ "key": "check", "told": "pass", "measured": "fail", "file": bad });
    assert_eq!(told["contradictions"], json!([contradiction]));
}

#[test]
fn what_is_told_wrong_is_refused() {
    complains(&next(&["--told", "suply-plate=24"]), 64, "near to it: supply-plate");
    complains(
        &next(&["--told", "supply-plate=2400"]),
        64,
        "a number from 0 to 1000, in V or unknown",
    );
    complains(&next(&["--answer", "power=maybe"]), 64, "it is yes, no or unknown");
    complains(&next(&["--answer", "devices=yes"]), 64, "no question of yes or no");
    complains(&next(&["--answer", "temporary-cable=works"]), 64, "--told temporary-cable=");
    let other = next(&["--sheet", "service-12vdc"]);
    complains(&other, 5, "are for runs of service-24vac, acceptance-24vac, not of service-12vdc");
    assert!(other.err.contains("--sheet service-24vac") && other.err.contains("--steps FILE"));
    assert_eq!(next(&["--told", "power"]).status, 64);
}

#[test]
fn a_trainers_own_steps_are_checked_and_followed() {
    let folder = folder("next-own");
    let own = folder.join("my steps.toml");
    let path = own.to_str().expect("UTF-8");
    fs::write(&own, BUILT_IN.replace("Has every unit power?", "Is there light?")).expect("written");
    let ran = next(&["--check-steps", path]);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    assert!(ran.out.contains("can be used") && ran.out.contains("every one ends"), "{}", ran.out);
    let questions = next(&["--questions", "--steps", path]);
    assert!(questions.out.contains("Is there light?"), "{}", questions.out);
    let told = step(&["--steps", path, "--answer", "mains-cable=no"]);
    assert!(told["run"][0].as_str().is_some_and(|run| run.contains("'")), "{told}");
    let line = 1 + BUILT_IN.lines().position(|line| line == "ask = \"power\"").expect("there");
    fs::write(&own, BUILT_IN.replace("ask = \"power\"", "ask = \"powr\"")).expect("written");
    for how in ["--check-steps", "--steps"] {
        let ran = next(&[how, path]);
        complains(
            &ran,
            5,
            &format!("line {line}: `ask`: there is no fact `powr`; near to it: power"),
        );
    }
}

#[test]
fn every_key_is_listed_with_what_it_can_be() {
    let ran = next(&["--questions"]);
    assert_eq!(ran.status, 0);
    for part in
        ["supply-plate", "a number from 0 to 1000, in V or unknown", "works, fails or unknown"]
    {
        let out = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(out.contains(part), "{part}: {}", ran.out);
    }
    assert!(!ran.out.contains("hazard-plate"), "{}", ran.out);
}

/// The plate without volts is never noise, whatever the lifted run and a temporary cable come to.
#[test]
fn volts_lost_on_the_way_are_not_noise() {
    let folder = folder("next-lost");
    let good = check(&folder, "good-run");
    let told = ["--check", &good, "--told", "temporary-cable=works", "--answer", "mains-cable=no"];
    let volts = ["--told", "supply-plate=0", "--told", "supply-adapter=24.3"];
    let lost = [&volts[..], &["--told", "supply-kind-adapter=ac"]].concat();
    let names = |more: &[&str]| step(&[&told[..], &lost, more].concat())["step"]["name"].clone();
    assert_eq!(names(&[]), "to-earth-by-readings");
    assert_eq!(names(&["--told", "to-earth=pass"]), "land-anew-and-read");
    let wrong = ["--told", "to-earth=pass", "--told", "landed-anew=reads-wrong"];
    assert_eq!(names(&wrong), "wrong-as-landed");
    let ran = next(&[&told[..], &lost, &wrong].concat());
    assert!(ran.out.starts_with("CONCLUSION: It is between unit and plate"), "{}", ran.out);
}

#[test]
fn a_reversed_pair_is_exchanged_next() {
    let folder = folder("next-reversed");
    let how = ["live", "--simulate", "live-reversed", "--at", "plate"];
    let plate = saved(&folder, "plate.jsonl", &how);
    let told = step(&["--live", &plate, "--answer", "mains-cable=no"]);
    assert_eq!(
        (&told["step"]["name"], &told["step"]["hands"]),
        (&json!("exchange-pair"), &json!("pair"))
    );
    let first: Vec<&Value> = told["step"]["first"].as_array().expect("a list").iter().collect();
    assert_eq!(
        first.iter().map(|one| &one["change"]).collect::<Vec<_>>(),
        ["power-off", "control-back"]
    );
}

/// The check's own next step is what is done next, and the bench is as the check left it.
#[test]
fn the_checks_own_remedy_is_the_next_step() {
    let folder = folder("next-remedy");
    for (scene, name, part) in [
        ("reversed-pair", "exchange-found", "exchange the conductors at one end only"),
        ("crossed-supply", "exchange-crossed", "exchange the conductors at one end only"),
        ("corroded-splice", "remake-joint", "look at its screws and splices"),
    ] {
        let file = check(&folder, scene);
        let told = step(&["--check", &file, "--answer", "mains-cable=no"]);
        assert_eq!(told["step"]["name"], name);
        assert_eq!(told["step"]["first"], json!([]));
        let remedy = told["step"]["remedies"][0]["text"].as_str().expect("a remedy");
        assert!(remedy.contains(part), "{remedy}");
        let ran = next(&["--check", &file, "--answer", "mains-cable=no"]);
        assert!(
            ran.out.contains("\n  remedy  ") && !ran.out.contains("replace the run"),
            "{}",
            ran.out
        );
    }
}

/// What is given last was done last, whichever option it is.
#[test]
fn the_bench_follows_from_the_order_of_what_is_given() {
    let folder = folder("next-bench");
    let good = check(&folder, "good-run");
    let told =
        ["--answer", "mains-cable=no", "--told", "to-earth=pass", "--answer", "devices=unknown"];
    let rest =
        ["--answer", "worked-before=yes", "--answer", "power=yes", "--answer", "visible-damage=no"];
    let after = |one: &[&str], other: &[&str]| {
        let ran = next(&[one, &told[..], &rest, other].concat());
        assert!(ran.out.starts_with("NEXT: Measure at the wall plate"), "{}", ran.out);
        ran.out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let kind = ["--told", "supply-kind-adapter=ac"];
    let supply = ["--told", "supply-adapter=24.2", "--told", "pair-adapter=0.6"];
    let supply = [&supply[..], &kind].concat();
    let lifted = after(&supply, &["--check", &good]);
    assert!(lifted.contains("land every conductor on its own terminal again"), "{lifted}");
    let landed = after(&["--check", &good], &supply);
    assert!(
        !landed.contains("land every") && landed.contains("then take the control off"),
        "{landed}"
    );
}

#[test]
fn damage_that_is_seen_goes_on_to_the_check() {
    let told = ["--answer", "mains-cable=no", "--answer", "visible-damage=yes"];
    let rest = ["--told", "devices=one", "--answer", "worked-before=yes", "--answer", "power=yes"];
    let ran = next(&[&told[..], &rest].concat());
    assert!(ran.out.starts_with("NEXT: Put right what was seen"), "{}", ran.out);
    assert!(ran.out.contains("--answer repaired=ANSWER"), "{}", ran.out);
    // Lifted once, landed once.
    let first = |more: &[&str]| {
        let told = step(&[&told[..], &rest, more].concat());
        let each = told["step"]["first"].as_array().expect("a list").clone();
        let first = each.iter().map(|one| one["change"].as_str().expect("a word").to_owned());
        (told["step"]["name"].clone(), first.collect::<Vec<_>>().join(" "))
    };
    let repaired = ["--answer", "repaired=yes"];
    let checked = ["--answer", "repaired=yes", "--told", "check=pass"];
    assert_eq!(first(&[]), (json!("put-right"), "power-off lift".into()));
    assert_eq!(first(&repaired), (json!("check-repaired"), String::new()));
    assert_eq!(first(&checked), (json!("works-now"), "clips-off land control-back".into()));
    assert_eq!(first(&["--answer", "repaired=no"]).0, "check");
}

#[test]
fn a_weaker_file_of_steps_is_refused() {
    let folder = folder("next-weaker");
    let own = folder.join("weaker.toml");
    let path = own.to_str().expect("UTF-8");
    for (from, to, says) in [
        (
            "hands = \"live\"",
            "hands = \"none\"",
            "is read at terminals that are live: say \"live\"",
        ),
        (
            "\"acceptance-24vac\"]",
            "\"no-such-sheet\"]",
            "`sheets`: there is no limit sheet `no-such-sheet`",
        ),
        ("caution = \"Breakers", "# \"Breakers", "keep it; more may be added"),
    ] {
        assert!(BUILT_IN.contains(from), "{from}");
        fs::write(&own, BUILT_IN.replacen(from, to, 1)).expect("written");
        let ran = next(&["--check-steps", path]);
        complains(&ran, 5, says);
        assert!(
            ran.err.contains("line ") && ran.err.contains("put that line right"),
            "{}",
            ran.err
        );
    }
}

/// A check that passed after the repair is the one that counts, and so is what it says of danger.
#[test]
fn a_danger_goes_with_the_capture_that_told_it() {
    let folder = folder("next-danger");
    let (crossed, good) = (check(&folder, "crossed-supply"), check(&folder, "good-run"));
    let told = ["--told", "mains-cable=no"];
    let before = next(&[&told[..], &["--check", &crossed]].concat());
    assert!(before.out.contains("do not power up"), "{}", before.out);
    let after = next(&[&told[..], &["--check", &crossed, "--check", &good]].concat());
    assert!(!after.out.contains("do not power up"), "{}", after.out);
}

/// What nobody knows is no all-clear.
#[test]
fn a_cable_that_may_carry_mains_is_left_alone() {
    for known in [&[][..], &["--told", "supply-plate=0", "--told", "supply-adapter=24"]] {
        let ran = next(&[&["--told", "mains-cable=unknown"], known].concat());
        assert!(ran.out.starts_with("STOP: "), "{}", ran.out);
    }
}

/// What a live look fails by is taken up, whether it is a number or not.
#[test]
fn a_live_look_that_fails_is_never_ignored() {
    let folder = folder("next-live-fails");
    for (scene, name) in [
        ("live-common-missing", "check-by-readings"),
        ("live-dc12", "other-supply"),
        ("live-full-wave", "other-supply"),
        ("live-pair-shorted", "pair-at-unit-first"),
        ("live-mains-on-data", "voltage"),
    ] {
        let how = ["live", "--simulate", scene, "--at", "plate"];
        let plate = saved(&folder, &format!("{scene}.jsonl"), &how);
        let told = step(&["--live", &plate, "--answer", "mains-cable=no"]);
        assert_eq!(told["step"]["name"], name, "{scene}");
    }
}

/// The jig hangs on a run that may be live: its clips stay; where none is on, none is put on.
#[test]
fn what_stops_says_one_thing_of_the_clips() {
    let folder = folder("next-clips");
    let how = ["live", "--simulate", "live-over-voltage", "--at", "plate"];
    let plate = saved(&folder, "plate.jsonl", &how);
    for (told, says) in [
        (&["--live", &plate][..], "leave the clips where they are"),
        (&["--answer", "mains-cable=yes"], "clip nothing on"),
        (&["--answer", "mains-cable=unknown"], "clip nothing on"),
    ] {
        let ran = next(told);
        assert!(ran.out.starts_with("STOP: "), "{}", ran.out);
        let out = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        let both = ["leave the clips where they are", "clip nothing on"];
        let said: Vec<&str> = both.into_iter().filter(|one| out.contains(one)).collect();
        assert_eq!(said, [says], "{}", ran.out);
    }
}

/// What says "check again" prints the check; an end prints what to measure once it is mended, and closes the bench.
#[test]
fn a_repair_and_an_end_print_the_next_measurement() {
    let folder = folder("next-again");
    let bad = check(&folder, "crossed-supply");
    let told = ["--check", &bad, "--answer", "mains-cable=no"];
    let repair = next(&told);
    assert!(repair.out.contains("run            runproof check --save "), "{}", repair.out);
    let proven = next(&[&told[..], &["--told", "temporary-cable=works"]].concat());
    let out = proven.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "at the end once the run passes its check: take the temporary cable off",
        "then land every conductor",
        "then power on.",
        "run runproof check --save ",
    ] {
        assert!(out.contains(part), "{part}: {}", proven.out);
    }
    let weak = ["--told", "supply-adapter=17", "--told", "supply-kind-adapter=ac"];
    let weak = [&told[2..], &weak, &["--answer", "supply-alone=no"]].concat();
    assert!(next(&weak).out.contains("runproof live --at adapter --save "));
    // Put right and checked: the old reading is shown as such.
    let good = check(&folder, "good-run");
    let after = step(&[&told[..], &["--check", &good]].concat());
    assert_eq!(after["step"]["name"], "works-now");
    assert_eq!(after["superseded"][0]["key"], "check");
}

/// On a wide terminal as well.
#[test]
fn help_stays_within_80_columns() {
    for arguments in
        [&["--help"][..], &["check", "--help"], &["next", "--help"], &["next", "--nothing"]]
    {
        let mut program = Command::new(env!("CARGO_BIN_EXE_runproof"));
        let ran = program.args(arguments).env("COLUMNS", "200").output().expect("it runs");
        let said = [ran.stdout, ran.stderr].concat();
        let wide = String::from_utf8(said).expect("UTF-8");
        assert!(wide.lines().all(|line| line.chars().count() <= 80), "{arguments:?}: {wide}");
    }
}
