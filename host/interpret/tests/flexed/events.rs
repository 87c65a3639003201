//! Each rule of what is told of a flexed run: on whom, since when, for how long, how deep, and what cannot be known.

use crate::chance::Chance;
use crate::flex_bench::{Jig, Run, SLOT_US};
use runproof_interpret::flex::{
    Depth, FASTER_THAN_US, FlexEvent, FlexKind, FlexLaneOf, FlexNews, FlexRecord, Flexed, Lasted,
    Now,
};
use runproof_protocol::{Edge, Edges, Event, Microseconds, Phase, Post};

const SOUND: [f64; 4] = [0.6, 1.1, 0.9, 0.7];
const PATTERN_US: u64 = 8 * SLOT_US;

fn heard(jig: &Jig, events: &[Event]) -> (Flexed, Vec<FlexNews>, FlexRecord) {
    let mut flexed = Flexed::new(jig.setup(SOUND.map(Some)));
    let mut news = vec![];
    for event in events {
        flexed.hear(event, &mut news);
    }
    let record = flexed.finish();
    (flexed, news, record)
}

/// The run is sound, then so, each for so long from 0.5 s on; then sound again for a tenth of a second.
fn watched(phase: Phase, sound: Run, changes: &[(Run, u64)]) -> (Jig, u64, Vec<Event>) {
    let mut jig = Jig::new(phase);
    let at = jig.now() + 500_000;
    let (mut runs, mut until) = (vec![(0, sound)], at);
    for (run, us) in changes {
        runs.push((until, *run));
        until += us;
    }
    runs.push((until, sound));
    let events = jig.watch(&runs, until + 100_000, &mut Chance::new(3));
    (jig, at, events)
}

fn told(phase: Phase, sound: Run, changes: &[(Run, u64)]) -> (u64, FlexRecord) {
    let (jig, at, events) = watched(phase, sound, changes);
    (at, heard(&jig, &events).2)
}

fn conductor(n: usize) -> FlexLaneOf {
    FlexLaneOf::Conductor(Post::ALL[n])
}

fn pair(n: usize) -> FlexLaneOf {
    FlexLaneOf::Pair(Post::PAIRS[n].0, Post::PAIRS[n].1)
}

fn plain(event: &FlexEvent) -> (FlexLaneOf, u64, Lasted) {
    (event.lane, event.at.0, event.lasted)
}

fn all(record: &FlexRecord) -> Vec<(FlexLaneOf, u64, Lasted)> {
    record.events.iter().map(plain).collect()
}

#[test]
fn a_break_is_on_its_conductor_for_as_long_as_it_was() {
    let run = Run::sound(SOUND);
    for n in 0..4 {
        for us in [25, 300, 4_000, 33_000, 1_200_000] {
            let (at, record) = told(Phase::Flex, run, &[(run.broken(n), us)]);
            assert_eq!(all(&record), [(conductor(n), at, Lasted::Micros(us))]);
            let event = record.events[0];
            let depth = if us < 7_000 { Depth::NotSeen } else { Depth::Open };
            assert_eq!((event.kind, event.depth), (FlexKind::Break, depth), "{us}");
            let lane = &record.lanes[n];
            assert_eq!((lane.count, lane.longest_us, lane.total_us), (1, us, us));
            let place = [100, 1_000, 10_000, 100_000, 1_000_000].iter().filter(|one| us >= **one);
            assert_eq!(lane.durations[place.count()], 1);
            assert!(
                record
                    .lanes
                    .iter()
                    .all(|lane| lane.was_good && matches!(lane.now, Now::Carries { .. }))
            );
        }
    }
}

#[test]
fn a_pair_that_touches_is_named_where_it_is_watched() {
    let run = Run::sound(SOUND).unplugged();
    for (phase, watched) in [
        (Phase::FlexAcross, [1, 2, 3, 4].as_slice()),
        (Phase::FlexAlong, &[0, 2, 3, 5]),
        (Phase::FlexShorts, &[0, 1, 2, 3, 4, 5]),
    ] {
        for n in 0..6 {
            let (at, record) = told(phase, run, &[(run.touching(n, 20.0), 80_000)]);
            if !watched.contains(&n) {
                assert_eq!(record.events, []);
                assert_eq!(record.lanes[n].watched_us, 0);
                continue;
            }
            let [event] = record.events[..] else { panic!("{phase:?} {n} {:?}", record.events) };
            assert_eq!((event.lane, event.kind), (pair(n), FlexKind::Touch));
            let both = Post::PAIRS[n];
            let ohm = 20.0 + SOUND[both.0.index()] + SOUND[both.1.index()];
            assert!(
                matches!(event.depth, Depth::Ohm(told) if (told - ohm).abs() < 0.5),
                "{event:?}"
            );
            if phase == Phase::FlexShorts {
                assert!(event.at.0.abs_diff(at) <= PATTERN_US + 1_700, "{event:?}");
                assert!(
                    event.lasted.micros().abs_diff(80_000) <= 2 * PATTERN_US + 3_400,
                    "{event:?}"
                );
            } else {
                assert_eq!(plain(&event), (pair(n), at, Lasted::Micros(80_000)));
            }
        }
    }
}

/// Each pair is watched in one of two patterns, two of them in both.
#[test]
fn the_time_in_which_a_pair_was_watched_is_its_own() {
    let run = Run::sound(SOUND).unplugged();
    let (_, record) = told(Phase::FlexShorts, run, &[(run, 10_000_000)]);
    assert_eq!(record.events, []);
    let share = |n: usize| record.lanes[n].watched_us as f64 / record.head.watched_us as f64;
    for n in 0..6 {
        let expected = if [2, 3].contains(&n) { 1.0 } else { 0.5 };
        assert!((share(n) - expected).abs() < 0.01, "{n} {}", share(n));
    }
    assert!((record.head.watched_us as f64 / 10_600_000.0 - 1.0 + 0.066).abs() < 0.01);
}

#[test]
fn where_all_cease_at_once_nobody_is_blamed() {
    let run = Run::sound(SOUND);
    let both = |a: usize, b: usize| run.broken(a).broken(b);
    for gone in [run.unplugged(), both(0, 1), both(2, 3), both(0, 1).broken(2)] {
        let (at, record) = told(Phase::Flex, run, &[(gone, 50_000)]);
        assert_eq!(all(&record), [(FlexLaneOf::Untold, at, Lasted::Micros(50_000))]);
        assert!(record.lanes[..4].iter().all(|lane| lane.count == 0));
        assert_eq!(record.lanes[4].count, 1);
    }
}

#[test]
fn one_of_each_side_may_break_together() {
    let run = Run::sound(SOUND);
    for (a, b) in [(0, 2), (0, 3), (1, 2), (1, 3)] {
        let (at, record) = told(Phase::Flex, run, &[(run.broken(a).broken(b), 50_000)]);
        let lasted = Lasted::Micros(50_000);
        assert_eq!(all(&record), [(conductor(a), at, lasted), (conductor(b), at, lasted)]);
        assert!(record.events.iter().all(|event| event.depth == Depth::Open));
    }
}

/// While nothing flows it is not known whether the first one is still broken.
#[test]
fn of_a_side_that_goes_one_after_the_other_the_first_is_known() {
    let run = Run::sound(SOUND);
    let first = run.broken(1);
    let (at, record) = told(Phase::Flex, run, &[(first, 3_000), (first.broken(0), 5_000)]);
    let untold = (FlexLaneOf::Untold, at + 3_000, Lasted::Micros(5_000));
    assert_eq!(all(&record), [(conductor(1), at, Lasted::AtLeastMicros(3_000)), untold]);
    let (at, record) =
        told(Phase::Flex, run, &[(first, 3_000), (first.broken(0), 5_000), (first, 2_000)]);
    assert_eq!(all(&record)[0], (conductor(1), at, Lasted::Micros(10_000)));
}

#[test]
fn what_goes_on_at_the_end_is_told_as_such() {
    let run = Run::sound(SOUND);
    let mut jig = Jig::new(Phase::Flex);
    let at = jig.now() + 500_000;
    let runs = [(0, run), (at, run.broken(2))];
    let events = jig.watch(&runs, at + 200_000, &mut Chance::new(1));
    let (flexed, news, record) = heard(&jig, &events);
    assert_eq!(flexed.lanes()[2].now, Now::Broken { since: Microseconds(at) });
    let [(lane, since, Lasted::StillAtEnd(us))] = all(&record)[..] else { panic!("{record:?}") };
    assert_eq!((lane, since), (conductor(2), at));
    assert!(us.abs_diff(jig.now() - at) < 100, "how long the last slot was is not told");
    let began = FlexNews::Began { lane: conductor(2), kind: FlexKind::Break, at: Microseconds(at) };
    assert!(news.contains(&began) && !news.iter().any(|one| matches!(one, FlexNews::Ended(_))));
}

/// So as a catcher tells of a post that went and came back between two looks.
fn fast(events: &mut Vec<Event>, carries: u8, changed: u8) -> u64 {
    let place = events.len() / 2;
    let before = &events[..place];
    let Some(Event::Pattern(last)) =
        before.iter().rev().find(|one| matches!(one, Event::Pattern(_)))
    else {
        panic!("patterns")
    };
    let at = last.readings[15].at.0 + 2 * SLOT_US;
    let (index, phase) = (last.index + 1, last.phase);
    let edges = [Edge { at: Microseconds(at), carries, changed }].into_iter().collect();
    events.insert(place, Event::Edges(Edges { index, phase, dropped: 0, edges }));
    for event in &mut events[place + 1..] {
        match event {
            Event::Pattern(pattern) => pattern.index += 1,
            Event::Edges(edges) => edges.index += 1,
            _ => {}
        }
    }
    at
}

#[test]
fn a_post_that_changed_twice_did_so_faster_than_can_be_told() {
    let run = Run::sound(SOUND);
    let lasted = Lasted::AtMostMicros(FASTER_THAN_US);
    for (changed, lane) in [(0b0100, conductor(2)), (0b1111, FlexLaneOf::Untold)] {
        let (jig, _, mut events) = watched(Phase::Flex, run, &[]);
        let at = fast(&mut events, 0b1111, changed);
        assert_eq!(all(&heard(&jig, &events).2), [(lane, at, lasted)]);
    }
    let (jig, _, mut events) = watched(Phase::FlexAlong, run.unplugged(), &[]);
    let at = fast(&mut events, 0, 0b1010 ^ 0b0011);
    assert_eq!(all(&heard(&jig, &events).2), [(pair(2), at, lasted)]);
}

/// One that is broken may close for a moment: then it broke twice.
#[test]
fn a_break_that_closes_for_a_moment_is_two() {
    let run = Run::sound(SOUND);
    let (jig, at, mut events) = watched(Phase::Flex, run, &[(run.broken(0), 1_000_000)]);
    let twice = fast(&mut events, 0b1110, 0b0001);
    let second = (conductor(0), twice, Lasted::Micros(at + 1_000_000 - twice));
    assert_eq!(
        all(&heard(&jig, &events).2),
        [(conductor(0), at, Lasted::Micros(twice - at)), second]
    );
}

#[test]
fn an_index_that_wraps_loses_nothing() {
    let run = Run::sound(SOUND);
    let (at, record) = told(Phase::Flex, run, &[(run, 1_000_000_000), (run.broken(3), 400)]);
    assert_eq!(all(&record), [(conductor(3), at + 1_000_000_000, Lasted::Micros(400))]);
    assert_eq!((record.head.gaps, record.head.lost_events), (0, 0));
    const { assert!(1_000_000_000 / PATTERN_US > 65_536) };
}

fn patterns(events: &[Event]) -> Vec<usize> {
    (0..events.len()).filter(|n| matches!(events[*n], Event::Pattern(_))).collect()
}

#[test]
fn a_hole_is_a_gap_and_the_converters_say_how_it_goes_on() {
    for phase in [Phase::Flex, Phase::FlexAcross, Phase::FlexShorts] {
        let run = Run::sound(SOUND);
        let run = if phase == Phase::Flex { run } else { run.unplugged() };
        let (jig, _, mut events) = watched(phase, run, &[(run, 1_000_000)]);
        let lost = patterns(&events)[50];
        events.remove(lost);
        let (flexed, news, record) = heard(&jig, &events);
        assert_eq!(record.events, []);
        let [gap] = record.gaps[..] else { panic!("{:?}", record.gaps) };
        assert!(news.contains(&FlexNews::Gap(gap)));
        assert_eq!((gap.lost_events, gap.dropped_edges), (1, 0));
        // The one that was lost, the next, whose edges may have been in it, and three slots.
        assert!((PATTERN_US..3 * PATTERN_US + 2_000).contains(&gap.lasted_us), "{phase:?} {gap:?}");
        let good = |now: Now| matches!(now, Now::Carries { .. } | Now::Apart | Now::NotWatchedNow);
        assert!(flexed.lanes()[..4].iter().all(|lane| good(lane.now)));
        let (whole_us, part_us) = (1_600_000, record.head.watched_us + gap.lasted_us);
        assert!(phase == Phase::FlexShorts || part_us.abs_diff(whole_us) < PATTERN_US, "{part_us}");
    }
}

#[test]
fn what_ends_in_a_gap_lasted_at_least_until_then() {
    let run = Run::sound(SOUND);
    let (jig, at, mut events) = watched(Phase::Flex, run, &[(run.broken(1), 300_000)]);
    let end =
        |event: &Event| matches!(event, Event::Edges(one) if one.edges[0].at.0 == at + 300_000);
    let lost = events.iter().position(end).expect("its end");
    events.remove(lost);
    let (_, _, record) = heard(&jig, &events);
    let [(lane, since, Lasted::AtLeastMicros(us))] = all(&record)[..] else {
        panic!("{:?}", record.events)
    };
    assert_eq!((lane, since), (conductor(1), at));
    assert!((300_000 - PATTERN_US..=300_000).contains(&us), "{us}");
    assert_eq!(record.gaps.len(), 1);
}

#[test]
fn edges_that_were_dropped_are_a_gap() {
    let run = Run::sound(SOUND);
    let (jig, at, mut events) = watched(Phase::Flex, run, &[(run.broken(1), 300_000)]);
    for event in &mut events {
        match event {
            Event::Edges(edges) if edges.edges[0].at.0 == at + 300_000 => edges.dropped = 7,
            _ => {}
        }
    }
    let (flexed, _, record) = heard(&jig, &events);
    assert_eq!((record.head.dropped_edges, record.head.lost_events), (7, 0));
    assert!(matches!(record.events[0].lasted, Lasted::AtLeastMicros(_)), "{:?}", record.events);
    assert!(matches!(flexed.lanes()[1].now, Now::Carries { ohm: Some(_), .. }));
}

/// Ten million edges, with patterns and without.
#[test]
fn what_is_kept_is_bounded() {
    let (jig, _, events) = watched(Phase::Flex, Run::sound(SOUND), &[]);
    let Event::Pattern(pattern) = &events[patterns(&events)[0]] else { panic!("a pattern") };
    for (every, count) in [(40, 625_000_u64), (u64::MAX, 60_000)] {
        let mut flexed = Flexed::new(jig.setup([None; 4]));
        let (mut news, mut index, mut at) = (vec![], 0_u16, 1_000_000_u64);
        for n in 0..count {
            let edges = (0..16_u64).map(|k| {
                let at = Microseconds(at + 50 + (k + 1) * 50);
                Edge { at, carries: if k % 2 == 0 { 0b1101 } else { 0b1111 }, changed: 0b0010 }
            });
            let edges = edges.collect();
            flexed.hear(
                &Event::Edges(Edges { index, phase: Phase::Flex, dropped: 0, edges }),
                &mut news,
            );
            index = index.wrapping_add(1);
            at += 900;
            if n % every == 0 {
                let mut pattern = pattern.clone();
                pattern.index = index;
                flexed.hear(&Event::Pattern(pattern), &mut news);
                index = index.wrapping_add(1);
            }
            if n % 1_000 == 0 {
                flexed.mark("again and again");
            }
            news.clear();
        }
        let record = flexed.finish();
        assert_eq!(record.head.events, count * 8);
        assert_eq!((record.events.len(), record.lanes.len()), (2_000, 5));
        assert_eq!((record.head.marks, record.head.gaps), (count / 1_000, 0));
        // What waits and what is kept, in the words that it is told by.
        assert!(format!("{flexed:?}").len() < 4_000_000);
    }
}

#[test]
fn a_catcher_that_contradicts_the_converters_is_found_out() {
    let run = Run::sound(SOUND);
    let (jig, at, mut events) = watched(Phase::Flex, run, &[(run.broken(0), 400_000)]);
    // It saw neither the beginning nor the end.
    events.retain(|event| !matches!(event, Event::Edges(edges) if edges.edges[0].at.0 >= at));
    for (index, event) in events.iter_mut().enumerate() {
        match event {
            Event::Pattern(pattern) => pattern.index = index as u16,
            Event::Edges(edges) => edges.index = index as u16,
            _ => {}
        }
    }
    let (_, _, record) = heard(&jig, &events);
    assert!(
        (380_000..=400_000 + 4 * SLOT_US).contains(&record.head.contradicted_us),
        "{:?}",
        record.head
    );
    let (_, record) = told(Phase::Flex, run, &[(run.broken(0), 400_000)]);
    assert_eq!(record.head.contradicted_us, 0);
}

#[test]
fn hum_hides_steps_and_that_is_said() {
    let run = Run::sound(SOUND);
    let mut jig = Jig::new(Phase::Flex);
    jig.hum_v = 3e-3;
    let at = jig.now() + 500_000;
    let stepped = run.more(1, 1.0);
    let events = jig.watch(
        &[(0, run), (at, stepped), (at + 50_000, run)],
        at + 500_000,
        &mut Chance::new(5),
    );
    let (_, news, record) = heard(&jig, &events);
    assert_eq!(record.events, []);
    let from = record.head.steps_from_ohm.expect("larger ones are told");
    assert!(from > 2.0, "{from}");
    assert!(news.contains(&FlexNews::Baseline { steps_from_ohm: Some(from) }));
}

/// A joint that warms up does not take its baseline along.
#[test]
fn a_slow_rise_is_a_step_that_stays() {
    let run = Run::sound(SOUND);
    let mut jig = Jig::new(Phase::Flex);
    let begins = jig.now() + 500_000;
    let rising = (0..600_u64).map(|n| (begins + n * 100_000, run.more(3, n as f64 * 0.005)));
    let runs: Vec<(u64, Run)> = [(0, run)].into_iter().chain(rising).collect();
    let events = jig.watch(&runs, begins + 60_000_000, &mut Chance::new(5));
    let (flexed, _, record) = heard(&jig, &events);
    let [event] = record.events[..] else { panic!("{:?}", record.events) };
    assert_eq!((event.lane, event.kind), (conductor(3), FlexKind::Step));
    assert!(matches!(event.lasted, Lasted::StillAtEnd(us) if us > 30_000_000));
    assert!(matches!(event.depth, Depth::Ohm(ohm) if (ohm - 0.7 - 3.0).abs() < 0.2), "{event:?}");
    let Now::Carries { ohm: Some(ohm), rise_ohm: Some(rise_ohm) } = flexed.lanes()[3].now else {
        panic!("it carries")
    };
    assert!((ohm - 3.7).abs() < 0.2 && (rise_ohm - 3.0).abs() < 0.2);
    assert!((flexed.lanes()[3].max_ohm().expect("known") - 3.7).abs() < 0.2);
}
