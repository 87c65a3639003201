//! A run that is flexed: what the edge catcher must find, and what must not be found.

use runproof_firmware::boards::simulated::{Contact, EndPlug, Flexed, Moves, Scene, SimulatedJig};
use runproof_protocol::{Command, Edge, Edges, Event, Fault, Phase, Post, Step, Stop};

use crate::host::{Host, order};
use crate::{Blind, scene};

/// Relays, looks and settling are over.
const BEGINS_S: f64 = 0.5;

/// Moves so many times, 5 ms apart, for so long each time.
fn flexed(of: Contact, at: f64, times: usize, micros: f64) -> Flexed {
    let moves = (0..times).map(|n| [5.0 * n as f64, micros / 1e3]).collect();
    Flexed { of, at, moves: Moves::At(moves), from_s: BEGINS_S, until_s: f64::INFINITY }
}

fn run(length_m: f64, plug: EndPlug, flexed: Flexed) -> Scene {
    let mut scene = Scene { plug, flexed: vec![flexed], ..scene("good-run") };
    scene.run.length_m = length_m;
    scene
}

/// All edges after the first, which says how posts stand; and the readings go on without a hole.
fn edges(scene: Scene, phase: Phase, seconds: f64) -> (Edge, Vec<Edge>) {
    let mut host = Host::on(scene, 7);
    host.send(order(phase));
    host.listen((seconds * 1e9) as u64);
    let mut next = 0_u16;
    let mut all = Vec::new();
    for event in &host.events {
        let index = match event {
            Event::Pattern(pattern) => pattern.index,
            Event::Edges(Edges { index, dropped, edges, .. }) => {
                assert_eq!(*dropped, 0);
                all.extend(edges.iter().copied());
                *index
            }
            _ => continue,
        };
        assert_eq!(index, next);
        next += 1;
    }
    assert!(!host.jig.released(), "{:?}", host.events.last());
    host.send(Command::Abort);
    host.listen(host.jig.now() + 50_000_000);
    assert_eq!(host.events.last(), Some(&Event::Stopped { phase, reason: Stop::Aborted }));
    assert!(host.jig.released());
    let first = all.remove(0);
    assert_eq!(first.changed, 0);
    (first, all)
}

/// Of one post: how long it stood otherwise than in the beginning, each time, in microseconds.
fn lengths(first: Edge, edges: &[Edge], post: Post) -> Vec<u64> {
    let mut lengths = Vec::new();
    let mut since = None;
    for edge in edges.iter().filter(|edge| edge.changed(post)) {
        match since.take() {
            None => since = Some(edge.at.0),
            Some(from) => lengths.push(edge.at.0 - from),
        }
        assert_eq!(edge.carries(post) == first.carries(post), since.is_none());
    }
    lengths
}

/// Bars: 20 µs and more found, each, on the right conductor, near and far, 1 to 150 m; 20 µs off at most.
#[test]
fn every_short_break_is_found_where_it_is() {
    const TIMES: usize = 20;
    for length_m in [1.0, 30.0, 150.0] {
        for at in [0.0, 0.5, 1.0] {
            for post in Post::ALL {
                for micros in [30.0, 100.0, 1_000.0] {
                    let of = Contact::Conductor { post: post.number(), ohm: 1e9 };
                    let scene = run(length_m, EndPlug::In, flexed(of, at, TIMES, micros));
                    let (first, found) = edges(scene, Phase::Flex, BEGINS_S + 0.12);
                    assert_eq!(first.carries, 0b1111);
                    for one in Post::ALL {
                        let lengths = lengths(first, &found, one);
                        let told = format!(
                            "{length_m} m, at {at}, {post}, {micros} µs: {one} {lengths:?}"
                        );
                        assert_eq!(lengths.len(), if one == post { TIMES } else { 0 }, "{told}");
                        assert!(
                            lengths.iter().all(|one| (*one as f64 - micros).abs() <= 20.0),
                            "{told}"
                        );
                    }
                }
            }
        }
    }
}

/// With the plug out: both posts of each pair that is driven against each other, and nobody else.
#[test]
fn every_short_touch_is_found_where_it_is() {
    const TIMES: usize = 20;
    for (phase, pairs) in [
        (Phase::FlexAcross, [[1, 3], [1, 4], [2, 3], [2, 4]]),
        (Phase::FlexAlong, [[1, 2], [1, 4], [3, 2], [3, 4]]),
    ] {
        for posts in pairs {
            for (length_m, at, micros) in
                [(1.0, 0.0, 30.0), (1.0, 1.0, 100.0), (150.0, 0.0, 30.0), (150.0, 1.0, 30.0)]
            {
                let of = Contact::Touch { posts, ohm: 1.0 };
                let scene = run(length_m, EndPlug::Out, flexed(of, at, TIMES, micros));
                let (first, found) = edges(scene, phase, BEGINS_S + 0.12);
                assert_eq!(first.carries, 0);
                for one in Post::ALL {
                    let lengths = lengths(first, &found, one);
                    let expected = if posts.contains(&one.number()) { TIMES } else { 0 };
                    let told =
                        format!("{posts:?}, {length_m} m, {at}, {micros} µs: {one} {lengths:?}");
                    assert_eq!(lengths.len(), expected, "{told}");
                    assert!(
                        lengths.iter().all(|one| (*one as f64 - micros).abs() <= 20.0),
                        "{told}"
                    );
                }
            }
        }
    }
}

/// 10 s, with LONG=1 an hour, with mains beside the run; slots follow each other without a pause.
#[test]
fn nothing_is_found_in_quiet_and_readings_never_pause() {
    for (name, phase, carries) in
        [("flex-good", Phase::Flex, 0b1111), ("flex-staple", Phase::FlexAlong, 0)]
    {
        let mut scene = scene(name);
        if phase == Phase::FlexAlong {
            scene.flexed.clear();
        }
        let mut host = Host::on(scene, 3);
        host.send(order(phase));
        let seconds = if std::env::var_os("LONG").is_some() { 3_600 } else { 10 };
        let (mut edges, mut readings, mut longest, mut before) = (vec![], 0, 0, None);
        for second in 1..=seconds {
            host.listen(second * 1_000_000_000);
            for event in host.events.drain(..) {
                match event {
                    Event::Edges(some) => edges.extend(some.edges.iter().map(|one| one.carries)),
                    Event::Pattern(pattern) if pattern.step == Step::Flex => {
                        for reading in &pattern.readings {
                            longest = longest.max(reading.at.0 - before.unwrap_or(reading.at.0));
                            before = Some(reading.at.0);
                            readings += 1;
                        }
                    }
                    _ => {}
                }
            }
        }
        assert_eq!(edges, [carries]);
        assert!(readings > 1_050 * seconds, "{readings}");
        assert!(longest <= 2_000, "{longest} µs");
    }
}

/// Both patterns in turns: each pair is seen in one of them.
#[test]
fn turns_see_every_pair() {
    for (a, b) in Post::PAIRS {
        let posts = [a.number(), b.number()];
        let of = Contact::Touch { posts, ohm: 1.0 };
        let scene = run(30.0, EndPlug::Out, flexed(of, 0.5, 1, 40_000.0));
        let mut host = Host::on(scene, 7);
        host.send(order(Phase::FlexShorts));
        host.listen(700_000_000);
        let together = host.events.iter().any(|event| match event {
            Event::Edges(edges) => {
                edges.edges.iter().any(|edge| edge.carries == 1 << a.index() | 1 << b.index())
            }
            _ => false,
        });
        assert!(together, "{posts:?}");
    }
}

/// The jig says by itself how it goes: nobody has to look.
#[test]
fn lamps_and_sounder_follow_the_contact() {
    let of = Contact::Conductor { post: 2, ohm: 1e9 };
    let broken = Flexed { moves: Moves::At(vec![[0.0, 600.0]]), ..flexed(of, 0.5, 1, 1.0) };
    let mut host = Host::on(run(30.0, EndPlug::In, broken), 7);
    host.send(order(Phase::Flex));
    for (until_s, lamps, hertz) in [
        (BEGINS_S + 0.1, [true, false, true, true], Some(2_500)),
        (BEGINS_S + 0.5, [true, false, true, true], Some(2_500)),
        (BEGINS_S + 0.7, [true; 4], Some(2_500)),
        (BEGINS_S + 1.1, [true; 4], None),
    ] {
        host.listen((until_s * 1e9) as u64);
        assert_eq!((host.jig.lamps(), host.jig.tone()), (lamps, hertz), "{until_s} s");
    }
}

/// A catcher that does not see a post go to the middle is named, before a relay closes.
#[test]
fn nothing_is_watched_with_a_catcher_that_is_blind() {
    for post in Post::ALL {
        let blind = |followers| Blind { followers, post };
        let mut host = Host::at(SimulatedJig::watched(scene("flex-good"), 1, blind));
        host.measure(Phase::Flex);
        let reason = Stop::Fault(Fault::EdgesBlind(post));
        assert_eq!(host.events.last(), Some(&Event::Stopped { phase: Phase::Flex, reason }));
        assert!(host.jig.released());
        let closed = |event: &Event| matches!(event, Event::Pattern(one) if one.relays_closed);
        assert!(!host.events.iter().any(closed));
    }
}

#[test]
fn voltage_on_the_run_ends_it() {
    let mut powered = Scene { plug: EndPlug::In, ..scene("powered-run") };
    powered.source[0].from_s = 1.0;
    let mut host = Host::on(powered, 1);
    host.send(order(Phase::Flex));
    host.listen(2_000_000_000);
    assert!(host.events.iter().any(|event| matches!(event, Event::Hazard { .. })));
    assert!(host.jig.released());
}

/// A host that takes nothing any more: half a second later the run is let go.
#[test]
fn nobody_who_listens_is_needed_for_it_to_let_go() {
    let mut host = Host::on(scene("flex-good"), 1);
    host.send(order(Phase::Flex));
    host.listen(2_000_000_000);
    assert!(!host.jig.released());
    host.jig.idle(600_000_000);
    assert!(host.jig.released());
}
