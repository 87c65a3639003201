//! A run that is watched while it is flexed: what is seen of every built-in one, kept, judged again, and cut off.

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use runproof_firmware::boards::simulated::{FLEXED, Scene};
use serde_json::Value;

use crate::far_end::{Then, against, jig};
use crate::plugged::Plugged;
use crate::program::{Ran, folder, runproof, runproof_keeping};

/// The scene, how it is watched, and what must be seen: the verdict, the gravest finding, whose.
type Expected =
    (&'static str, &'static [&'static str], &'static str, Option<(&'static str, &'static str)>);

const EXPECTED: [Expected; 6] = [
    ("flex-good", &[], "pass", None),
    ("flex-nicked", &[], "fail", Some(("breaks", "2"))),
    ("flex-loose-screw", &[], "fail", Some(("breaks", "3"))),
    ("flex-warm-joint", &["--for", "40s"], "fail", Some(("steps", "4"))),
    ("flex-blower", &[], "fail", Some(("breaks", "1"))),
    ("flex-staple", &["--shorts"], "fail", Some(("touches", "1-3"))),
];

fn flex(scene: &str, arguments: &[&str]) -> Ran {
    runproof(&[&["flex", "--simulate", scene], arguments].concat())
}

fn words(told: &str) -> String {
    told.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn fits(told: &str) {
    for line in told.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

fn status(verdict: &str) -> i32 {
    ["pass", "fail", "cannot-tell"].iter().position(|one| *one == verdict).expect("a verdict")
        as i32
}

/// All lines, each an object with one key.
fn lines(out: &str) -> Vec<(String, Value)> {
    let read = |line: &str| {
        let line: Value = serde_json::from_str(line).unwrap_or_else(|why| panic!("{why}: {line}"));
        let object = line.as_object().expect("an object");
        assert_eq!(object.len(), 1, "{line}");
        object.iter().next().map(|(key, value)| (key.clone(), value.clone())).expect("one")
    };
    out.lines().map(read).collect()
}

fn result(out: &str) -> Value {
    let (key, value) = lines(out).pop().expect("lines");
    assert_eq!(key, "result");
    value
}

#[test]
fn every_flexed_scene_has_its_line() {
    let mut lines = EXPECTED.map(|(name, ..)| name);
    let mut scenes: Vec<&str> = FLEXED.iter().map(|(name, _)| *name).collect();
    lines.sort_unstable();
    scenes.sort_unstable();
    assert_eq!(lines.to_vec(), scenes);
}

#[test]
fn every_flexed_scene_is_told_and_told_again_from_its_capture() {
    let folder = folder("flex captures");
    for (name, how, verdict, found) in EXPECTED {
        for seed in ["1", "2"] {
            let file = folder.join(format!("{name}-{seed}.jsonl"));
            let path = file.to_str().expect("UTF-8");
            let arguments =
                [how, &["--seed", seed, "--save", path, "--no-record", "--json"]].concat();
            let ran = flex(name, &arguments);
            let told = result(&ran.out);
            assert_eq!(told["verdict"], verdict, "{name} of {seed}: {told}");
            assert_eq!(ran.status, status(verdict), "{name} of {seed}");
            let all = told["findings"].as_array().expect("a list");
            match found {
                None => assert_eq!(all.len(), 0, "{name} of {seed}: {told}"),
                Some((kind, lane)) => {
                    assert_eq!(all[0]["kind"], kind, "{name} of {seed}: {told}");
                    assert!(all.iter().all(|one| one["lane"] == lane), "{name} of {seed}: {told}");
                    assert!(all[0]["count"].as_u64().is_some_and(|count| count > 0), "{told}");
                }
            }
            let events = lines(&ran.out).iter().filter(|(key, _)| key == "event").count();
            assert_eq!(
                events as u64,
                told["watches"][0]["events"].as_array().map_or(0, |all| all.len() as u64)
            );
            let again = runproof(&["judge", path, "--json"]);
            assert_eq!((again.json(), again.status), (told, ran.status), "{name} of {seed}");
        }
    }
    let folder = folder.to_str().expect("UTF-8");
    let ran = runproof(&["judge", folder]);
    assert!(ran.out.contains("12 in all: 2 pass, 10 fail, 0 cannot tell."), "{}", ran.out);
}

/// None was seen; nobody says that there is none.
#[test]
fn every_screen_fits_and_none_says_too_much() {
    for (name, how, verdict, _) in EXPECTED {
        let ran = flex(name, how);
        fits(&ran.out);
        fits(&ran.err);
        let told = words(&ran.out);
        assert_eq!(told.contains("PASS: none seen in "), verdict == "pass", "{name}: {told}");
        assert!(told.contains("this jig is never the device that proves it"), "{told}");
        assert!(words(&ran.err).contains("prove the run dead"), "{}", ran.err);
        let lower = told.to_lowercase();
        for word in ["intermittent", "good", "safe", " ok", "no fault", "healthy"] {
            assert!(!lower.contains(word), "{name}: {word} in {told}");
        }
        let headline = ran.out.lines().find(|line| line.contains(": ")).expect("a headline");
        assert!(headline.len() < 120, "{headline}");
    }
}

#[test]
fn it_says_when_whom_and_how_long_as_it_happens() {
    let ran = flex("flex-nicked", &["--for", "10s"]);
    let told: Vec<&str> =
        ran.out.lines().filter(|line| line.contains(" data−   broke for ")).collect();
    assert!(told.len() > 5, "{}", ran.out);
    let seconds = |line: &str| line.split_whitespace().next().and_then(|s| s.parse::<f64>().ok());
    assert!(told.iter().all(|line| seconds(line).is_some_and(|s| s < 13.0)), "{}", ran.out);
    let counted = format!("FAIL: data− broke {} times, longest", told.len());
    assert!(words(&ran.out).contains(&counted), "{}", ran.out);
}

/// Across and along watch each their pairs alone.
#[test]
fn the_staple_is_between_posts_that_only_one_way_watches() {
    let across = flex("flex-staple", &["--shorts", "across"]);
    assert_eq!(across.status, 1, "{}", across.out);
    assert!(words(&across.out).contains("FAIL: data+ and common touched"), "{}", across.out);
    let along = flex("flex-staple", &["--shorts", "along"]);
    assert_eq!(along.status, 0, "{}", along.out);
    assert!(words(&along.out).contains("posts 1–3 and 2–4 were not watched"), "{}", along.out);
    let row = along.out.lines().find(|line| line.starts_with("  data+ and common "));
    assert!(row.is_some_and(|row| row.ends_with("not watched")), "{}", along.out);
}

#[test]
fn a_record_shows_the_same_and_goes_wherever_records_go() {
    let data = folder("flex records");
    let run = |arguments: &[&str]| runproof_keeping(&data, arguments);
    let ran = run(&["flex", "--simulate", "flex-nicked", "--for", "5s", "--job", "1047"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    let told = ran.out.lines().find(|line| line.starts_with("FAIL")).expect("a headline");
    let list = run(&["records", "--kind", "flex"]);
    assert!(list.out.contains("flex") && words(&list.out).contains(told), "{}", list.out);
    let shown = run(&["records", "show", "1"]);
    assert!(shown.out.starts_with(told) && shown.status == 1, "{}", shown.out);
    let judged = run(&["judge", "1"]);
    assert!(judged.out.starts_with(told) && judged.status == 1, "{}", judged.out);
    for format in ["csv", "json", "whole"] {
        let ran = run(&["records", "export", "--as", format]);
        assert!(ran.status == 0 && ran.out.contains("flex"), "{format}: {}", ran.out);
    }
    let whole = data.join("whole.jsonl");
    let whole = whole.to_str().expect("UTF-8");
    assert_eq!(run(&["records", "export", "--as", "whole", "--to", whole]).status, 0);
    let other = folder("flex records of another");
    let taken = runproof_keeping(&other, &["records", "import", whole]);
    assert!(taken.out.contains("1 new"), "{}", taken.out);
    let page = data.join("page.html");
    let page = page.to_str().expect("UTF-8");
    assert_eq!(run(&["report", "1", "--to", page]).status, 0);
    let page = std::fs::read_to_string(page).expect("a page");
    assert!(page.contains("data− broke") && !page.contains("Limits:"), "{page}");
    let left = std::fs::read_dir(data.join("runproof")).expect("a folder").flatten();
    assert!(!left.into_iter().any(|one| one.file_name().to_string_lossy().contains("unsaved")));
}

#[test]
fn what_is_wrong_is_told_with_a_next_step() {
    let wrong = [
        (&["flex", "--simulate", "flex-good", "--step", "0"][..], 64),
        (&["flex", "--simulate", "flex-good", "--shorts", "diagonal"], 64),
        (&["flex", "--simulate", "flex-good", "--for", "10"], 64),
        (&["flex", "--simulate", "flex-good", "--plain", "--json"], 64),
        (&["flex", "--simulate", "flex-godo"], 5),
        (&["flex", "--simulate", "flex-good", "--sheet", "none-such"], 5),
        (&["flex", "--port", "/dev/none-such"], 3),
    ];
    for (arguments, status) in wrong {
        let ran = runproof(arguments);
        assert_eq!((ran.status, ran.out.as_str()), (status, ""), "{arguments:?}: {}", ran.err);
    }
    let file = folder("flexed").join("capture.jsonl");
    let path = file.to_str().expect("UTF-8");
    let saved = flex("flex-good", &["--for", "2s", "--save", path, "--no-record"]);
    assert_eq!(saved.status, 0, "{}", saved.err);
    for (command, told) in [
        (&["explain", path][..], "is of a run that was flexed"),
        (&["code", path], "no code for a run that was flexed"),
        (&["next", "--check", path], "is of a run that was flexed"),
        (&["judge", path, "--lifted"], "nothing is told beside"),
    ] {
        let ran = runproof(command);
        assert!(ran.status > 2 && ran.err.contains(told), "{command:?}: {} {}", ran.out, ran.err);
        assert!(ran.err.contains("next: "), "{}", ran.err);
    }
}

#[test]
fn a_jig_that_watches_no_flexing_says_what_it_needs() {
    let ran = against(jig(|| Then::HangUpAfter(vec![])), |port| {
        runproof(&["flex", "--port", port, "--yes"])
    });
    assert_eq!((ran.status, ran.out.as_str()), (3, ""), "{}", ran.err);
    assert!(ran.err.contains("watches no run that is flexed"), "{}", ran.err);
    assert!(ran.err.contains("put the firmware"), "{}", ran.err);
}

/// How the run is at rest is looked at first: voltage and a missing plug end it, an open conductor does not.
#[test]
fn a_run_that_is_wrong_at_rest_is_told_so() {
    let live = flex("powered-run", &["--yes"]);
    assert_eq!(live.status, 2, "{}", live.out);
    assert!(live.out.starts_with("CANNOT TELL: the run was not watched"), "{}", live.out);
    assert!(live.out.contains("DANGER"), "{}", live.out);
    let scene = folder("flex open").join("open.toml");
    let (_, nicked) = FLEXED.into_iter().find(|(name, _)| *name == "flex-good").expect("a scene");
    let parted = nicked.replace("[run]\n", "[run]\nopen = [{ post = 4, at = 0.9 }]\n");
    std::fs::write(&scene, parted).expect("written");
    let open = flex(scene.to_str().expect("UTF-8"), &["--for", "3s"]);
    let told = words(&open.out);
    assert!(told.contains("FAIL: supply was broken from the beginning."), "{told}");
    assert!(told.contains("next `runproof check` first"), "{told}");
    let no_plug = flex("no-plug", &["--yes"]);
    assert_eq!(no_plug.status, 2, "{}", no_plug.out);
    assert!(
        words(&no_plug.out).contains("at rest nothing at the far end: no plug"),
        "{}",
        no_plug.out
    );
}

/// A data conductor that opens twice a second.
pub(crate) fn nicked() -> Scene {
    Scene::built_in("flex-nicked").expect("built in")
}

fn begun(data: &std::path::Path, port: &std::path::Path, arguments: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_runproof"))
        .args(["flex", "--yes", "--port"])
        .arg(port)
        .args(arguments)
        .env("XDG_DATA_HOME", data)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(std::fs::File::create(data.join("told")).expect("a file"))
        .spawn()
        .expect("it starts")
}

fn told(data: &std::path::Path) -> String {
    std::fs::read_to_string(data.join("told")).unwrap_or_default()
}

fn within<T>(seconds: u64, mut look: impl FnMut() -> Option<T>) -> T {
    let begun = Instant::now();
    loop {
        if let Some(seen) = look() {
            return seen;
        }
        assert!(begun.elapsed() < Duration::from_secs(seconds), "it did not come");
        thread::sleep(Duration::from_millis(10));
    }
}

/// Told to end, or cut off, it keeps what it saw.
#[test]
fn whatever_ends_it_leaves_a_record() {
    for signal in ["TERM", "INT", "HUP"] {
        let data = folder(&format!("flex ended by {signal}"));
        let jig = Plugged::into(&data, nicked());
        let mut child = begun(&data, &jig.path, &[]);
        let mut out = BufReader::new(child.stdout.take().expect("a pipe"));
        let mut input = child.stdin.take().expect("a pipe");
        let mut line = String::new();
        let mut all = String::new();
        while !line.contains("broke for") {
            all += &line;
            line.clear();
            assert!(out.read_line(&mut line).expect("UTF-8") > 0, "it ended: {all}{}", told(&data));
        }
        input.write_all(b"at the elbow\n").expect("it listens");
        while !line.contains("at the elbow") {
            line.clear();
            assert!(out.read_line(&mut line).expect("UTF-8") > 0, "it ended");
        }
        let id = child.id().to_string();
        let kill = Command::new("kill").args([&format!("-{signal}"), id.as_str()]).status();
        assert!(kill.expect("kill").success());
        let status = within(10, || child.try_wait().expect("ours"));
        assert_eq!(status.code(), Some(1), "{signal}: {status}, {}", told(&data));
        let shown = runproof_keeping(&data, &["records", "show", "1"]);
        let told = words(&shown.out);
        assert!(told.contains("FAIL: data− broke"), "{signal}: {told}");
        assert!(told.contains("“at the elbow”: data− broke"), "{signal}: {told}");
        assert_eq!(told.contains("broken off"), signal != "INT", "{signal}: {told}");
    }
}

#[test]
fn a_jig_that_comes_back_is_watched_on_and_one_that_does_not_leaves_a_record() {
    let data = folder("flex unplugged");
    let mut jig = Plugged::into(&data, nicked());
    let mut child = begun(&data, &jig.path, &["--json"]);
    let mut out = BufReader::new(child.stdout.take().expect("a pipe"));
    let mut next = |wanted: &str| loop {
        let mut line = String::new();
        assert!(out.read_line(&mut line).expect("UTF-8") > 0, "it ended before {wanted}");
        let (key, value) = lines(&line).pop().expect("a line");
        if key == wanted {
            return value;
        }
    };
    next("event");
    jig.unplug();
    next("lost");
    jig.plug_in(nicked());
    let after_s = next("found-again")["after_s"].as_f64().expect("a number");
    assert!(after_s < 10.0);
    let event = next("event");
    assert!(event["t_s"].as_f64().expect("a number") > after_s, "{event}");
    jig.unplug();
    let told = next("result");
    let status = within(20, || child.try_wait().expect("ours"));
    assert_eq!(status.code(), Some(1));
    assert_eq!(told["watches"].as_array().map(Vec::len), Some(2), "{told}");
    let gap = &told["watches"][0]["gaps"];
    assert!(gap.as_array().is_some_and(|all| !all.is_empty()), "{gap}");
    assert!(told["broken_off"].is_string(), "{told}");
    let shown = runproof_keeping(&data, &["records", "show", "1"]);
    assert!(words(&shown.out).contains("broken off"), "{}", shown.out);
}
