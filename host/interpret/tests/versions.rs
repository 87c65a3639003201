//! Every version of a capture that was ever written stays readable, and its verdict the same: a file of
//! each.

use runproof_interpret::judgement::{FindingKind, Place, Verdict};
use runproof_interpret::{Capture, LimitSheet, RunKnowledge, judge};
use runproof_protocol::Post;

/// By the simulated jig of seed 7 on a run whose splice rolled three cores, and wires touched at both
/// ends. Each conductor has 20.95 Ω/km × 21 m at 22 °C: 0.443 Ω, give or take its siblings' spread.
#[test]
fn version_1() {
    let text = include_str!("captures/version-1.jsonl");
    let capture = Capture::read(text).expect("it can be read");
    assert_eq!(capture.touches().count(), 8);
    let judgement = judge(&capture, &LimitSheet::service_24vac(), &RunKnowledge::default());
    assert_eq!(judgement.verdict, Verdict::Fail);
    let reaches: Vec<_> = judgement.conductors.iter().map(|one| one.reaches).collect();
    assert_eq!(reaches, [Post::P2, Post::P3, Post::P1, Post::P4].map(Some));
    let [crossed] = judgement.findings.as_slice() else { panic!("{:?}", judgement.findings) };
    assert_eq!((crossed.kind, &crossed.places[..]), (FindingKind::Crossed, &[Place::Run][..]));
    for conductor in &judgement.conductors {
        let off_ohm = conductor.resistance_ohm.expect("known") - 0.443;
        assert!(off_ohm.abs() < 0.1, "{conductor:?}");
    }
    // What is written again is what was read.
    assert_eq!(Capture::read(&capture.write()), Ok(capture));
}
