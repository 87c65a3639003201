//! A host that is killed leaves its measurement running: the next one ends it and takes its own.

use std::fs::File;
use std::io::{Read, Write};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use runproof_firmware::boards::simulated::{Scene, SimulatedJig};
use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{Command, Decoded, Decoder, Event, Phase, Stop};

use crate::program::{folder, runproof};
use crate::terminal::{raw, terminal};

const STEP: Duration = Duration::from_millis(1);

/// A simulated jig behind a port, about as fast as a real one, until nobody holds the port; returns
/// what it said.
fn serve(mut port: File, from_host: &mpsc::Receiver<Vec<u8>>) -> Vec<Event> {
    let mut jig = SimulatedJig::new(Scene::built_in("good-run").expect("built in"), 1);
    let mut decoder = Decoder::default();
    let mut said = vec![];
    let mut buffer = [0; 256];
    loop {
        match from_host.recv_timeout(STEP) {
            Ok(bytes) => {
                let mut rest = &bytes[..];
                while !rest.is_empty() {
                    rest = &rest[jig.write(rest)..];
                    jig.idle(STEP.as_nanos() as u64);
                }
            }
            Err(mpsc::RecvTimeoutError::Timeout) => {}
            Err(mpsc::RecvTimeoutError::Disconnected) => return said,
        }
        jig.run(jig.now() + STEP.as_nanos() as u64);
        let used = jig.read(&mut buffer);
        if port.write_all(&buffer[..used]).is_err() {
            return said;
        }
        let mut bytes = &buffer[..used];
        while let Some(found) = decoder.next(&mut bytes) {
            match found {
                Decoded::Message(event) => said.push(event),
                Decoded::Damaged => panic!("the jig sends whole frames"),
            }
        }
    }
}

#[test]
fn a_measurement_left_by_another_host_is_not_taken() {
    let (master, path) = terminal();
    let mut first_host = raw(&path);
    let mut reading = File::from(master.try_clone().expect("a second handle"));
    let (heard, from_host) = mpsc::channel();
    thread::spawn(move || {
        let mut buffer = [0; 64];
        while let Ok(used) = reading.read(&mut buffer) {
            let _closed = heard.send(buffer[..used].to_vec());
        }
    });
    let jig = thread::spawn(move || serve(File::from(master), &from_host));

    let mut out = [0; MAX_FRAME];
    let order = Command::Measure { phase: Phase::Plug };
    first_host.write_all(frame::encode(&order, &mut out).expect("fits")).expect("ordered");
    thread::sleep(Duration::from_millis(300)); // it is in the middle of its patterns

    let file = folder("left-running").join("capture.jsonl");
    let file = file.to_str().expect("UTF-8");
    let ran =
        runproof(&["check", "--port", &path, "--yes", "--json", "--no-record", "--save", file]);
    let judged = runproof(&["judge", file, "--json"]);
    drop(first_host);
    let said = jig.join().expect("the jig ends");

    let aborted = |event: &Event| matches!(event, Event::Stopped { reason: Stop::Aborted, .. });
    let begun = |event: &Event| matches!(event, Event::Started { .. });
    let pattern = |event: &Event| matches!(event, Event::Pattern(_));
    let whole = |event: &Event| matches!(event, Event::Done { .. });
    let count = |which: &dyn Fn(&Event) -> bool| said.iter().filter(|event| which(event)).count();
    assert_eq!((count(&begun), count(&aborted), count(&whole)), (3, 1, 2), "{said:?}");
    let first_end = said.iter().position(aborted).expect("aborted");
    assert!(said[..first_end].iter().any(pattern), "the first had not got to its patterns");

    assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
    assert_eq!((judged.status, judged.json()), (0, ran.json()));
    let saved = std::fs::read_to_string(file).expect("saved");
    let first_patterns = saved.matches("\"pattern\":0,").count();
    let last = &said[first_end..];
    let readings: usize = last
        .iter()
        .map(|event| match event {
            Event::Pattern(pattern) if pattern.index == 0 => pattern.readings.len(),
            _ => 0,
        })
        .sum();
    assert_eq!(first_patterns, readings, "each phase, once");
}
