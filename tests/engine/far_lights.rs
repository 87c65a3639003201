//! The lights at the far end: which posts are driven when, what flows through the lights, and what ends that.

use runproof_firmware::boards::simulated::{EndPlug, Scene, SimulatedJig, Source, Through};
use runproof_protocol::{
    Command, Drive, Event, FarLights, Fault, HazardKind, Lamp, Phase, Post, Stop,
};

use crate::host::{Host, ends};
use crate::{Blind, done, hazard, scene};

const MILLISECOND: u64 = 1_000_000;
/// `tests/jig/figures.py`, for one pair through the jig and a short run.
const LIT_A: std::ops::RangeInclusive<f64> = 0.73e-3..=0.93e-3;

/// A run whose key is turned over, and whose conductors arrive there.
fn turned(arrives_at: [u8; 4]) -> Scene {
    let mut run = scene("good-run");
    run.run.arrives_at = arrives_at;
    Scene { plug: EndPlug::Out, key_reversed_s: 0.0, ..run }
}

fn order(pattern: u16, posts: [u8; 4]) -> Command {
    let posts = posts.map(|post| Post::from_number(post).expect("a post"));
    Command::LightFar(FarLights { pattern: Lamp(pattern), posts })
}

/// What was driven and what flowed, each millisecond from the order to its end.
fn played(host: &mut Host, order: Command) -> Vec<([Drive; 4], Vec<f64>)> {
    host.send(order);
    let mut played = vec![];
    while !host.events.iter().any(ends) {
        assert!(played.len() < 3_000, "no end: {:?}", host.events.last());
        host.listen(host.jig.now() + MILLISECOND);
        played.push((host.jig.drives(), host.jig.lights_a()));
    }
    played
}

fn glows(lights_a: &[f64]) -> bool {
    lights_a.iter().any(|ampere| ampere.abs() > 1e-6)
}

/// Each light by its pattern, both ways round, and nothing but the jig's own check of its watch before it.
#[test]
fn the_lights_follow_their_pattern_at_the_posts_that_reach_them() {
    for (pattern, arrives_at, posts) in [
        (0xFFFF, [1, 2, 3, 4], [1, 2, 3, 4]),
        (0x1CE7, [1, 4, 3, 2], [1, 4, 3, 2]),
        (0x0033, [3, 1, 2, 4], [2, 3, 1, 4]),
    ] {
        let mut host = Host::on(turned(arrives_at), 1);
        let played = played(&mut host, order(pattern, posts));
        assert!(host.events.contains(&Event::Started { phase: Phase::FarLights }));
        assert!(host.events.contains(&Event::Done { phase: Phase::FarLights, patterns: 0 }));
        assert!(!host.events.iter().any(|event| matches!(event, Event::Pattern(_))));
        assert!(host.jig.released());
        let from = played.iter().position(|(_, lights_a)| glows(lights_a)).expect("they are lit");
        assert!((200..320).contains(&from), "lit after {from} ms");
        assert!(played.len() - from <= 1_602, "{} ms, then the end", played.len() - from);
        let alike = |drives: &[Drive; 4]| drives.iter().all(|one| *one == drives[0]);
        assert!(played[..from].iter().all(|(drives, _)| alike(drives)), "only its own check");
        let (mut forth, mut back) = (0, 0);
        for (ms, (drives, lights_a)) in played[from..].iter().enumerate().take(1_600) {
            let lit = pattern >> (ms / 100) & 1 != 0;
            if ms % 5 == 4 {
                continue; // about to change
            }
            if !lit {
                assert_eq!((*drives, glows(lights_a)), ([Drive::Off; 4], false), "{ms} ms");
                continue;
            }
            let [one, two] = lights_a[..] else { panic!("two pairs of lights") };
            assert!(
                LIT_A.contains(&one.abs()) && LIT_A.contains(&two.abs()),
                "{ms} ms: {one} {two}"
            );
            assert_eq!(one > 0.0, two > 0.0);
            if one > 0.0 { forth += 1 } else { back += 1 }
        }
        assert_eq!((forth, back), (pattern.count_ones() * 40, pattern.count_ones() * 40));
    }
}

/// The test above would not see it otherwise.
#[test]
fn other_posts_light_nothing() {
    let mut host = Host::on(turned([1, 3, 2, 4]), 1);
    let played = played(&mut host, order(0xFFFF, [1, 2, 3, 4]));
    assert!(done(&host));
    assert!(!played.iter().any(|(_, lights_a)| glows(lights_a)));
}

/// No host asks for these; they are bytes like any other.
#[test]
fn a_post_that_is_named_twice_harms_nothing() {
    for posts in [[1, 1, 1, 1], [2, 2, 3, 3], [1, 2, 2, 1]] {
        let mut host = Host::on(turned([1, 2, 3, 4]), 1);
        played(&mut host, order(0xFFFF, posts));
        assert!(done(&host) && host.jig.released(), "{posts:?}");
    }
}

#[test]
fn an_abort_at_any_instant_ends_the_lights() {
    for instant in 0..60 {
        let mut host = Host::on(turned([1, 2, 3, 4]), 1);
        host.send(order(0xFFFF, [1, 2, 3, 4]));
        host.listen((instant * 31 * MILLISECOND).max(1));
        host.send(Command::Abort);
        host.listen(host.jig.now() + 1);
        assert!(host.jig.released() && !glows(&host.jig.lights_a()), "at {instant}");
        host.listen(host.jig.now() + 5 * MILLISECOND);
        let stopped = Event::Stopped { phase: Phase::FarLights, reason: Stop::Aborted };
        assert!(done(&host) || host.events.contains(&stopped), "at {instant}");
        host.measure(Phase::Glance);
        assert!(done(&host), "at {instant}");
        assert_eq!(host.jig.cut_transfers(), 0);
    }
}

/// 24 VAC at 60 Hz: within 2.14 ms around its zero half of it is below 5 V, and two looks of the watch follow.
#[test]
fn voltage_at_any_instant_ends_the_lights_and_latches() {
    const WITHIN_NANOS: u64 = 2_600_000;
    let (mut before, mut while_lit) = (0, 0);
    for instant in 0..60 {
        let from_nanos = instant * 29 * MILLISECOND;
        let mut live = turned([1, 2, 3, 4]);
        let source = Source::alternating([4, 3], 24.0, 60.0, Through::Ohm(1.5));
        live.source = vec![Source { from_s: from_nanos as f64 * 1e-9, ..source }];
        let mut host = Host::on(live, 1);
        host.send(order(0xFFFF, [1, 2, 3, 4]));
        host.listen(from_nanos.max(1));
        let driven = !host.jig.released();
        host.listen(from_nanos + WITHIN_NANOS);
        match hazard(&host) {
            Some((HazardKind::WhileClosed, _)) => while_lit += 1,
            _ if !driven || from_nanos < 250 * MILLISECOND => {
                host.listen(400 * MILLISECOND);
                assert!(hazard(&host).is_some(), "live from {from_nanos} ns");
                before += 1;
            }
            other => panic!("{other:?}, live from {from_nanos} ns"),
        }
        assert!(host.jig.released() && !done(&host), "live from {from_nanos} ns");
        host.send(order(0xFFFF, [1, 2, 3, 4]));
        host.listen(host.jig.now() + 10 * MILLISECOND);
        assert!(host.events.iter().any(|event| matches!(event, Event::Refused { .. })));
    }
    assert!(before >= 5 && while_lit >= 50, "{before} and {while_lit}");
}

#[test]
fn nothing_is_lit_with_a_watch_that_is_blind() {
    for post in Post::ALL {
        let blind = |followers| Blind { followers, post };
        let mut host = Host::at(SimulatedJig::watched(turned([1, 2, 3, 4]), 1, blind));
        let played = played(&mut host, order(0xFFFF, [1, 2, 3, 4]));
        let reason = Stop::Fault(Fault::WatchBlind(post));
        assert!(host.events.contains(&Event::Stopped { phase: Phase::FarLights, reason }));
        assert!(!played.iter().any(|(_, lights_a)| glows(lights_a)) && host.jig.released());
    }
}

/// A host that takes nothing does not keep them lit.
#[test]
fn the_lights_end_by_themselves() {
    let mut host = Host::on(turned([1, 2, 3, 4]), 1);
    host.send(order(0xFFFF, [1, 2, 3, 4]));
    for _ in 0..2_200 {
        host.jig.idle(MILLISECOND);
    }
    assert!(host.jig.released());
}
