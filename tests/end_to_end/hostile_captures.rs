//! Captures that are damaged on purpose: told, in time, and never with much memory.

use std::fs;
use std::time::{Duration, Instant};

use crate::bad_input::complains;
use crate::peak::small;
use crate::program::{Ran, folder, runproof};

/// The most that a capture may have, and a little more.
const BYTES: usize = 8 << 20;

fn judged(name: &str, text: &[u8]) -> Ran {
    let file = folder(&format!("hostile-{name}")).join("capture.jsonl");
    fs::write(&file, text).expect("written");
    let begun = Instant::now();
    let ran = small(name, &["judge", file.to_str().expect("UTF-8")]);
    assert!(begun.elapsed() < Duration::from_secs(60), "{name}: {:?}", begun.elapsed());
    fs::remove_file(&file).expect("removed");
    ran
}

/// A capture that can be judged.
fn whole(test: &str) -> String {
    let file = folder(&format!("hostile-{test}-whole")).join("capture.jsonl");
    let path = file.to_str().expect("UTF-8");
    assert_eq!(runproof(&["check", "--simulate", "good-run", "--save", path]).status, 0);
    fs::read_to_string(file).expect("saved")
}

fn head(test: &str) -> String {
    whole(test).lines().next().expect("a head").to_owned() + "\n"
}

#[test]
fn braces() {
    complains(&judged("braces", &vec![b'{'; BYTES]), 5, "line 1: more than 4096 bytes in a line");
    complains(&judged("too-many-braces", &vec![b'{'; BYTES + 1]), 5, "is larger than");
    complains(&judged("lines-of-braces", &"{\n".repeat(BYTES / 2).into_bytes()), 5, "line 1: ");
}

#[test]
fn deep_nesting() {
    for (name, open) in [("deep-lists", "["), ("deep-objects", "{\"a\":")] {
        let deep = format!("{}{{\"a\":{}\n", head("deep_nesting"), open.repeat(4000 / open.len()));
        complains(&judged(name, deep.as_bytes()), 5, "line 2: not a JSON object");
    }
}

#[test]
fn a_million_short_lines() {
    let numbers = head("a_million_short_lines") + &"1\n".repeat(1_000_000);
    complains(&judged("numbers", numbers.as_bytes()), 5, "line 2: not a JSON object");
    let empty = head("a_million_short_lines") + &"\n".repeat(1_000_000) + "{}";
    complains(&judged("empty-lines", empty.as_bytes()), 5, "more than 40000 lines");
    let end = "{\"end\":\"lost\",\"phase\":\"plug\"}\n";
    let ends = head("a_million_short_lines") + &end.repeat(250_000);
    complains(&judged("ends", ends.as_bytes()), 5, "more than 40000 lines");
}

#[test]
fn giant_numbers() {
    let whole = whole("giant_numbers");
    for (name, from, to) in [
        ("exponent", "\"volts\":", "\"volts\":1e999999999,\"x\":"),
        ("digits", "\"volts\":", &format!("\"volts\":{},\"x\":", "9".repeat(3000))),
        ("fraction", "\"t_us\":", "\"t_us\":0.5,\"x\":"),
        ("negative", "\"pattern\":", "\"pattern\":-1,\"x\":"),
        ("ohms", "\"pull_ohm\":", "\"pull_ohm\":1e300,\"x\":"),
    ] {
        assert!(whole.contains(from), "{from}");
        complains(&judged(name, whole.replacen(from, to, 1).as_bytes()), 5, "line ");
    }
}

#[test]
fn a_plug_that_cannot_be() {
    let text = whole("a_plug_that_cannot_be").replacen("33.2", "3320.0", 1);
    let ran = judged("plug", text.as_bytes());
    complains(&ran, 5, "line 1: `plug.ring_ohm` is 3320; it can be 10 to 1000");
}

#[test]
fn huge_texts() {
    let text = "x".repeat(BYTES / 2);
    let long = format!(
        "{}{{\"end\":\"lost\",\"phase\":\"plug\",\"reason\":\"{text}\"}}\n",
        head("huge_texts")
    );
    complains(&judged("long-text", long.as_bytes()), 5, "line 2: more than 4096 bytes in a line");
    let text = "x".repeat(3000);
    let line = format!("{{\"end\":\"lost\",\"phase\":\"plug\",\"reason\":\"{text}\"}}\n");
    let many = head("huge_texts") + &line.repeat(BYTES / line.len() - 1);
    assert_eq!(judged("many-texts", many.as_bytes()).status, 2);
    let keys: String = (0..400).map(|n| format!("\"{n}\":[],")).collect();
    let line = format!("{{{keys}\"end\":\"lost\",\"phase\":\"plug\"}}\n");
    let many = head("huge_texts") + &line.repeat(BYTES / line.len() - 1);
    assert_eq!(judged("many-keys", many.as_bytes()).status, 2);
}

/// As many readings as a capture may have, all of them good.
#[test]
fn the_largest_capture() {
    let whole = whole("the_largest_capture");
    let (head, readings) = whole.split_once('\n').expect("a head");
    let lines: Vec<_> = readings.lines().cycle().take(39_000).collect();
    let mut largest = format!("{head}\n{}\n", lines.join("\n"));
    largest.truncate(largest[..largest.len().min(BYTES)].rfind('\n').expect("lines") + 1);
    let ran = judged("largest", largest.as_bytes());
    assert!(ran.status <= 2, "{}", ran.err);
}
