//! What can be wrong at the other end of the port: each is told, and none gives a verdict.

use std::fs::File;
use std::io::{Read, Write};
use std::thread;

use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{Capabilities, Command, Decoded, Decoder, Event, Phase};

use crate::program::{Ran, runproof};
use crate::terminal::{raw, terminal};

fn check(port: &str) -> Ran {
    runproof(&["check", "--port", port, "--json"])
}

/// Runs `check` against a far end that answers each command with the bytes that `answer` gives, and
/// hangs up when it gives none.
fn against(mut answer: impl FnMut(Command) -> Option<Vec<u8>> + Send + 'static) -> Ran {
    let (master, port) = terminal();
    let held = raw(&port);
    let far_end = thread::spawn(move || {
        let mut far_end = File::from(master);
        let mut decoder = Decoder::default();
        let mut buffer = [0; 256];
        while let Ok(used) = far_end.read(&mut buffer) {
            let mut bytes = &buffer[..used];
            while let Some(found) = decoder.next(&mut bytes) {
                let Decoded::Message(command) = found else { continue };
                let Some(answer) = answer(command) else { return };
                far_end.write_all(&answer).expect("written");
            }
        }
    });
    let ran = check(&port);
    drop(held);
    far_end.join().expect("the far end ends");
    ran
}

fn framed(event: &Event) -> Vec<u8> {
    let mut out = [0; MAX_FRAME];
    frame::encode(event, &mut out).expect("fits").to_vec()
}

fn hello(version: u16, nonce: u32) -> Vec<u8> {
    let capabilities = Capabilities { open_phase: true, plug_phase: true, glance: true };
    framed(&Event::Hello { version, nonce, capabilities })
}

fn identity() -> Vec<u8> {
    framed(&Event::Identity(runproof_firmware::identity("test", "stand-in")))
}

#[test]
fn a_jig_of_a_newer_version() {
    let ran = against(|command| match command {
        Command::Hello { nonce, .. } => Some(hello(2, nonce)),
        _ => Some(vec![]),
    });
    assert_eq!(ran.status, 4, "{}", ran.err);
    assert!(ran.err.contains("speaks version 2"), "{}", ran.err);
    assert!(ran.err.contains("install the runproof"), "{}", ran.err);
}

#[test]
fn a_jig_of_an_older_version() {
    let ran = against(|command| match command {
        Command::Hello { nonce, .. } => Some(hello(0, nonce)),
        _ => Some(vec![]),
    });
    assert_eq!(ran.status, 4, "{}", ran.err);
    assert!(ran.err.contains("put the firmware"), "{}", ran.err);
}

#[test]
fn a_port_that_speaks_something_else() {
    let ran = against(|_| Some(b"login: \0password: \0".to_vec()));
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("is not a jig"), "{}", ran.err);
}

#[test]
fn a_port_that_says_nothing() {
    let ran = against(|_| Some(vec![]));
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("no jig answers"), "{}", ran.err);
}

/// Bytes of an earlier conversation: a hello with another nonce, a whole phase's end, half a frame.
#[test]
fn stale_bytes_are_not_taken_for_an_answer() {
    let ran = against(|command| match command {
        Command::Hello { nonce, .. } => {
            let stale = [
                hello(7, nonce.wrapping_add(1)),
                framed(&Event::Done { phase: Phase::Plug, patterns: 0 }),
                identity()[..9].to_vec(),
                vec![0],
            ];
            Some([stale.concat(), hello(1, nonce)].concat())
        }
        Command::Identify => Some(identity()),
        _ => None,
    });
    // The conversation began; that the far end then hung up is a lost measurement, not a verdict.
    assert_eq!(ran.status, 2, "{}", ran.err);
    assert_eq!(ran.json()["findings"][0]["cause"], "lost");
}

#[test]
fn a_cable_that_is_pulled_during_a_measurement() {
    let ran = against(|command| match command {
        Command::Hello { nonce, .. } => Some(hello(1, nonce)),
        Command::Identify => Some(identity()),
        Command::Measure { .. } => None,
        _ => Some(vec![]),
    });
    assert_eq!(ran.status, 2, "{}", ran.err);
    let result = ran.json();
    assert_eq!(result["verdict"], "cannot-tell");
    assert_eq!(result["findings"][0]["cause"], "lost");
    assert_eq!(result["jig"]["serial"], "stand-in");
}

#[test]
fn a_port_that_another_program_has() {
    let (_master, port) = terminal();
    let _taken = serialport::new(&port, 115_200).open_native().expect("opened first");
    let ran = check(&port);
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("in use by another program"), "{}", ran.err);
}
