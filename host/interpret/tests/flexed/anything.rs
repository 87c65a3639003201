//! Whatever a jig says, there is no panic, what is kept is whole, and it comes back from its text.

use proptest::prelude::*;
use runproof_interpret::capture::Capture;
use runproof_interpret::flex::Flexed;
use runproof_interpret::judge_flex;
use runproof_interpret::judgement::FlexFindingKind;
use runproof_protocol::{
    Channel, Converter, Drive, Edge, Edges, Event, Input, Microseconds, Pattern, Phase, Range,
    Reading, Step,
};

use super::judged::capture;
use crate::flex_bench::{ACROSS, ALONG, Jig};

const PHASES: [Phase; 4] = [Phase::Flex, Phase::FlexShorts, Phase::FlexAcross, Phase::FlexAlong];

/// Mostly near each other, and now and then at either end of time.
fn at() -> impl Strategy<Value = Microseconds> {
    prop_oneof![20 => 0..200_000_u64, 1 => any::<u64>(), 1 => Just(u64::MAX)].prop_map(Microseconds)
}

fn index() -> impl Strategy<Value = u16> {
    prop_oneof![3 => 0..12_u16, 1 => any::<u16>()]
}

fn edges(phase: Phase) -> impl Strategy<Value = Event> {
    let edge = (at(), any::<u8>(), any::<u8>()).prop_map(|(at, carries, changed)| Edge {
        at,
        carries,
        changed,
    });
    let dropped = prop_oneof![5 => Just(0_u16), 1 => any::<u16>()];
    (index(), dropped, proptest::collection::vec(edge, 0..16)).prop_map(
        move |(index, dropped, edges)| {
            Event::Edges(Edges { index, phase, dropped, edges: edges.into_iter().collect() })
        },
    )
}

fn reading() -> impl Strategy<Value = Reading> {
    let converter = (0..3_usize).prop_map(|n| Converter::ALL[n]);
    let input = prop_oneof![3 => 0..8_usize, 9 => 1..4_usize].prop_map(|n| Input::ALL[n]);
    let range = prop_oneof![1 => 0..4_usize, 9 => Just(0)].prop_map(|n| Range::ALL[n]);
    (converter, input, range, any::<i16>(), at()).prop_map(|(converter, input, range, code, at)| {
        Reading { channel: Channel { converter, input }, range, code, at }
    })
}

fn pattern(phase: Phase) -> impl Strategy<Value = Event> {
    let drives = prop_oneof![Just(ACROSS), Just(ALONG), Just([Drive::Off; 4])];
    let step = prop_oneof![9 => Just(Step::Flex), 1 => Just(Step::Live)];
    let readings = prop_oneof![
        proptest::collection::vec(reading(), 0..16),
        // As a jig orders them.
        (at(), proptest::collection::vec(any::<i16>(), 16)).prop_map(|(at, codes)| {
            let reading = |(n, code): (usize, i16)| Reading {
                channel: Channel {
                    converter: if n % 2 == 0 { Converter::Sense } else { Converter::Drive },
                    input: Input::ALL[1 + n / 2 % 3],
                },
                range: Range::V4,
                code,
                at: Microseconds(at.0.saturating_add(n as u64 / 2 * 1_800)),
            };
            codes.into_iter().enumerate().map(reading).collect()
        }),
    ];
    (index(), drives, step, readings).prop_map(move |(index, drives, step, readings)| {
        Event::Pattern(Pattern {
            index,
            phase,
            step,
            drives,
            pulls: [Drive::Off; 2],
            relays_closed: true,
            readings: readings.into_iter().collect(),
        })
    })
}

proptest! {
    #[test]
    fn any_events_make_a_record_that_is_whole(
        (n, events) in (0..4_usize).prop_flat_map(|n| {
            let event = prop_oneof![edges(PHASES[n]), pattern(PHASES[n])];
            (Just(n), proptest::collection::vec(event, 0..60))
        }),
        known in proptest::array::uniform4(proptest::option::of(0.0..1e3)),
    ) {
        let mut flexed = Flexed::new(Jig::new(PHASES[n]).setup(known));
        let mut news = vec![];
        events.iter().for_each(|event| flexed.hear(event, &mut news));
        let capture = capture(vec![flexed.finish()]);
        prop_assert!(!judge_flex(&capture).found(FlexFindingKind::NotWhole));
        prop_assert_eq!(Capture::read(&capture.write()), Ok(capture));
    }
}
