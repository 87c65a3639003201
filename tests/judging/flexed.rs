//! Runs that are flexed, by the engine on the simulated board, heard as they come.

use runproof_firmware::boards::simulated::{Contact, EndPlug, Flexed as Moving, Moves, Scene};
use runproof_interpret::capture::{Capture, head_from};
use runproof_interpret::flex::{
    Depth, FlexEvent, FlexKind, FlexLaneOf, FlexRecord, FlexSetup, Flexed, Lasted,
};
use runproof_interpret::judge_flex;
use runproof_interpret::judgement::{FlexFindingKind, Verdict};
use runproof_protocol::{Command, Event, Phase, Post};

use crate::host::{Host, ends, order};

/// Looks and settling are over.
pub(super) const BEGINS_S: f64 = 1.0;

pub(super) fn watched(scene: Scene, phase: Phase, seconds: f64, seed: u64) -> FlexRecord {
    let mut host = Host::on(scene, seed);
    host.send(Command::Identify);
    host.send(order(phase));
    host.listen((seconds * 1e9) as u64);
    assert!(!host.events.iter().any(ends), "{:?}", host.events.last());
    host.send(Command::Abort);
    host.listen(host.jig.now() + 50_000_000);
    let identity = host.events.iter().find_map(|event| match event {
        Event::Identity(identity) => Some(identity),
        _ => None,
    });
    let identity = identity.expect("it was asked for");
    let (parts, plug) = (identity.parts, identity.plug);
    let baseline_ohm = [None; 4];
    let mut flexed =
        Flexed::new(FlexSetup { phase, parts, plug, baseline_ohm, step_ohm: FlexSetup::STEP_OHM });
    let mut news = vec![];
    host.events.iter().for_each(|event| flexed.hear(event, &mut news));
    flexed.finish()
}

fn scene(name: &str) -> Scene {
    Scene::built_in(name).expect("built in")
}

fn judged(record: FlexRecord) -> (Verdict, Vec<FlexFindingKind>) {
    let identity = runproof_firmware::identity("simulated", "");
    let mut capture = Capture::new(head_from(&identity, "test").expect("a plausible jig"));
    capture.push_flex(record);
    let judgement = judge_flex(&Capture::read(&capture.write()).expect("it was written"));
    (judgement.verdict, judgement.findings.iter().map(|finding| finding.kind).collect())
}

fn moving(plug: EndPlug, length_m: f64, of: Contact, moves: &[[f64; 2]]) -> Scene {
    let flexed = Moving {
        of,
        at: 1.0,
        moves: Moves::At(moves.into()),
        from_s: BEGINS_S,
        until_s: f64::INFINITY,
    };
    let mut scene = Scene { plug, flexed: vec![flexed], ..scene("good-run") };
    scene.run.length_m = length_m;
    scene
}

fn at_s(event: &FlexEvent) -> f64 {
    event.at.0 as f64 / 1e6
}

#[test]
fn a_good_run_beside_mains_is_quiet() {
    let record = watched(scene("flex-good"), Phase::Flex, 20.0, 1);
    assert_eq!(record.events, []);
    assert_eq!((record.head.gaps, record.head.contradicted_us), (0, 0));
    assert_eq!(record.head.steps_from_ohm, Some(1.0));
    for lane in &record.lanes[..4] {
        assert!(lane.most_rise_ohm.is_some_and(|ohm| ohm < 0.3), "{lane:?}");
        assert!(lane.watched_s() > 19.0);
    }
    assert_eq!(judged(record), (Verdict::Pass, vec![]));
    let unplugged = || Scene { plug: EndPlug::Out, ..scene("flex-good") };
    for phase in [Phase::FlexShorts, Phase::FlexAcross, Phase::FlexAlong] {
        let record = watched(unplugged(), phase, 10.0, 1);
        assert_eq!(record.events, [], "{phase:?}");
        assert_eq!(judged(record), (Verdict::Pass, vec![]), "{phase:?}");
    }
}

/// A fraction of a millisecond to a few hundred, on each conductor of a short run and a long one.
#[test]
fn breaks_are_timed_on_their_conductor() {
    let moves = [[0.0, 0.1], [20.0, 1.0], [60.0, 33.0], [150.0, 300.0]];
    for length_m in [2.0, 150.0] {
        for post in Post::ALL {
            let of = Contact::Conductor { post: post.number(), ohm: 1e9 };
            let record = watched(moving(EndPlug::In, length_m, of, &moves), Phase::Flex, 2.0, 3);
            assert_eq!(record.events.len(), moves.len(), "{:?}", record.events);
            for (event, [after_ms, ms]) in record.events.iter().zip(moves) {
                assert_eq!(
                    (event.lane, event.kind),
                    (FlexLaneOf::Conductor(post), FlexKind::Break)
                );
                let Lasted::Micros(us) = event.lasted else { panic!("{event:?}") };
                assert!((us as f64 - ms * 1e3).abs() <= 20.0, "{event:?}");
                assert!((at_s(event) - BEGINS_S - after_ms / 1e3).abs() < 50e-6, "{event:?}");
                let depth = if ms > 10.0 { Depth::Open } else { Depth::NotSeen };
                assert_eq!(event.depth, depth, "{event:?}");
            }
            assert_eq!(record.head.contradicted_us, 0);
            assert_eq!(judged(record), (Verdict::Fail, vec![FlexFindingKind::Breaks]));
        }
    }
}

#[test]
fn steps_are_found_on_their_conductor() {
    let moves: Vec<[f64; 2]> =
        (0..20).map(|n| [f64::from(n) * 83.0, 10.0 + f64::from(n)]).collect();
    for post in Post::ALL {
        for ohm in [1.0, 2.5, 30.0] {
            let of = Contact::Conductor { post: post.number(), ohm };
            let record = watched(moving(EndPlug::In, 40.0, of, &moves), Phase::Flex, 3.0, 4);
            assert_eq!(record.events.len(), moves.len(), "{ohm} {:?}", record.events);
            for (event, [after_ms, ms]) in record.events.iter().zip(&moves) {
                assert_eq!((event.lane, event.kind), (FlexLaneOf::Conductor(post), FlexKind::Step));
                let Depth::Ohm(told) = event.depth else { panic!("{event:?}") };
                assert!((told / ohm - 1.0).abs() < 0.2, "{ohm} {event:?}");
                assert!((event.lasted.micros() as f64 / 1e3 - ms).abs() < 6.0, "{ms} {event:?}");
                assert!((at_s(event) - BEGINS_S - after_ms / 1e3).abs() < 6e-3, "{event:?}");
            }
            assert_eq!(judged(record).0, Verdict::Fail);
        }
    }
}

#[test]
fn touches_are_found_between_the_two() {
    let moves = [[0.0, 0.2], [20.0, 40.0], [100.0, 300.0]];
    for (phase, pairs) in [
        (Phase::FlexAcross, vec![[1, 3], [1, 4], [2, 3], [2, 4]]),
        (Phase::FlexAlong, vec![[1, 2], [1, 4], [2, 3], [3, 4]]),
        (Phase::FlexShorts, vec![[1, 2], [1, 3], [1, 4], [2, 3], [2, 4], [3, 4]]),
    ] {
        for posts in pairs {
            let of = Contact::Touch { posts, ohm: 5.0 };
            let record = watched(moving(EndPlug::Out, 40.0, of, &moves), phase, 2.0, 5);
            let [a, b] = posts.map(|number| Post::from_number(number).expect("a post"));
            for event in &record.events {
                assert_eq!((event.lane, event.kind), (FlexLaneOf::Pair(a, b), FlexKind::Touch));
            }
            let turns = phase == Phase::FlexShorts;
            let expected = if turns { 2..=3 } else { 3..=3 };
            assert!(expected.contains(&record.events.len()), "{posts:?} {:?}", record.events);
            let longest = record.events.iter().max_by_key(|event| event.lasted.micros());
            let longest = longest.expect("there are some");
            let slack_us = if turns { 32_000 } else { 20 };
            assert!(longest.lasted.micros().abs_diff(300_000) <= slack_us, "{longest:?}");
            assert!(
                matches!(longest.depth, Depth::Ohm(ohm) if (5.0..8.0).contains(&ohm)),
                "{longest:?}"
            );
            assert_eq!(record.head.contradicted_us, 0);
            assert_eq!(judged(record), (Verdict::Fail, vec![FlexFindingKind::Touches]));
        }
    }
}

/// The scenes that anybody can try: what is wrong with each is seen, and nothing else.
#[test]
fn each_scene_shows_its_own() {
    for (name, phase, seconds, kinds, lane) in [
        ("flex-nicked", Phase::Flex, 10.0, vec![FlexKind::Break], FlexLaneOf::Conductor(Post::P2)),
        ("flex-blower", Phase::Flex, 6.0, vec![FlexKind::Break], FlexLaneOf::Conductor(Post::P1)),
        (
            "flex-loose-screw",
            Phase::Flex,
            20.0,
            vec![FlexKind::Break, FlexKind::Step],
            FlexLaneOf::Conductor(Post::P3),
        ),
        (
            "flex-warm-joint",
            Phase::Flex,
            30.0,
            vec![FlexKind::Step],
            FlexLaneOf::Conductor(Post::P4),
        ),
        (
            "flex-staple",
            Phase::FlexAcross,
            10.0,
            vec![FlexKind::Touch],
            FlexLaneOf::Pair(Post::P1, Post::P3),
        ),
        (
            "flex-staple",
            Phase::FlexShorts,
            10.0,
            vec![FlexKind::Touch],
            FlexLaneOf::Pair(Post::P1, Post::P3),
        ),
    ] {
        let record = watched(scene(name), phase, seconds, 6);
        for kind in &kinds {
            assert!(record.events.iter().any(|event| event.kind == *kind), "{name} {kind:?}");
        }
        for event in &record.events {
            assert!(event.lane == lane && kinds.contains(&event.kind), "{name} {event:?}");
        }
        assert_eq!(judged(record).0, Verdict::Fail, "{name}");
    }
}

/// A motor beside the run of an earthed jig is switched on while it is watched: no joint has less than at rest.
#[test]
fn hum_that_begins_later_is_none_of_a_rise() {
    let mut hidden = 0;
    for seed in 1..=12 {
        let (pf, hertz) = (1500 + 500 * seed, if seed % 2 == 0 { 50 } else { 60 });
        let text = format!(
            "about = \"Hum that begins.\"\nplug = \"in\"\n[run]\nlength_m = 60.0\nohm_per_km = 20.95\n\
             copper_c = 24.0\narrives_at = [1, 2, 3, 4]\n[jig]\nearthed = true\n[[source]]\nbetween = [{}, 0]\n\
             volts_rms = 120.0\nhertz = {hertz}.0\nfrom_s = 3.0\nthrough = {{ coupled_pf = {pf}.0 }}\n",
            1 + seed % 4
        );
        let record = watched(Scene::read(&text).expect("a scene"), Phase::Flex, 6.0, seed);
        let told = record.head.steps_from_ohm;
        assert_eq!(record.events, [], "{pf} pF, {hertz} Hz");
        let hides = told.is_some_and(|ohm| ohm > FlexSetup::STEP_OHM);
        let found = if hides { vec![FlexFindingKind::Hum] } else { vec![] };
        hidden += u32::from(hides);
        assert_eq!(judged(record), (Verdict::Pass, found), "{pf} pF, {hertz} Hz");
    }
    assert!(hidden > 6, "{hidden}");
}

/// One of them ends in the nanosecond in which a threshold is passed: the conductor carries again all the same.
#[test]
fn breaks_of_any_length_leave_nothing_behind() {
    const NANOS: std::ops::Range<u32> = 5_000..13_000;
    // Whole nanoseconds are cut off, not rounded.
    let moves =
        NANOS.map(|ns| [f64::from(ns - NANOS.start) * 1.1 + 0.5e-6, f64::from(ns) / 1e6]).collect();
    let of = Contact::Conductor { post: 2, ohm: 1e9 };
    let (from_s, until_s) = (BEGINS_S, f64::INFINITY);
    let flexed = Moving { of, at: 0.95, moves: Moves::At(moves), from_s, until_s };
    let record =
        watched(Scene { flexed: vec![flexed], ..scene("flex-nicked") }, Phase::Flex, 11.0, 5);
    let (seen, all) = (record.lanes[1].count, NANOS.len() as u64);
    assert!((all / 4..all).contains(&seen), "{seen} of {all}");
    assert!(record.lanes[1].longest_us < 50, "{:?}", record.lanes[1]);
    assert_eq!(record.head.contradicted_us, 0);
}
