//! Runs of any length and gauge that move by little, or for a short time, beside mains: each of it must be found.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Contact, EndPlug, Flexed as Moving, Moves, Scene};
use runproof_interpret::flex::{FlexEvent, FlexKind, FlexLaneOf};
use runproof_protocol::{Phase, Post};

use super::GAUGES_OHM_PER_KM;
use super::flexed::{BEGINS_S, watched};

/// So many times for so long, so far apart.
fn moving(of: Contact, at: f64, times: usize, ms: f64, apart_ms: f64) -> Moving {
    let moves = Moves::At((0..times).map(|n| [n as f64 * apart_ms, ms]).collect());
    Moving { of, at, moves, from_s: BEGINS_S, until_s: f64::INFINITY }
}

fn any(random: &mut Pcg32, plug: EndPlug, moving: Moving) -> Scene {
    let mut scene = Scene::built_in("flex-good").expect("a built-in scene");
    scene.run.length_m = random.random_range(1.0..150.0);
    scene.run.ohm_per_km = GAUGES_OHM_PER_KM[random.random_range(0..GAUGES_OHM_PER_KM.len())];
    (scene.plug, scene.flexed) = (plug, vec![moving]);
    scene
}

fn of(events: &[FlexEvent], lane: FlexLaneOf, kind: FlexKind) -> usize {
    events.iter().filter(|event| event.lane == lane && event.kind == kind).count()
}

/// Bar: 1 Ω for 10 ms and more, each, on the right conductor and no other; beside mains.
#[test]
fn every_step_of_an_ohm_is_found_on_its_conductor() {
    const TIMES: usize = 25;
    let mut random = Pcg32::seed_from_u64(10);
    for run in 0..24 {
        let post = Post::ALL[run % 4];
        let ohm = if run < 12 { 1.0 } else { random.random_range(1.0..200.0) };
        let of_post = Contact::Conductor { post: post.number(), ohm };
        let (at, apart_ms) = (random.random_range(0.0..=1.0), random.random_range(30.0..33.0));
        let scene = any(&mut random, EndPlug::In, moving(of_post, at, TIMES, 10.0, apart_ms));
        let record = watched(scene, Phase::Flex, BEGINS_S + 0.9, run as u64);
        let found = of(&record.events, FlexLaneOf::Conductor(post), FlexKind::Step);
        assert_eq!((found, record.events.len()), (TIMES, TIMES), "run {run}, {ohm} Ω: {record:?}");
    }
}

/// Bar: breaks of 30 µs and more, each.
#[test]
fn every_break_is_told_with_its_length() {
    const TIMES: usize = 40;
    let mut random = Pcg32::seed_from_u64(11);
    for run in 0..16 {
        let post = Post::ALL[run % 4];
        let ms = [0.03, 0.1, 1.0, 12.0][run / 4];
        let of_post = Contact::Conductor { post: post.number(), ohm: 1e9 };
        let at = random.random_range(0.0..=1.0);
        let scene = any(&mut random, EndPlug::In, moving(of_post, at, TIMES, ms, 20.1));
        let record = watched(scene, Phase::Flex, BEGINS_S + 1.0, run as u64);
        let found = of(&record.events, FlexLaneOf::Conductor(post), FlexKind::Break);
        assert_eq!((found, record.events.len()), (TIMES, TIMES), "run {run}, {ms} ms: {record:?}");
        for event in &record.events {
            let off_us = (event.lasted.micros() as f64 - ms * 1e3).abs();
            assert!(off_us <= (ms * 50.0).max(20.0), "{ms} ms: {event:?}");
        }
    }
}

/// The same of touches, with the plug out.
#[test]
fn every_touch_is_told_with_its_pair() {
    const TIMES: usize = 40;
    let mut random = Pcg32::seed_from_u64(12);
    for (a, b) in Post::PAIRS {
        let along = [a.number() % 2, b.number() % 2] == [1, 0]
            || [a.number() % 2, b.number() % 2] == [0, 1];
        let phase = if along { Phase::FlexAlong } else { Phase::FlexAcross };
        for ms in [0.03, 0.3] {
            let touch = Contact::Touch { posts: [a.number(), b.number()], ohm: 1.0 };
            let at = random.random_range(0.0..=1.0);
            let scene = any(&mut random, EndPlug::Out, moving(touch, at, TIMES, ms, 10.1));
            let record = watched(scene, phase, BEGINS_S + 0.6, 5);
            let found = of(&record.events, FlexLaneOf::Pair(a, b), FlexKind::Touch);
            assert_eq!((found, record.events.len()), (TIMES, TIMES), "{a}{b}, {ms} ms: {record:?}");
        }
    }
}

/// A reading that began while nodes were still on their way back from a break is none of a rise. (Breaks of a few
/// microseconds, which the catcher cannot see, may be told as such.)
#[test]
fn breaks_alone_are_no_rises() {
    let mut random = Pcg32::seed_from_u64(13);
    for length_m in [1.0, 150.0] {
        let mut at_ms = 0.0;
        let moves: Vec<[f64; 2]> = (0..400)
            .map(|_| {
                at_ms += random.random_range(30.0..38.0);
                [at_ms, random.random_range(0.02..0.4)]
            })
            .collect();
        let of = Contact::Conductor { post: 2, ohm: 1e9 };
        let broken = Moving { moves: Moves::At(moves), ..moving(of, 0.95, 1, 1.0, 1.0) };
        let mut scene = any(&mut random, EndPlug::In, broken);
        scene.run.length_m = length_m;
        let record = watched(scene, Phase::Flex, 17.0, 6);
        let breaks = of_kind(&record.events, FlexKind::Break);
        assert_eq!((breaks, record.events.len()), (400, 400), "{length_m} m: {:?}", record.lanes);
    }
}

fn of_kind(events: &[FlexEvent], kind: FlexKind) -> usize {
    events.iter().filter(|event| event.kind == kind).count()
}
