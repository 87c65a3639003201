//! Whole trips on simulated runs: what is done when, and what comes of it.

use std::fs;
use std::io::{Read, Write};
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::program::{Ran, folder, runproof};
use crate::terminal::terminal;

const RUN: &str = "\n[run]\nlength_m = 30.0\nohm_per_km = 20.95\ncopper_c = 20.0\n\
                   arrives_at = [1, 2, 3, 4]\n";

/// A check of a scene of one's own: what came of it, and all that was measured.
fn check(name: &str, plug: &str, more: &str, arguments: &[&str]) -> (Ran, Vec<Value>) {
    let folder = folder(&format!("trip-{name}"));
    let scene = folder.join("scene.toml");
    let text = format!("about = \"a trip\"\nplug = \"{plug}\"\n{RUN}{more}");
    fs::write(&scene, text).expect("written");
    let saved = folder.join("capture.jsonl");
    let paths = [&scene, &saved].map(|path| path.to_str().expect("UTF-8").to_owned());
    let check = ["check", "--simulate", &paths[0], "--save", &paths[1]];
    let ran = runproof(&[&check[..], arguments].concat());
    let lines = fs::read_to_string(saved).expect("saved");
    let lines = lines.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    (ran, lines)
}

/// When the first and the last reading of a phase were taken, in seconds of the jig's clock.
fn span_s(capture: &[Value], phase: &str) -> (f64, f64) {
    let times = capture.iter().filter(|line| line["phase"] == phase);
    let times: Vec<f64> = times.filter_map(|line| line["t_us"].as_f64()).map(|t| t / 1e6).collect();
    (times[0], times[times.len() - 1])
}

fn ends(capture: &[Value]) -> Vec<(&str, &str)> {
    let ends = capture.iter().filter_map(|line| Some((line["end"].as_str()?, line)));
    ends.map(|(end, line)| (line["phase"].as_str().expect("a phase"), end)).collect()
}

const DONE: [(&str, &str); 2] = [("open", "done"), ("plug", "done")];

/// A device is lifted at 2.5 s, the run stands open for 3 s, is measured, and the key goes in.
#[test]
fn a_device_is_lifted_and_the_plug_goes_in() {
    let device = "[[left_on]]\nbetween = [1, 2]\nohm = 120.0\nuntil_s = 2.5\n";
    let (ran, capture) = check("lifted", "goes-in", device, &[]);
    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert_eq!(ends(&capture), DONE);
    let (open, plug) = (span_s(&capture, "open"), span_s(&capture, "plug"));
    assert!((5.5..6.8).contains(&open.0), "{open:?}");
    assert!(plug.0 > open.1 + 0.5 && plug.0 < open.1 + 2.0, "{open:?} {plug:?}");
}

/// What is lifted only after the open phase outdates it: it is measured again, and once in the capture.
#[test]
fn a_device_that_is_lifted_late_is_measured_again() {
    let device = "[[left_on]]\nbetween = [3, 4]\nohm = 3.0\nuntil_s = 8.0\n";
    let (ran, capture) = check("late", "out", device, &[]);
    assert_eq!(ends(&capture), DONE);
    assert_eq!(ran.err.matches("measured: the open run").count(), 2, "{}", ran.err);
    let (begin, _) = span_s(&capture, "open");
    assert!((11.0..12.3).contains(&begin), "{begin}");
}

#[test]
fn a_key_that_is_in_from_the_start_is_asked_for_and_proves_nothing() {
    let (ran, capture) = check("in", "in", "", &[]);
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert_eq!(ran.err.matches("take the key out").count(), 1, "{}", ran.err);
    assert_eq!(ends(&capture), DONE);
    assert!(ran.out.contains("its key was not out"), "{}", ran.out);
    let (open, plug) = (span_s(&capture, "open"), span_s(&capture, "plug"));
    assert!(open.0 > 20.0 && plug.0 > open.1 + 20.0, "{open:?} {plug:?}");
}

#[test]
fn a_plug_that_never_comes_is_waited_for_and_then_missed() {
    let (ran, capture) = check("out", "out", "", &["--wait", "5s"]);
    assert_eq!(ran.status, 2, "{}", ran.out);
    assert!(ran.out.contains("no end plug was found"), "{}", ran.out);
    let (open, plug) = (span_s(&capture, "open"), span_s(&capture, "plug"));
    assert!(plug.0 > open.1 + 5.0 && plug.0 < open.1 + 6.5, "{open:?} {plug:?}");
}

#[test]
fn with_yes_nothing_is_waited_for() {
    let (ran, capture) = check("yes", "goes-in", "", &["--yes", "--json"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert_eq!(ends(&capture), DONE);
    let (open, plug) = (span_s(&capture, "open"), span_s(&capture, "plug"));
    assert!(open.0 < 0.1 && plug.0 > open.1 + 0.3 && plug.0 < open.1 + 1.0, "{open:?} {plug:?}");
}

/// Voltage that comes on while the jig waits ends the check; nothing is driven after it.
#[test]
fn voltage_in_a_glance_ends_the_check() {
    let source = "[[source]]\nbetween = [4, 3]\nvolts_rms = 24.0\nhertz = 60.0\n\
                  through = { ohm = 1.5 }\nfrom_s = 1.7\n";
    let (ran, capture) = check("hazard", "out", source, &["--json"]);
    assert_eq!(ran.status, 2, "{}", ran.err);
    let result = ran.json();
    assert_eq!(result["findings"][0]["kind"], "hazard");
    assert!(result["broken_off"].as_str().is_some_and(|why| why.contains("voltage")), "{result}");
    assert_eq!(ends(&capture), [("glance", "hazard")]);
}

#[test]
fn the_trip_is_told_by_post_and_terminal() {
    let (ran, _) = check("told", "goes-in", "", &[]);
    let told = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("1 on data+, 2 on data−, 3 on common, 4 on supply"), "{told}");
    assert!(!ran.err.contains('\r'), "{}", ran.err);
}

/// At a terminal one line is rewritten, up to the last pattern of each phase; and without Enter this
/// check would wait for a day.
#[test]
fn on_a_terminal_enter_measures_the_next_phase() {
    let (master, path) = terminal();
    let open = || fs::File::options().read(true).write(true).open(&path).expect("opens");
    let mut program = Command::new("timeout")
        .args(["--foreground", "60", env!("CARGO_BIN_EXE_runproof")])
        .args(["check", "--simulate", "no-plug", "--wait", "24h", "--no-record"])
        .stdin(open())
        .stdout(Stdio::null())
        .stderr(open())
        .spawn()
        .expect("starts");
    let mut far = fs::File::from(master);
    let mut told = String::new();
    let mut buffer = [0; 4096];
    for last in ["capacitance 86 of 86", "each pair 50 of 50"] {
        while !told.contains(last) {
            let used = far.read(&mut buffer).expect("it goes on");
            told += &String::from_utf8_lossy(&buffer[..used]);
        }
        far.write_all(b"\n").expect("Enter");
    }
    assert_eq!(program.wait().expect("ends").code(), Some(2));
    assert!(told.contains("waiting for the key") && told.contains('\r'), "{told}");
}
