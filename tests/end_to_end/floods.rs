//! A port that never stops talking: the program gives up in time, and stays small.

use std::time::{Duration, Instant};

use crate::far_end::{NOTHING, Then, against_speaking, heartbeat, jig, patterns, started};
use crate::peak::small;
use crate::program::Ran;

/// Without a pause.
const FLOOD: Duration = Duration::ZERO;

/// Some 64 KiB of it in one go.
fn much(of: &[u8]) -> Vec<u8> {
    of.repeat((64 << 10) / of.len())
}

fn check(name: &str, port: &str) -> Ran {
    let begun = Instant::now();
    let ran = small(name, &["check", "--port", port, "--yes", "--json"]);
    assert!(begun.elapsed() < Duration::from_secs(15), "{name}: {:?}", begun.elapsed());
    ran
}

#[test]
fn garbage() {
    let garbage: Vec<u8> =
        (0_u32..65_536).map(|n| (n.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let ran = against_speaking((garbage, FLOOD), |_| NOTHING, |port| check("garbage", port));
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("is not a jig"), "{}", ran.err);
}

#[test]
fn garbage_without_an_end_of_frame() {
    let ran = against_speaking((much(b"~"), FLOOD), |_| NOTHING, |port| check("endless", port));
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("no jig answers"), "{}", ran.err);
}

#[test]
fn heartbeats() {
    let beats = (much(&heartbeat()), FLOOD);
    let ran = against_speaking(beats, |_| NOTHING, |port| check("heartbeats", port));
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("no jig answers"), "{}", ran.err);
}

fn lost(ran: &Ran, why: &str) {
    assert_eq!(ran.status, 2, "{}", ran.err);
    let result = ran.json();
    assert_eq!(result["findings"][0]["cause"], "lost");
    let told = result["broken_off"].as_str().unwrap_or_default();
    assert!(told.contains(why), "{told}");
}

/// Its greeting gets through; then it beats without end and begins nothing.
#[test]
fn heartbeats_in_place_of_a_measurement() {
    let beats = (much(&heartbeat()), FLOOD);
    let ran = against_speaking(beats, jig(|| NOTHING), |port| check("beats-only", port));
    lost(&ran, "did not begin");
}

#[test]
fn patterns_without_end() {
    let flood = (much(&patterns(64)), FLOOD);
    let begun = || Then::Say(started());
    let ran = against_speaking(flood, jig(begun), |port| check("patterns", port));
    lost(&ran, "more than the 512 patterns");
}
