//! What a capture of flexed runs is judged to be, and that it is the same after it was written and read.

use runproof_interpret::capture::{Capture, Entry, FlexEntry, Head, JigConstants, Plug};
use runproof_interpret::flex::{FlexLaneOf, FlexRecord, Flexed};
use runproof_interpret::judge_flex;
use runproof_interpret::judgement::{FlexFindingKind as Kind, FlexJudgement, Verdict};
use runproof_protocol::{Event, Phase, Post};

use crate::chance::Chance;
use crate::flex_bench::{Jig, Run};

pub(crate) fn capture(records: Vec<FlexRecord>) -> Capture {
    let mut capture = Capture::new(Head {
        made_by: "tests".into(),
        taken_unix_s: None,
        jig: JigConstants {
            serial: String::new(),
            board: String::new(),
            firmware: String::new(),
            series_ohm: [346.0; 4],
            series_tolerance: 0.005,
            sense_ohm: 3197.0,
            pull_ohm: 1e5,
            divider_ohm: 4.522e6,
            supply_load_ohm: None,
        },
        plug: Plug { id: String::new(), ring_ohm: [33.2, 47.5, 68.1, 150.0], tolerance: 0.001 },
    });
    records.into_iter().for_each(|record| capture.push_flex(record));
    capture
}

fn record(
    phase: Phase,
    runs: &[(u64, Run)],
    seconds: u64,
    change: impl FnOnce(&mut Vec<Event>),
) -> FlexRecord {
    let mut jig = Jig::new(phase);
    let mut events = jig.watch(runs, jig.now() + seconds * 1_000_000, &mut Chance::new(2));
    change(&mut events);
    let mut flexed = Flexed::new(jig.setup([Some(1.0), None, Some(0.5), Some(1.0)]));
    let mut news = vec![];
    events.iter().for_each(|event| flexed.hear(event, &mut news));
    flexed.mark("at the elbow: “click”");
    flexed.finish()
}

fn judged(capture: &Capture) -> FlexJudgement {
    let read = Capture::read(&capture.write()).expect("it was written");
    assert_eq!(&read, capture);
    assert!(read.is_flex());
    judge_flex(&read)
}

fn sound() -> Run {
    Run::sound([1.0, 0.8, 0.5, 1.0])
}

#[test]
fn quiet_passes_with_and_without_the_plug() {
    let with = record(Phase::Flex, &[(0, sound())], 5, |_| {});
    for phase in [Phase::FlexShorts, Phase::FlexAcross, Phase::FlexAlong] {
        let without = record(phase, &[(0, sound().unplugged())], 5, |_| {});
        let judgement = judged(&capture(vec![with.clone(), without.clone()]));
        assert_eq!((judgement.verdict, judgement.findings), (Verdict::Pass, vec![]));
        assert_eq!(judgement.watches, [with.clone(), without]);
        assert_eq!(judgement.watches[0].marks.len(), 1);
        assert!((9.0..=10.1).contains(&judgement.watched_s));
    }
}

#[test]
fn whatever_was_seen_fails() {
    let run = sound();
    let for_a_while = |run: Run, other: Run| [(0, run), (1_500_000, other), (1_560_000, run)];
    for (phase, runs, kind, lane) in [
        (
            Phase::Flex,
            for_a_while(run, run.broken(2)),
            Kind::Breaks,
            FlexLaneOf::Conductor(Post::P3),
        ),
        (
            Phase::Flex,
            for_a_while(run, run.more(0, 2.0)),
            Kind::Steps,
            FlexLaneOf::Conductor(Post::P1),
        ),
        (
            Phase::FlexShorts,
            for_a_while(run.unplugged(), run.unplugged().touching(4, 3.0)),
            Kind::Touches,
            FlexLaneOf::Pair(Post::P2, Post::P4),
        ),
    ] {
        let judgement = judged(&capture(vec![record(phase, &runs, 2, |_| {})]));
        assert_eq!(judgement.verdict, Verdict::Fail);
        let [finding] = &judgement.findings[..] else { panic!("{:?}", judgement.findings) };
        assert_eq!((finding.kind, finding.lane, finding.count), (kind, Some(lane), Some(1)));
        assert_eq!(finding.phase, Some(phase));
    }
}

#[test]
fn what_cannot_be_told_never_passes() {
    let run = sound();
    let cannot = |phase, runs: &[(u64, Run)], kind, change: fn(&mut Vec<Event>)| {
        let judgement = judged(&capture(vec![record(phase, runs, 2, change)]));
        assert_eq!(judgement.verdict, Verdict::CannotTell, "{:?}", judgement.findings);
        assert!(judgement.found(kind), "{:?}", judgement.findings);
    };
    let gone = [(0, run), (1_500_000, run.unplugged()), (1_600_000, run)];
    cannot(Phase::Flex, &gone, Kind::Untold, |_| {});
    cannot(Phase::Flex, &[(0, run.unplugged())], Kind::NeverGood, |_| {});
    cannot(Phase::FlexShorts, &[(0, run)], Kind::NeverGood, |_| {});
    cannot(Phase::Flex, &[(0, run)], Kind::NotWatched, |events| events.clear());
    cannot(Phase::Flex, &[(0, run)], Kind::Hum, |events| events.truncate(5));
    cannot(Phase::Flex, &[(0, run)], Kind::Gaps, |events| _ = events.drain(60..64));
    let judgement = judge_flex(&capture(vec![]));
    assert_eq!(judgement.verdict, Verdict::CannotTell);
    assert!(judgement.found(Kind::NotWatched));
}

/// A single pattern of a minute is less than a hundredth: worth knowing, no more.
#[test]
fn a_short_gap_is_a_note() {
    let lost = |events: &mut Vec<Event>| _ = events.remove(400);
    let judgement = judged(&capture(vec![record(Phase::Flex, &[(0, sound())], 60, lost)]));
    assert_eq!(judgement.verdict, Verdict::Pass);
    assert!(judgement.found(Kind::Gaps));
}

/// Without any one of its lines, but its notes, nothing of it passes, and no panic comes of it.
#[test]
fn a_capture_that_lacks_a_line_passes_nothing() {
    let run = sound();
    let gone = [(0, run), (1_500_000, run.broken(1)), (1_600_000, run)];
    for runs in [&[(0, run)][..], &gone] {
        let whole = capture(vec![record(Phase::Flex, runs, 3, |_| {})]);
        for n in 0..whole.entries.len() {
            let mut part = whole.clone();
            part.entries.remove(n);
            let judgement = judge_flex(&part);
            assert_ne!(judgement.verdict, Verdict::Pass, "{n} {:?}", judgement.findings);
        }
        for n in 0..whole.entries.len() {
            let mut part = whole.clone();
            part.entries.truncate(n);
            assert_ne!(judge_flex(&part).verdict, Verdict::Pass, "{n}");
        }
        let mut twice = whole.clone();
        let lane = whole
            .entries
            .iter()
            .find(|entry| matches!(entry, Entry::Flex(one) if matches!(**one, FlexEntry::Lane(_))));
        twice.entries.extend(lane.cloned());
        assert_ne!(judge_flex(&twice).verdict, Verdict::Pass);
    }
}
