//! A capture comes back from its text exactly, and no text does more than give an error.

use std::ops::Range;

use proptest::prelude::*;
use runproof_interpret::capture::{
    Capture, Channel, Drain, End, Ending, Entry, FlexEntry, Head, JigConstants, LINE_BYTES_MAX,
    LINES_MAX, LiveZero, Node, PhaseEnd, Plug, Reading, Reason, Rise, ToEarth, Touch, Warmth, Zero,
};
use runproof_interpret::flex::{
    Depth, FlexEvent, FlexGap, FlexHead, FlexKind, FlexLane, FlexLaneOf, FlexMark, Lasted, Now,
};
use runproof_interpret::{LimitSheet, LiveKnowledge, RunKnowledge, judge, judge_flex, judge_live};
use runproof_protocol::{Drive, Microseconds, Phase, Picofarads, Post, Step};

fn four(ohms: Range<f64>) -> impl Strategy<Value = [f64; 4]> {
    let one = || ohms.clone();
    [one(), one(), one(), one()]
}

fn phase() -> impl Strategy<Value = Phase> {
    prop_oneof![
        Just(Phase::Open),
        Just(Phase::Plug),
        Just(Phase::Glance),
        Just(Phase::Live),
        Just(Phase::LiveZero),
        Just(Phase::SupplyLoad),
    ]
}

fn drive() -> impl Strategy<Value = Drive> {
    prop_oneof![Just(Drive::Off), Just(Drive::Low), Just(Drive::High)]
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        Just(Step::Live),
        Just(Step::LiveLoaded),
        Just(Step::SelfCalibration),
        Just(Step::PreScan),
        Just(Step::Pairs),
        Just(Step::Leakage),
        Just(Step::SupplyLoaded),
    ]
}

fn channel() -> impl Strategy<Value = Channel> {
    let node = prop_oneof![Just(Node::Sense), Just(Node::Drive), Just(Node::Live)];
    (node, 0..4_usize, proptest::option::of(1..4_usize)).prop_map(|(node, post, step)| Channel {
        node,
        post: Post::ALL[post],
        against: step.map(|step| Post::ALL[(post + step) % 4]),
    })
}

fn reading() -> impl Strategy<Value = Entry> {
    let driven = ([drive(), drive(), drive(), drive()], [drive(), drive()], any::<bool>());
    let range = (0..4_usize).prop_map(|index| runproof_protocol::Range::ALL[index]);
    let read = (range, -1.0..=1.0, any::<bool>(), any::<u64>());
    (phase(), step(), any::<u32>(), driven, channel(), read).prop_map(
        |(phase, step, pattern, (drives, pulls, relays_closed), channel, read)| {
            let (range, fraction, saturated, at): (runproof_protocol::Range, f64, bool, u64) = read;
            Entry::Reading(Reading {
                phase,
                step,
                pattern,
                drives,
                pulls,
                relays_closed,
                channel,
                range,
                volts: fraction * range.full_scale_volts(),
                saturated,
                at: Microseconds(at),
            })
        },
    )
}

fn rise() -> impl Strategy<Value = Entry> {
    let reference = proptest::option::of(any::<u32>().prop_map(Picofarads));
    let micros = proptest::collection::vec(proptest::option::of(any::<u16>()), 0..20);
    let stood = (phase(), any::<u32>(), 0..4_usize, any::<bool>(), any::<u64>());
    (stood, reference, micros).prop_map(|(stood, reference, micros)| {
        let (phase, pattern, post, relays_closed, at) = stood;
        let (post, at) = (Post::ALL[post], Microseconds(at));
        Entry::Rise(Rise { phase, pattern, post, reference, relays_closed, micros, at })
    })
}

fn end() -> impl Strategy<Value = Entry> {
    let reason = "\\PC{0,40}";
    let ending = prop_oneof![
        any::<u32>().prop_map(|patterns| Ending::Done { patterns }),
        reason.prop_map(|reason| Ending::Stopped { reason }),
        reason.prop_map(|reason| Ending::Lost { reason }),
        (reason, -400.0..400.0)
            .prop_map(|(reason, largest_v)| Ending::Hazard { reason, largest_v }),
    ];
    (phase(), ending).prop_map(|(phase, ending)| Entry::End(PhaseEnd { phase, ending }))
}

fn touch() -> impl Strategy<Value = Entry> {
    let end = prop_oneof![Just(End::Near), Just(End::Far)];
    let ohm = proptest::array::uniform6(proptest::option::of(0.0..1e9));
    (end, 0..4_usize, 1..4_usize, ohm, any::<u64>()).prop_map(|(end, first, step, ohm, at)| {
        let terminals = [Post::ALL[first], Post::ALL[(first + step) % 4]];
        Entry::Touch(Touch { end, terminals, ohm, at: Microseconds(at) })
    })
}

fn to_earth() -> impl Strategy<Value = Entry> {
    let drain = prop_oneof![Just(Drain::Landed), Just(Drain::Free), Just(Drain::Unsure)];
    proptest::option::of(drain).prop_map(|shield| Entry::ToEarth(ToEarth { shield }))
}

fn warmth() -> impl Strategy<Value = Entry> {
    (phase(), -100.0..200.0).prop_map(|(phase, jig_c)| Entry::Warmth(Warmth { phase, jig_c }))
}

fn zero() -> impl Strategy<Value = Entry> {
    let six = proptest::array::uniform6;
    let jig_c = proptest::option::of(-100.0..200.0);
    (six(1.0..1e3), six(1e-6..1.0), jig_c, any::<u64>()).prop_map(
        |(ohm, u_ohm, jig_c, taken_unix_s)| Entry::Zero(Zero { ohm, u_ohm, jig_c, taken_unix_s }),
    )
}

fn live_zero() -> impl Strategy<Value = Entry> {
    let jig_c = proptest::option::of(-100.0..200.0);
    let parts = (four(0.5..1.5), four(-0.01..0.01), four(-0.1..0.1));
    let u = (four(0.0..0.01), four(0.0..0.01), four(0.0..0.01));
    (parts, u, jig_c, any::<u64>()).prop_map(
        |((gain, offset_v, common), (u_gain, u_offset_v, u_common), jig_c, taken_unix_s)| {
            Entry::LiveZero(LiveZero {
                gain,
                u_gain,
                offset_v,
                u_offset_v,
                common,
                u_common,
                jig_c,
                taken_unix_s,
            })
        },
    )
}

fn lane_of() -> impl Strategy<Value = FlexLaneOf> {
    (0..11_usize).prop_map(|n| match n {
        0..4 => FlexLaneOf::Conductor(Post::ALL[n]),
        4..10 => FlexLaneOf::Pair(Post::PAIRS[n - 4].0, Post::PAIRS[n - 4].1),
        _ => FlexLaneOf::Untold,
    })
}

fn flex_head() -> impl Strategy<Value = FlexEntry> {
    let phase = prop_oneof![
        Just(Phase::Flex),
        Just(Phase::FlexShorts),
        Just(Phase::FlexAcross),
        Just(Phase::FlexAlong),
    ];
    let ohm = || proptest::option::of(0.001..1e3);
    let four = [ohm(), ohm(), ohm(), ohm()];
    let counts = proptest::array::uniform7(any::<u64>());
    let from_us = proptest::option::of(any::<u64>());
    (phase, 0.001..1e3, ohm(), four, from_us, counts, any::<u64>()).prop_map(
        |(phase, step_ohm, steps_from_ohm, baseline_ohm, from_us, counts, marks)| {
            let [watched_us, events, gaps, gaps_us, lost_events, dropped_edges, contradicted_us] =
                counts;
            FlexEntry::Head(FlexHead {
                phase,
                step_ohm,
                steps_from_ohm,
                baseline_ohm,
                from_us,
                watched_us,
                events,
                gaps,
                gaps_us,
                lost_events,
                dropped_edges,
                contradicted_us,
                marks,
            })
        },
    )
}

fn flex_lane() -> impl Strategy<Value = FlexEntry> {
    let ohm = || proptest::option::of(-1e6..1e6);
    let now = prop_oneof![
        (ohm(), ohm()).prop_map(|(ohm, rise_ohm)| Now::Carries { ohm, rise_ohm }),
        any::<u64>().prop_map(|since| Now::Broken { since: Microseconds(since) }),
        any::<u64>().prop_map(|since| Now::Touching { since: Microseconds(since) }),
        Just(Now::Apart),
        Just(Now::NotKnown),
        Just(Now::NotWatchedNow),
    ];
    let ohms = [ohm(), ohm(), ohm(), ohm(), ohm()];
    let durations = proptest::array::uniform6(0..1_u64 << 60);
    let counts = proptest::array::uniform5(any::<u64>());
    (lane_of(), now, ohms, durations, counts, any::<bool>()).prop_map(
        |(of, now, ohms, durations, counts, was_good)| {
            let [baseline_ohm, least_rise_ohm, most_rise_ohm, least_touch_ohm, largest_step_ohm] =
                ohms;
            let [longest_us, total_us, steps, longest_step_us, watched_us] = counts;
            FlexEntry::Lane(FlexLane {
                of,
                now,
                baseline_ohm,
                least_rise_ohm,
                most_rise_ohm,
                least_touch_ohm,
                count: durations.iter().sum(),
                longest_us,
                total_us,
                durations,
                steps,
                largest_step_ohm,
                longest_step_us,
                watched_us,
                was_good,
            })
        },
    )
}

fn flex() -> impl Strategy<Value = Entry> {
    let kind = prop_oneof![Just(FlexKind::Break), Just(FlexKind::Touch), Just(FlexKind::Step)];
    let lasted = (0..4_usize, any::<u64>()).prop_map(|(n, us)| match n {
        0 => Lasted::Micros(us),
        1 => Lasted::AtMostMicros(us),
        2 => Lasted::AtLeastMicros(us),
        _ => Lasted::StillAtEnd(us),
    });
    let depth =
        prop_oneof![Just(Depth::NotSeen), (-1e6..1e6).prop_map(Depth::Ohm), Just(Depth::Open)];
    let event = (lane_of(), kind, any::<u64>(), lasted, depth).prop_map(
        |(lane, kind, at, lasted, depth)| {
            FlexEntry::Event(FlexEvent { lane, kind, at: Microseconds(at), lasted, depth })
        },
    );
    let gap = (any::<u64>(), any::<u64>(), any::<u16>(), any::<u16>()).prop_map(
        |(at, lasted_us, lost_events, dropped_edges)| {
            FlexEntry::Gap(FlexGap { at: Microseconds(at), lasted_us, lost_events, dropped_edges })
        },
    );
    let mark = (any::<u64>(), ".{0,200}").prop_map(|(at, text): (u64, String)| {
        FlexEntry::Mark(FlexMark { at: Microseconds(at), text })
    });
    let flex = prop_oneof![flex_head(), flex_lane(), event, gap, mark];
    flex.prop_map(|flex| Entry::Flex(Box::new(flex)))
}

fn head() -> impl Strategy<Value = Head> {
    let texts = (any::<String>(), ".{0,20}", "[ -~]{0,20}", "\\PC{0,20}", "\\PC{0,20}");
    let taken = proptest::option::of(any::<u64>());
    let load = proptest::option::of(50.0..2e3);
    let inside = (1e3..1e4, 2e4..1e6, 1e6..2e7, load);
    (texts, taken, four(100.0..1e3), 0.0..0.05, inside, four(10.0..1e3), 0.0..0.01).prop_map(
        |(texts, taken_unix_s, series_ohm, series_tolerance, inside, ring_ohm, tolerance)| {
            let (made_by, serial, board, firmware, id) = texts;
            let (sense_ohm, pull_ohm, divider_ohm, supply_load_ohm) = inside;
            let jig = JigConstants {
                serial,
                board,
                firmware,
                series_ohm,
                series_tolerance,
                sense_ohm,
                pull_ohm,
                divider_ohm,
                supply_load_ohm,
            };
            Head { made_by, taken_unix_s, jig, plug: Plug { id, ring_ohm, tolerance } }
        },
    )
}

fn capture() -> impl Strategy<Value = Capture> {
    let entry = prop_oneof![4 => reading(), 1 => rise(), 1 => end(), 1 => touch(), 1 => warmth(), 1 => zero(), 1 => live_zero(), 1 => to_earth(), 2 => flex()];
    (head(), proptest::collection::vec(entry, 0..40))
        .prop_map(|(head, entries)| Capture { head, entries })
}

proptest! {
    #[test]
    fn a_capture_comes_back_from_its_text(capture in capture()) {
        prop_assert_eq!(Capture::read(&capture.write()), Ok(capture));
    }

    #[test]
    fn any_capture_is_judged_without_panic(capture in capture()) {
        let judgement = judge(&capture, &LimitSheet::service_24vac(), &RunKnowledge::default());
        prop_assert_ne!(judgement.verdict, runproof_interpret::judgement::Verdict::Pass);
        let flexed = judge_flex(&capture).verdict;
        prop_assert_ne!(flexed, runproof_interpret::judgement::Verdict::Pass);
    }

    #[test]
    fn any_text_gives_a_capture_or_an_error(text in "\\PC*") {
        let _ = Capture::read(&text);
        let _ = LimitSheet::read(&text);
    }

    #[test]
    fn any_bytes_give_a_capture_or_an_error(bytes in any::<Vec<u8>>()) {
        let text = String::from_utf8_lossy(&bytes);
        let _ = Capture::read(&text);
        let _ = LimitSheet::read(&text);
    }

    #[test]
    fn a_mutated_text_gives_a_capture_or_an_error(
        capture in capture(),
        changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..8),
    ) {
        let mut bytes = capture.write().into_bytes();
        for (index, byte) in changes {
            let at = index.index(bytes.len());
            bytes[at] = byte;
        }
        if let Ok(capture) = Capture::read(&String::from_utf8_lossy(&bytes)) {
            let _ = judge(&capture, &LimitSheet::service_24vac(), &RunKnowledge::default());
            let _ = judge_live(&capture, &LimitSheet::service_24vac(), &LiveKnowledge::default());
            let _ = judge_flex(&capture);
        }
    }
}

const HEAD: &str = r#"{"runproof_capture":1,"made_by":"by hand","jig":{"serial":"","board":"","firmware":"","series_ohm":[330,330,330,330],"series_tolerance":0.01,"pull_ohm":100000,"divider_ohm":4522000},"plug":{"ring_ohm":[33.2,47.5,68.1,150],"tolerance":0.001}}"#;
const READING: &str = r#"{"phase":"plug","step":"pairs","pattern":40,"drive":"HLZZ","pulls":"ZZ","relays":"closed","channel":"N1-N4","range_v":1.024,"volts":0.1014375,"t_us":512345}"#;
const TOUCH: &str =
    r#"{"touch":"near","terminals":[1,3],"ohm":[null,0.1,59.4,73.4,52,null],"t_us":5}"#;

fn error(lines: &[&str]) -> String {
    Capture::read(&lines.join("\n")).map_or_else(|error| error.to_string(), |_| "read".into())
}

#[test]
fn an_error_names_line_key_and_reason() {
    let wrong = |from: &str, to: &str| error(&[HEAD, READING, &READING.replace(from, to)]);
    assert_eq!(error(&[HEAD, READING]), "read");
    assert_eq!(error(&[]), "line 1: the text is empty");
    assert_eq!(error(&[READING]), "line 1: the head must stand first, and only there");
    assert_eq!(error(&[HEAD, HEAD]), "line 2: the head must stand first, and only there");
    assert_eq!(
        error(&[&HEAD.replace("capture\":1", "capture\":2")]),
        "line 1: `runproof_capture` is 2; this program reads version 1"
    );
    assert_eq!(
        error(&[&HEAD.replace("[330,330,330,330]", "[330,330,330]")]),
        "line 1: `jig.series_ohm` must be four resistances in ohms"
    );
    assert_eq!(wrong("\"volts\":0.1014375,", ""), "line 3: `volts` is missing");
    assert_eq!(wrong("0.1014375", "1.5"), "line 3: `volts` must be a voltage within the range");
    assert_eq!(wrong("HLZZ", "HLZ"), "line 3: `drive` must be four of the letters H, L, Z");
    assert_eq!(wrong("N1-N4", "N1-G4"), "line 3: `channel` must be like N1 or N1-N4");
    assert_eq!(
        wrong("pairs", "pear"),
        "line 3: `step` must be live, live-loaded, self-calibration, pre-scan, pairs, leakage or live-zero"
    );
    assert_eq!(
        error(&[HEAD, r#"{"end":"over","phase":"plug"}"#]),
        "line 2: `end` must be done, stopped, hazard or lost"
    );
    let touched = |from: &str, to: &str| error(&[HEAD, &TOUCH.replace(from, to)]);
    assert_eq!(touched("", ""), "read");
    assert_eq!(touched("near", "left"), "line 2: `touch` must be near or far");
    for terminals in ["[1,1]", "[1,5]", "[1]", "[1,2,3]", "[1,-2]", "3"] {
        let reason = "line 2: `terminals` must be two different posts, 1 to 4";
        assert_eq!(touched("[1,3]", terminals), reason, "{terminals}");
    }
    for ohm in ["[1,2,3,4,5]", "[1,2,3,4,5,-1]", "[1,2,3,4,5,\"6\"]"] {
        let reason = "line 2: `ohm` must be six resistances in ohms, null where no current passes";
        assert_eq!(touched("[null,0.1,59.4,73.4,52,null]", ohm), reason, "{ohm}");
    }
    let kept =
        "must be what is kept of a flexed run, each of a kind and a size that a watch can have";
    for (key, value) in [
        ("flex", "{}"),
        ("flex_lane", "1"),
        (
            "flex_event",
            r#"{"lane":"1-1","kind":"break","t_us":5,"lasted":{"micros":3},"depth":"open"}"#,
        ),
        (
            "flex_event",
            r#"{"lane":"1","kind":"break","t_us":5,"lasted":{"micros":3},"depth":{"ohm":1e7}}"#,
        ),
        (
            "flex_event",
            r#"{"lane":"1","kind":"break","t_us":-5,"lasted":{"micros":3},"depth":"open"}"#,
        ),
        ("flex_gap", r#"{"t_us":5,"lasted_us":7,"lost_events":65536,"dropped_edges":0}"#),
        ("flex_mark", r#"{"t_us":5}"#),
    ] {
        let line = format!("{{\"{key}\":{value}}}");
        assert_eq!(error(&[HEAD, &line]), format!("line 2: `{key}` {kept}"));
    }
    assert_eq!(error(&[HEAD, "[1]"]), "line 2: not a JSON object");
    assert_eq!(error(&[HEAD, &READING[..60]]), "line 2: cut off before its end");
}

#[test]
fn unknown_keys_and_blank_lines_are_passed_over() {
    let reading = READING.replace("\"step\"", "\"weather\":{\"rain\":[1,2]},\"step\"");
    let read = Capture::read(&format!("{HEAD}\r\n\r\n{reading}\n\n")).map(|c| c.entries.len());
    assert_eq!(read, Ok(1));
}

#[test]
fn a_text_that_is_too_large_is_refused() {
    let reason = |text: &str| Capture::read(text).map_err(|error| error.reason).err();
    let line = format!("{HEAD}\n{}", " ".repeat(LINE_BYTES_MAX) + READING);
    let limit = LINE_BYTES_MAX;
    assert_eq!(reason(&line), Some(Reason::TooLarge { limit, unit: "bytes in a line" }));
    let end = "{\"end\":\"lost\",\"phase\":\"plug\"}\n";
    let lines = format!("{HEAD}\n{}", end.repeat(LINES_MAX));
    assert_eq!(reason(&lines), Some(Reason::TooLarge { limit: LINES_MAX, unit: "lines" }));
    let nested = format!("{HEAD}\n{{\"a\":{}", "[".repeat(LINE_BYTES_MAX - 20));
    assert!(matches!(reason(&nested), Some(Reason::NotAnObject)));
}
