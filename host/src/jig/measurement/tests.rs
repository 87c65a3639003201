//! What is taken for the phase that was ordered, event by event.

use runproof_interpret::capture::{Ending, head_from};
use runproof_protocol::{
    Channel, Converter, Drive, HazardKind, Input, Microseconds, Microvolts, Pattern, Range,
    Reading, Refusal, Step,
};

use super::*;

const PHASE: Phase = Phase::Plug;

fn pattern(phase: Phase, index: u16) -> Event {
    let reading = Reading {
        channel: Channel { converter: Converter::Sense, input: Input::P1 },
        range: Range::V4,
        code: 1,
        at: Microseconds(0),
    };
    Event::Pattern(Pattern {
        index,
        phase,
        step: Step::Pairs,
        drives: [Drive::Off; 4],
        pulls: [Drive::Off; 2],
        relays_closed: true,
        readings: [reading].into_iter().collect(),
    })
}

fn done(phase: Phase) -> Event {
    Event::Done { phase, patterns: 1 }
}

fn aborted(phase: Phase) -> Event {
    Event::Stopped { phase, reason: Stop::Aborted }
}

/// How the events end the phase, and the indices of the patterns that are then in the capture.
fn taken(events: Vec<Event>) -> (Option<Ending>, Vec<u32>) {
    let identity = runproof_firmware::identity("test", "stand-in");
    let mut capture = Capture::new(head_from(&identity, "test").expect("plausible"));
    let mut ignore = |_, _| {};
    let mut taking = Taking::new(PHASE, &mut capture, &mut ignore);
    let ending = events.into_iter().find_map(|event| taking.take(event).expect("not too many"));
    (ending, capture.readings(PHASE).map(|reading| reading.pattern).collect())
}

fn started(phase: Phase) -> Event {
    Event::Started { phase }
}

#[test]
fn a_phase_is_what_stands_between_its_start_and_its_end() {
    let (ending, patterns) =
        taken(vec![started(PHASE), pattern(PHASE, 0), pattern(PHASE, 1), done(PHASE)]);
    assert_eq!(ending, Some(Ending::Done { patterns: 1 }));
    assert_eq!(patterns, [0, 1]);
}

#[test]
fn nothing_counts_before_the_start() {
    let fault = Event::Stopped { phase: PHASE, reason: Stop::HostSilent };
    let hazard = Event::Hazard { kind: HazardKind::BeforeClosing, largest: Microvolts(9_000_000) };
    let stale = vec![pattern(PHASE, 0), done(PHASE), fault, hazard];
    assert_eq!(taken(stale), (None, vec![]));
}

#[test]
fn nothing_of_another_phase_counts() {
    let other = Phase::Open;
    let refused = Event::Refused { phase: other, reason: Refusal::NotCapable };
    let fault = Event::Stopped { phase: other, reason: Stop::HostSilent };
    let (ending, patterns) =
        taken(vec![refused, started(PHASE), pattern(other, 0), done(other), fault]);
    assert_eq!((ending, patterns), (None, vec![]));
    assert_eq!(taken(vec![started(other), pattern(PHASE, 0), done(PHASE)]), (None, vec![]));
}

#[test]
fn what_another_host_ordered_is_forgotten_when_it_is_aborted_or_ours_begins() {
    let (ending, patterns) = taken(vec![
        started(PHASE),
        pattern(PHASE, 7),
        aborted(PHASE),
        done(PHASE),
        started(PHASE),
        pattern(PHASE, 0),
        done(PHASE),
    ]);
    assert_eq!((ending, patterns), (Some(Ending::Done { patterns: 1 }), vec![0]));
    let (ending, patterns) = taken(vec![
        started(PHASE),
        pattern(PHASE, 7),
        started(PHASE),
        pattern(PHASE, 0),
        done(PHASE),
    ]);
    assert_eq!((ending, patterns), (Some(Ending::Done { patterns: 1 }), vec![0]));
}

#[test]
fn a_refusal_ends_it() {
    let refused = Event::Refused { phase: PHASE, reason: Refusal::HazardLatched };
    assert!(matches!(taken(vec![refused]).0, Some(Ending::Stopped { .. })));
}

#[test]
fn a_phase_has_no_more_patterns_than_it_can_have() {
    let identity = runproof_firmware::identity("test", "stand-in");
    let mut capture = Capture::new(head_from(&identity, "test").expect("plausible"));
    let mut seen = 0;
    let mut watch = |_, _| seen += 1;
    let mut taking = Taking::new(PHASE, &mut capture, &mut watch);
    assert!(matches!(taking.take(started(PHASE)), Ok(None)));
    for _ in 0..PATTERNS_MAX {
        assert!(matches!(taking.take(pattern(PHASE, 0)), Ok(None)));
    }
    assert!(matches!(taking.take(pattern(PHASE, 0)), Err(Loss::TooMany)));
    assert_eq!(seen, PATTERNS_MAX);
}
