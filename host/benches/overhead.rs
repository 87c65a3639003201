//! What the host adds to a check, from its port's bytes to the screen: one whole check of the simulated jig, stage by
//! stage, and by frame. Writes no file but the capture that the program reads.

#[path = "../../tests/support/host.rs"]
mod host;

use std::hint::black_box;
use std::path::Path;
use std::process::{Command, Stdio};

use criterion::{Criterion, Throughput};
use host::Host;
use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::capture::{Capture, Ending, PhaseEnd, head_from};
use runproof_interpret::{LimitSheet, RunKnowledge, judge};
use runproof_protocol::frame::{self, MAX_FRAME};
use runproof_protocol::{Decoded, Decoder, Event, Phase};

/// As a port gives it.
const CHUNK_BYTES: usize = 1024;

/// From one phase to the next: the plug goes in.
const BETWEEN_NANOS: u64 = 150_000_000;

/// All that a jig says in both phases, as it says it.
fn said(scene: &str) -> (Vec<u8>, u64) {
    let mut host = Host::on(Scene::built_in(scene).expect("built in"), 1);
    let (mut bytes, mut frames) = (vec![], 0);
    for phase in [Phase::Open, Phase::Plug] {
        host.measure(phase);
        for event in std::mem::take(&mut host.events) {
            let mut out = [0; MAX_FRAME];
            bytes.extend(frame::encode(&event, &mut out).expect("fits"));
            frames += 1;
        }
        host.listen(host.jig.now() + BETWEEN_NANOS);
    }
    (bytes, frames)
}

fn events(bytes: &[u8]) -> Vec<Event> {
    let mut decoder = Decoder::default();
    let mut events = vec![];
    for mut bytes in bytes.chunks(CHUNK_BYTES) {
        while let Some(found) = decoder.next(&mut bytes) {
            if let Decoded::Message(event) = found {
                events.push(event);
            }
        }
    }
    events
}

fn capture(events: &[Event]) -> Capture {
    let identity = runproof_firmware::identity("simulated", "");
    let mut capture = Capture::new(head_from(&identity, "bench").expect("a plausible jig"));
    for event in events {
        capture.push_event(event);
        if let Event::Done { phase, patterns } = *event {
            let ending = Ending::Done { patterns: patterns.into() };
            capture.end(PhaseEnd { phase, ending });
        }
    }
    capture
}

/// The program from its start to its end: it reads the capture, judges it, finds the words and prints them.
fn screen(file: &Path) {
    let program = env!("CARGO_BIN_EXE_runproof");
    let ran = Command::new(program).arg("judge").arg(file).stdout(Stdio::null()).status();
    assert!(ran.expect("the program starts").code().is_some_and(|status| status <= 2));
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let (sheet, known) = (LimitSheet::service_24vac(), RunKnowledge::default());
    for scene in ["good-run", "crossed-supply"] {
        let (bytes, frames) = said(scene);
        let events_heard = events(&bytes);
        let taken = capture(&events_heard);
        assert_eq!(events_heard.len() as u64, frames);
        println!("{scene}: {frames} frames of {} bytes", bytes.len());
        let mut group = criterion.benchmark_group(scene);
        group.throughput(Throughput::Elements(frames));
        group.bench_function("bytes to frames", |bencher| {
            bencher.iter(|| events(black_box(&bytes)));
        });
        group.bench_function("frames to capture", |bencher| {
            bencher.iter(|| capture(black_box(&events_heard)));
        });
        group.bench_function("capture to judgement", |bencher| {
            bencher.iter(|| judge(black_box(&taken), &sheet, &known));
        });
        group.bench_function("bytes to judgement", |bencher| {
            bencher.iter(|| judge(&capture(&events(black_box(&bytes))), &sheet, &known));
        });
        let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("overhead-{scene}.jsonl"));
        std::fs::write(&file, taken.write()).expect("a folder to write to");
        group.bench_function("program, from capture to screen", |bencher| {
            bencher.iter(|| screen(&file));
        });
        group.finish();
    }
    criterion.final_summary();
}
