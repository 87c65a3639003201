//! Reels, measured by the engine on the simulated board: what was lost, or changed between the readings, never passes.

use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::capture::{Capture, Entry};
use runproof_interpret::judgement::{ReelFindingKind, ReelJudgement, Verdict};
use runproof_interpret::reel::Declared;
use runproof_interpret::{LimitSheet, judge_reel};
use runproof_protocol::Phase;

use crate::host::Host;
use crate::measured::phases;

const APART_NANOS: u64 = 120_000_000_000;

/// Of a built-in reel, the second reading of another one where that is told.
fn measured(first: &str, second: Option<&str>) -> Capture {
    let on = |name: &str| Host::on(Scene::built_in(name).expect("built in"), 1);
    let mut host = on(first);
    let mut capture = phases(&mut host, &[Phase::Open, Phase::Plug]);
    let declared = Declared {
        gauge: "18awg-solid".parse().ok(),
        copper_c: "18..22C".parse().ok(),
        marks: "0ft..246ft".parse().ok(),
        ..Declared::default()
    };
    capture.entries.insert(0, Entry::Reel(Box::new(declared)));
    capture.entries.push(Entry::ReelAgain);
    if let Some(second) = second {
        host = on(second);
        phases(&mut host, &[Phase::Open]);
    }
    host.listen(host.jig.now() + APART_NANOS);
    capture.entries.extend(phases(&mut host, &[Phase::Plug]).entries);
    capture
}

fn judged(capture: &Capture) -> ReelJudgement {
    judge_reel(capture, &LimitSheet::reel())
}

#[test]
fn a_pattern_that_was_lost_never_passes() {
    let whole = measured("reel-copper", None);
    assert_eq!(judged(&whole).verdict, Verdict::Pass);
    let again = whole.entries.iter().position(|entry| *entry == Entry::ReelAgain).expect("it");
    let numbered = |n: usize| match &whole.entries[n] {
        Entry::Reading(reading) => Some((n > again, reading.phase, reading.pattern)),
        Entry::Rise(rise) => Some((n > again, rise.phase, rise.pattern)),
        _ => None,
    };
    let mut all: Vec<_> = (0..whole.entries.len()).filter_map(numbered).collect();
    all.dedup();
    assert!(all.len() > 100, "{}", all.len());
    for lost in all.iter().step_by(7) {
        let kept = (0..whole.entries.len()).filter(|n| numbered(*n).as_ref() != Some(lost));
        let entries = kept.map(|n| whole.entries[n].clone()).collect();
        let verdict = judged(&Capture { head: whole.head.clone(), entries }).verdict;
        assert_eq!(verdict, Verdict::CannotTell, "{lost:?}");
    }
}

#[test]
fn readings_that_end_early_or_come_thrice_never_pass() {
    let whole = measured("reel-copper", None);
    for left in (0..whole.entries.len()).step_by(23) {
        let entries = whole.entries[..left].to_vec();
        let verdict = judged(&Capture { head: whole.head.clone(), entries }).verdict;
        assert_ne!(verdict, Verdict::Pass, "{left} of {}", whole.entries.len());
    }
    let mut thrice = whole.clone();
    let again = thrice.entries.iter().position(|entry| *entry == Entry::ReelAgain).expect("it");
    thrice.entries.extend_from_within(again..);
    assert_eq!(judged(&thrice).verdict, Verdict::CannotTell);
    assert!(judged(&thrice).found(ReelFindingKind::NotReadTwice));
}

#[test]
fn a_second_reading_of_another_reel_gives_no_length() {
    let mixed = judged(&measured("reel-copper", Some("reel-thin")));
    assert!(mixed.found(ReelFindingKind::StillWarming), "{:?}", mixed.findings);
    assert_eq!((mixed.verdict, mixed.length_m), (Verdict::CannotTell, None));
}

/// As text and back it is the same, declared and all.
#[test]
fn a_reels_capture_comes_back_from_text() {
    let capture = measured("reel-copper", None);
    let again = Capture::read(&capture.write()).expect("a capture");
    assert_eq!(again, capture);
    assert_eq!(judged(&again), judged(&capture));
    let wrong = capture.write().replace("\"gauge\":\"18 AWG solid\"", "\"gauge\":\"5 AWG\"");
    assert!(Capture::read(&wrong).is_err(), "no such gauge");
}
