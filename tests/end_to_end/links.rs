//! What can be wrong at the other end of the port: each is told, and none gives a verdict.

use std::fs;
use std::time::Duration;

use runproof_protocol::{Command, Event, Milliohms, Phase, Restart, Signs, VERSION};

use crate::far_end::{
    NOTHING, Then, against, against_speaking, framed, heartbeat, hello, identity, jig, patterns,
    started,
};
use crate::program::{Ran, folder, runproof};
use crate::terminal::terminal;

fn check(port: &str) -> Ran {
    runproof(&["check", "--port", port, "--yes", "--json"])
}

/// The measurement was lost: no verdict, and why.
fn is_lost(ran: &Ran, why: &str) {
    assert_eq!(ran.status, 2, "{}", ran.err);
    let result = ran.json();
    assert_eq!(result["verdict"], "cannot-tell");
    assert_eq!(result["findings"][0]["cause"], "lost");
    let told = result["broken_off"].as_str().unwrap_or_default();
    assert!(told.contains(why), "{told}");
}

fn of_version(version: u16) -> Ran {
    let answer = move |command| match command {
        Command::Hello { nonce, .. } => Then::Say(hello(version, nonce)),
        _ => NOTHING,
    };
    against(answer, check)
}

#[test]
fn a_jig_of_a_newer_version() {
    let ran = of_version(2);
    assert_eq!(ran.status, 4, "{}", ran.err);
    assert!(ran.err.contains("speaks version 2"), "{}", ran.err);
    assert!(ran.err.contains("install the runproof"), "{}", ran.err);
}

/// It is told before anything is measured.
#[test]
fn a_jig_that_started_anew_by_itself() {
    let mut rest = jig(|| Then::HangUpAfter(vec![]));
    let answer = move |command| match command {
        Command::Hello { nonce, .. } => {
            let restarted = framed(&Event::Restarted(Restart::Hung));
            Then::Say([hello(VERSION, nonce), restarted].concat())
        }
        command => rest(command),
    };
    let ran = against(answer, check);
    assert_eq!(ran.status, 2, "{}", ran.err);
    let told = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("has started anew by itself since it was switched on: it hung"),
        "{told}"
    );
    let quiet = against(jig(|| Then::HangUpAfter(vec![])), check);
    assert!(!quiet.err.contains("started anew"), "{}", quiet.err);
}

#[test]
fn a_jig_of_an_older_version() {
    let ran = of_version(0);
    assert_eq!(ran.status, 4, "{}", ran.err);
    assert!(ran.err.contains("put the firmware"), "{}", ran.err);
}

#[test]
fn a_jig_that_says_parts_it_cannot_have() {
    let mut identity = runproof_firmware::identity("test", "stand-in");
    identity.parts.pull = Milliohms(10_000);
    let answer = move |command| match command {
        Command::Hello { nonce, .. } => Then::Say(hello(1, nonce)),
        Command::Identify => Then::Say(framed(&Event::Identity(identity.clone()))),
        _ => NOTHING,
    };
    let ran = against(answer, check);
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("`jig.pull_ohm` is 10; it can be 20000 to 1000000"), "{}", ran.err);
    assert!(ran.err.contains("put its firmware on it again"), "{}", ran.err);
}

#[test]
fn a_port_that_speaks_something_else() {
    let ran = against(|_| Then::Say(b"login: \0password: \0".to_vec()), check);
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("is not a jig"), "{}", ran.err);
}

#[test]
fn a_port_that_says_nothing() {
    let ran = against(|_| NOTHING, check);
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("no jig answers"), "{}", ran.err);
}

/// Bytes of an earlier conversation: a hello with another nonce, a whole phase, half a frame.
#[test]
fn stale_bytes_are_not_taken_for_an_answer() {
    let done = framed(&Event::Done { phase: Phase::Open, patterns: 3 });
    let answer = move |command| match command {
        Command::Hello { nonce, .. } => Then::Say(
            [
                hello(7, nonce.wrapping_add(1)),
                started(),
                patterns(3),
                done.clone(),
                identity()[..9].to_vec(),
                vec![0],
                hello(1, nonce),
            ]
            .concat(),
        ),
        Command::Identify => Then::Say(identity()),
        // It goes on about the earlier measurement, and never begins this one.
        Command::Measure { .. } => Then::Say([patterns(3), done.clone()].concat()),
        _ => NOTHING,
    };
    let file = folder("stale").join("capture.jsonl");
    let path = file.to_str().expect("UTF-8");
    let ran = against(answer, |port| {
        runproof(&["check", "--port", port, "--yes", "--json", "--no-record", "--save", path])
    });
    is_lost(&ran, "did not begin");
    let saved = fs::read_to_string(&file).expect("saved");
    assert_eq!(saved.lines().count(), 2, "a head and an end: {saved}");
}

#[test]
fn a_cable_that_is_pulled_before_a_measurement() {
    let ran = against(jig(|| Then::HangUpAfter(vec![])), check);
    is_lost(&ran, "");
    assert_eq!(ran.json()["jig"]["serial"], "stand-in");
}

#[test]
fn a_cable_that_is_pulled_during_a_measurement() {
    let file = folder("pulled").join("capture.jsonl");
    let path = file.to_str().expect("UTF-8");
    let some = || Then::HangUpAfter([started(), patterns(5)].concat());
    let ran = against(jig(some), |port| {
        runproof(&["check", "--port", port, "--yes", "--json", "--no-record", "--save", path])
    });
    is_lost(&ran, "");
    let saved = fs::read_to_string(&file).expect("saved");
    assert_eq!(saved.lines().count(), 1 + 5 + 1, "a head, five readings, an end: {saved}");
    let judged = runproof(&["judge", path, "--json"]);
    assert_eq!((judged.status, judged.json()), (2, ran.json()));
}

#[test]
fn a_jig_that_falls_silent_during_a_measurement() {
    let ran = against(jig(|| Then::Say([started(), patterns(5)].concat())), check);
    is_lost(&ran, "fell silent");
}

const NOW_AND_THEN: Duration = Duration::from_millis(100);

#[test]
fn a_jig_that_beats_and_never_begins() {
    let ran = against_speaking((heartbeat(), NOW_AND_THEN), jig(|| NOTHING), check);
    is_lost(&ran, "did not begin");
}

#[test]
fn a_jig_that_beats_and_never_ends() {
    let begun = || Then::Say([started(), patterns(5)].concat());
    let ran = against_speaking((heartbeat(), NOW_AND_THEN), jig(begun), check);
    is_lost(&ran, "still measuring");
}

/// What the host gave up, the jig is told to end: nothing stays driven. Then its lamps say so too.
#[test]
fn a_jig_that_was_given_up_is_told_to_stop() {
    let (told, heard) = std::sync::mpsc::channel();
    let mut measuring = false;
    let mut jig = jig(|| Then::Say(started()));
    let answer = move |command| {
        measuring |= matches!(command, Command::Measure { .. });
        if measuring {
            told.send(command.clone()).expect("the test listens");
        }
        jig(command)
    };
    is_lost(&against(answer, check), "fell silent");
    let heard: Vec<_> = heard.iter().collect();
    let shown = Command::Show(Signs::CANNOT_TELL);
    assert_eq!(heard, [Command::Measure { phase: Phase::Open }, Command::Abort, shown]);
}

#[test]
fn a_port_that_another_program_has() {
    let (_master, port) = terminal();
    let _taken = serialport::new(&port, 115_200).open_native().expect("opened first");
    let ran = check(&port);
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("in use by another program"), "{}", ran.err);
}
