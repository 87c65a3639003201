//! Runs of every kind, measured by the engine on the simulated board and judged: any map, open or
//! joint is named, no short passes, and what is missing or worse never improves a verdict.

#[path = "judging/between.rs"]
mod between;
#[path = "judging/damaged_stream.rs"]
mod damaged_stream;
#[path = "judging/false_passes.rs"]
mod false_passes;
#[path = "judging/fixture.rs"]
mod fixture;
#[path = "judging/flexed.rs"]
mod flexed;
#[path = "support/host.rs"]
mod host;
#[path = "judging/locations.rs"]
mod locations;
#[path = "judging/looks_long.rs"]
mod looks_long;
#[path = "judging/monotone.rs"]
mod monotone;
#[path = "judging/read_aloud.rs"]
mod read_aloud;
#[path = "judging/reels.rs"]
mod reels;
#[path = "judging/short_and_small.rs"]
mod short_and_small;
#[path = "judging/to_earth.rs"]
mod to_earth;
#[path = "judging/touches.rs"]
mod touches;
#[path = "judging/two_faults.rs"]
mod two_faults;
#[path = "support/zeroed.rs"]
mod zeroed;
#[path = "judging/zeros.rs"]
mod zeros;

#[path = "support/measured.rs"]
mod measured;

use measured::measured;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{
    EndPlug, JigState, Joint, OpenConductor, Run, Scene, Short,
};
use runproof_interpret::capture::{Capture, Entry, Node};
use runproof_interpret::judgement::{FindingKind, Judgement, Verdict};
use runproof_interpret::{LimitSheet, RunKnowledge, judge};
use runproof_protocol::{Phase, Post};

/// 16 to 24 AWG, in ohms a kilometre at 20 °C: ASTM B258 with the copper of IEC 60028.
const GAUGES_OHM_PER_KM: [f64; 5] = [13.17, 20.95, 33.31, 52.96, 84.22];

/// A healthy run of any gauge, 1–150 m, −10…45 °C. On the thinnest, long enough ones exceed the
/// sheet's 3 Ω: that is another matter than the map.
fn any_run(random: &mut Pcg32) -> Scene {
    Scene {
        about: String::new(),
        run: Run {
            length_m: random.random_range(1.0..150.0),
            ohm_per_km: GAUGES_OHM_PER_KM[random.random_range(0..GAUGES_OHM_PER_KM.len())],
            copper_c: random.random_range(-10.0..45.0),
            warms_k_per_min: 0.0,
            pf_per_m: 25.0,
            sibling_spread: 0.01,
            capacitance_spread: 0.0,
            clipped_to: [1, 2, 3, 4],
            arrives_at: [1, 2, 3, 4],
            plugged_to: [1, 2, 3, 4],
            open: vec![],
            joint: vec![],
            short: vec![],
        },
        plug: EndPlug::GoesIn,
        left_on: vec![],
        source: vec![],
        touch: vec![],
        flexed: vec![],
        key_out_s: f64::INFINITY,
        key_reversed_s: f64::INFINITY,
        jig: JigState::default(),
    }
}

fn good_run() -> Scene {
    Scene::built_in("good-run").expect("a built-in scene")
}

fn judged(capture: &Capture) -> Judgement {
    judge(capture, &LimitSheet::service_24vac(), &RunKnowledge::default())
}

fn reaches(judgement: &Judgement) -> [u8; 4] {
    Post::ALL.map(|post| judgement.conductors[post.index()].reaches.map_or(0, Post::number))
}

fn maps() -> Vec<[u8; 4]> {
    let digits = (0..256_u32).map(|code| [0, 2, 4, 6].map(|shift| (code >> shift & 3) as u8 + 1));
    digits.filter(|map| (1..=4).all(|post| map.contains(&post))).collect()
}

/// The conductor that must be clipped to each post for posts 1–4 to hold these.
fn inverse(map: [u8; 4]) -> [u8; 4] {
    [1, 2, 3, 4].map(|post| 1 + map.iter().position(|to| *to == post).expect("a map") as u8)
}

/// What went otherwise than it must, told all at once.
fn expect_none(what: &str, checks: usize, wrong: &[String]) {
    println!("{what}: {} right, {} wrong", checks - wrong.len(), wrong.len());
    assert!(wrong.is_empty(), "{what}:\n{}", wrong.join("\n"));
}

/// At the clips, in the run, or at the plug.
#[test]
fn every_map_is_named() {
    const SEEDS: u64 = 50;
    let mut random = Pcg32::seed_from_u64(24);
    let mut wrong = vec![];
    for map in maps() {
        for seed in 0..SEEDS {
            let mut scene = any_run(&mut random);
            match seed % 3 {
                0 => scene.run.clipped_to = inverse(map),
                1 => scene.run.arrives_at = map,
                _ => scene.run.plugged_to = map,
            }
            let run = format!("{map:?} seed {seed} {:?}", scene.run);
            let judgement = judged(&measured(scene, seed));
            if reaches(&judgement) != map {
                wrong.push(format!("{run}: {:?}", judgement.findings));
            }
        }
    }
    expect_none("maps", 24 * SEEDS as usize, &wrong);
}

#[test]
fn every_open_is_named() {
    let mut random = Pcg32::seed_from_u64(4);
    let mut wrong = vec![];
    let mut checks = 0;
    for post in 1..=4 {
        for at in [0.0, 0.5, 1.0] {
            for seed in 0..10 {
                let mut scene = any_run(&mut random);
                scene.run.open = vec![OpenConductor { post, at }];
                let run = format!("open {post} at {at} seed {seed} {:?}", scene.run);
                let judgement = judged(&measured(scene, seed));
                let mut expected = [1, 2, 3, 4];
                expected[usize::from(post) - 1] = 0;
                let first = judgement.findings.first().map(|finding| finding.kind);
                if reaches(&judgement) != expected || first != Some(FindingKind::Open) {
                    wrong.push(format!("{run}: {:?}", judgement.findings));
                }
                checks += 1;
            }
        }
    }
    expect_none("opens", checks, &wrong);
}

/// A run that passes, on the jig of this seed.
fn any_passing_run(random: &mut Pcg32, seed: u64) -> Scene {
    loop {
        let scene = any_run(random);
        if judged(&measured(scene.clone(), seed)).verdict == Verdict::Pass {
            return scene;
        }
    }
}

/// Between the conductors of runs that pass without it.
#[test]
fn no_short_passes() {
    let mut random = Pcg32::seed_from_u64(6);
    let mut wrong = vec![];
    let mut checks = 0;
    for (a, b) in Post::PAIRS {
        for ohm in [0.001, 0.8, 50.0, 1_000.0, 2_000.0] {
            for at in [0.0, 0.37, 1.0] {
                for seed in 0..5 {
                    let mut scene = any_passing_run(&mut random, seed);
                    scene.run.short = vec![Short { posts: [a.number(), b.number()], at, ohm }];
                    let run = format!("short seed {seed} {:?}", scene.run);
                    let judgement = judged(&measured(scene, seed));
                    if judgement.verdict == Verdict::Pass {
                        wrong.push(run);
                    }
                    checks += 1;
                }
            }
        }
    }
    expect_none("shorts", checks, &wrong);
}

/// 5 Ω in one conductor: beyond the limit of supply and common; of a data conductor only a note.
#[test]
fn a_bad_joint_is_named() {
    let mut wrong = vec![];
    for (post, kind, verdict) in [
        (1, FindingKind::UnevenResistance, Verdict::Pass),
        (2, FindingKind::UnevenResistance, Verdict::Pass),
        (3, FindingKind::HighResistance, Verdict::Fail),
        (4, FindingKind::HighResistance, Verdict::Fail),
    ] {
        for seed in 0..20 {
            let mut scene = good_run();
            scene.run.joint = vec![Joint { post, at: 0.5, ohm: 5.0 }];
            let judgement = judged(&measured(scene, seed));
            let named = judgement.findings.iter().any(|finding| {
                finding.kind == kind && finding.posts.iter().any(|one| one.number() == post)
            });
            if !named || judgement.verdict != verdict {
                wrong.push(format!("joint on {post} seed {seed}: {:?}", judgement.findings));
            }
        }
    }
    expect_none("joints", 80, &wrong);
}

/// Beside an open conductor a bad joint can look like another map: then none is stated.
#[test]
fn an_open_and_a_joint_give_no_wrong_map() {
    let mut wrong = vec![];
    let mut checks = 0;
    for open in 1..=4 {
        for joint in (1..=4).filter(|post| *post != open) {
            for ohm in [0.5, 2.5, 8.0, 20.0, 60.0, 120.0] {
                for map in [[1, 2, 3, 4], [2, 1, 3, 4], [1, 4, 3, 2]] {
                    let mut scene = good_run();
                    scene.run.arrives_at = map;
                    scene.run.open = vec![OpenConductor { post: open, at: 0.5 }];
                    scene.run.joint = vec![Joint { post: joint, at: 0.5, ohm }];
                    let run = format!("{:?}", scene.run);
                    let judgement = judged(&measured(scene, checks));
                    let stated = reaches(&judgement).into_iter().zip(map);
                    let all_true = stated.into_iter().all(|(found, is)| found == 0 || found == is);
                    if !all_true || judgement.verdict == Verdict::Pass {
                        wrong.push(format!("{run}: {:?}", reaches(&judgement)));
                    }
                    checks += 1;
                }
            }
        }
    }
    expect_none("opens beside joints", checks as usize, &wrong);
}

/// The end plug forgotten, and something left on two conductors: nothing is called open.
#[test]
fn a_load_without_the_plug_is_no_open_conductor() {
    let mut wrong = vec![];
    let mut checks = 0;
    for (a, b) in Post::PAIRS {
        for ohm in [10.0, 20.0, 120.0, 300.0, 1_000.0] {
            let mut scene = good_run();
            scene.plug = EndPlug::Out;
            scene.run.short = vec![Short { posts: [a.number(), b.number()], at: 1.0, ohm }];
            let run = format!("{:?}", scene.run);
            let judgement = judged(&measured(scene, checks));
            let open = judgement.findings.iter().any(|finding| finding.kind == FindingKind::Open);
            if open || judgement.verdict == Verdict::Pass {
                wrong.push(format!("{run}: {:?}", judgement.findings));
            }
            checks += 1;
        }
    }
    expect_none("loads without the plug", checks as usize, &wrong);
}

#[test]
fn two_opens_are_both_named() {
    let mut wrong = vec![];
    for (a, b) in Post::PAIRS {
        let mut scene = good_run();
        scene.run.open = [a, b].map(|post| OpenConductor { post: post.number(), at: 0.5 }).to_vec();
        let judgement = judged(&measured(scene, 1));
        let open = judgement.findings.iter().filter(|finding| finding.kind == FindingKind::Open);
        if open.flat_map(|finding| finding.posts.iter().copied()).collect::<Vec<_>>() != [a, b] {
            wrong.push(format!("{a} and {b}: {:?}", judgement.findings));
        }
    }
    expect_none("two opens", 6, &wrong);
}

/// Lines of a capture may be lost: any one pattern, any one reading of a sense node, or the end.
#[test]
fn what_is_missing_never_passes() {
    let whole = measured(good_run(), 1);
    assert_eq!(judged(&whole).verdict, Verdict::Pass);
    let patterns = whole.readings(Phase::Plug).map(|reading| reading.pattern).max().expect("some");
    let mut wrong = vec![];
    for lost in 0..=patterns {
        let mut part = whole.clone();
        part.entries
            .retain(|entry| !matches!(entry, Entry::Reading(reading) if reading.pattern == lost));
        if judged(&part).verdict == Verdict::Pass {
            wrong.push(format!("without pattern {lost}"));
        }
    }
    let needed = |entry: &Entry| matches!(entry, Entry::Reading(reading) if reading.channel.node == Node::Sense);
    let places = (0..whole.entries.len()).filter(|index| needed(&whole.entries[*index]));
    let mut readings = 0;
    for place in places {
        let mut part = whole.clone();
        part.entries.remove(place);
        if judged(&part).verdict == Verdict::Pass {
            wrong.push(format!("without entry {place}"));
        }
        readings += 1;
    }
    let mut part = whole.clone();
    part.entries.retain(|entry| matches!(entry, Entry::Reading(_)));
    if judged(&part).verdict == Verdict::Pass {
        wrong.push("without its end".into());
    }
    expect_none("captures with a loss", patterns as usize + 2 + readings, &wrong);
}

/// Pass, then cannot tell, then fail: more resistance never goes back.
#[test]
fn more_resistance_never_improves_the_verdict() {
    let rank = |verdict| match verdict {
        Verdict::Pass => 0,
        Verdict::CannotTell => 1,
        Verdict::Fail => 2,
    };
    for seed in 0..10 {
        let mut worst = 0;
        let mut seen = [false; 3];
        for step in 0..60 {
            let mut scene = good_run();
            scene.run.joint = vec![Joint { post: 4, at: 0.5, ohm: 0.01 + 0.06 * f64::from(step) }];
            let rank = rank(judged(&measured(scene, seed)).verdict);
            assert!(rank >= worst, "seed {seed} step {step}: from {worst} to {rank}");
            worst = rank;
            seen[rank] = true;
        }
        assert!(seen[0] && seen[2], "seed {seed}: {seen:?}");
    }
}
