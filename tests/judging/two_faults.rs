//! What occurs together on site: each fault is named, and nothing is said that is not true.

use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Joint, OpenConductor, Scene, Short, Source, Through};
use runproof_interpret::judgement::{FindingKind, Judgement, Verdict};
use runproof_interpret::{LimitSheet, RunKnowledge, judge};
use runproof_protocol::Post;

use crate::{any_passing_run, any_run, expect_none, maps, measured};

const STRAIGHT: [u8; 4] = [1, 2, 3, 4];

/// Both ends were seen lifted: a few ohms between supply and common are then a short.
fn judged(scene: Scene, seed: u64) -> Judgement {
    let known = RunKnowledge { lifted: true, ..RunKnowledge::default() };
    judge(&measured(scene, seed), &LimitSheet::service_24vac(), &known)
}

fn wrong_map(random: &mut Pcg32) -> [u8; 4] {
    let wrong: Vec<[u8; 4]> = maps().into_iter().filter(|map| *map != STRAIGHT).collect();
    *wrong.choose(random).expect("23 of them")
}

/// Of 10 mΩ to 10 Ω, anywhere between any two.
fn any_short(random: &mut Pcg32) -> Short {
    let (a, b) = Post::PAIRS[random.random_range(0..6)];
    let ohm = 10.0_f64.powf(random.random_range(-2.0..1.0));
    Short { posts: [a.number(), b.number()], at: random.random_range(0.0..1.0), ohm }
}

fn has(judgement: &Judgement, kinds: &[FindingKind], posts: &[u8]) -> bool {
    judgement.findings.iter().any(|one| {
        let told = one.posts.iter().map(|post| post.number());
        kinds.contains(&one.kind) && told.eq(posts.iter().copied())
    })
}

fn reaches(judgement: &Judgement) -> Vec<Option<u8>> {
    judgement.conductors.iter().map(|one| one.reaches.map(Post::number)).collect()
}

/// The joint has a limit of its own, whichever terminal its conductor arrives at.
#[test]
fn a_joint_in_a_crossed_run_is_named_beside_the_map() {
    const RUNS: u64 = 60;
    let mut random = Pcg32::seed_from_u64(51);
    let mut wrong = vec![];
    for seed in 0..RUNS {
        let mut scene = any_passing_run(&mut random, seed);
        let (post, ohm) = (random.random_range(1..=4), random.random_range(1.0..30.0));
        let map = wrong_map(&mut random);
        scene.run.arrives_at = map;
        scene.run.joint = vec![Joint { post, at: random.random_range(0.0..1.0), ohm }];
        let run = format!("seed {seed} {:?}", scene.run);
        let judgement = judged(scene, seed);
        let joint = [FindingKind::HighResistance, FindingKind::UnevenResistance];
        if reaches(&judgement) != map.map(Some) || !has(&judgement, &joint, &[post]) {
            wrong.push(format!("{run}: {:?}", judgement.findings));
        }
    }
    expect_none("joints in crossed runs", RUNS as usize, &wrong);
}

/// Past the short, whatever is said of where conductors arrive is true; and mostly all of it is said.
#[test]
fn a_short_in_a_crossed_run_hides_the_map_at_most() {
    const RUNS: u64 = 120;
    let mut random = Pcg32::seed_from_u64(52);
    let (mut wrong, mut crossing_told) = (vec![], 0);
    for seed in 0..RUNS {
        let mut scene = any_run(&mut random);
        let short = any_short(&mut random);
        let posts = short.posts;
        scene.run.short = vec![short];
        let map = if seed % 4 == 0 { STRAIGHT } else { wrong_map(&mut random) };
        scene.run.arrives_at = map;
        let run = format!("seed {seed} {:?}", scene.run);
        let judgement = judged(scene, seed);
        let told = reaches(&judgement);
        let is_true = told.iter().zip(map).all(|(told, is)| told.is_none_or(|told| told == is));
        let crossed = judgement.findings.iter().any(|one| one.kind.is_exchange());
        crossing_told += usize::from(crossed);
        let right = is_true
            && has(&judgement, &[FindingKind::Short], &posts)
            && judgement.verdict == Verdict::Fail
            && !(crossed && map == STRAIGHT);
        if !right {
            wrong.push(format!("{run}: {told:?} {:?}", judgement.findings));
        }
    }
    expect_none("shorts in crossed runs", RUNS as usize, &wrong);
    println!("a crossing is told beside {crossing_told} of {} shorts", RUNS - RUNS / 4);
    assert!(crossing_told >= 60, "{crossing_told}");
}

/// Nor does a joint beside a short make a straight run look crossed.
#[test]
fn a_joint_beside_a_short_crosses_nothing() {
    const RUNS: u64 = 120;
    let mut random = Pcg32::seed_from_u64(53);
    let mut wrong = vec![];
    for seed in 0..RUNS {
        let mut scene = any_run(&mut random);
        let (a, b) = Post::PAIRS[random.random_range(0..6)];
        let at = random.random_range(0.0..1.0);
        scene.run.short = vec![Short { posts: [a.number(), b.number()], at, ohm: 0.1 }];
        let ohm = 10.0_f64.powf(random.random_range(-1.0..2.0));
        let post = random.random_range(1..=4);
        scene.run.joint = vec![Joint { post, at: random.random_range(0.0..1.0), ohm }];
        let run = format!("seed {seed} {:?}", scene.run);
        let judgement = judged(scene, seed);
        let told = reaches(&judgement);
        if told.iter().zip(STRAIGHT).any(|(told, is)| told.is_some_and(|told| told != is)) {
            wrong.push(format!("{run}: {told:?} {:?}", judgement.findings));
        }
    }
    expect_none("shorts beside a joint", RUNS as usize, &wrong);
}

/// One conductor reaches nothing, and the others arrive elsewhere; of three that are long and thin more
/// than one map may be thinkable.
#[test]
fn an_open_in_a_crossed_run_is_named_beside_the_map() {
    const RUNS: u64 = 60;
    let mut random = Pcg32::seed_from_u64(54);
    let (mut wrong, mut ambiguous) = (vec![], 0);
    for seed in 0..RUNS {
        let mut scene = any_run(&mut random);
        let post = random.random_range(1..=4_u8);
        let map = wrong_map(&mut random);
        scene.run.arrives_at = map;
        scene.run.open = vec![OpenConductor { post, at: random.random_range(0.0..1.0) }];
        let run = format!("seed {seed} {:?}", scene.run);
        let judgement = judged(scene, seed);
        let mut expected = map.map(Some);
        expected[usize::from(post) - 1] = None;
        let told = reaches(&judgement);
        let unsure = judgement.findings.iter().any(|one| one.kind == FindingKind::AmbiguousMap);
        ambiguous += usize::from(unsure);
        let right = told == expected || unsure && told == [None; 4];
        if !right || !has(&judgement, &[FindingKind::Open], &[post]) {
            wrong.push(format!("{run}: {told:?} {:?}", judgement.findings));
        }
    }
    expect_none("opens in crossed runs", RUNS as usize, &wrong);
    assert!(ambiguous <= 2, "{ambiguous}");
}

/// Repeats scatter by hum; metal that touches is found all the same.
#[test]
fn hum_hides_no_short() {
    const RUNS: u64 = 60;
    let mut random = Pcg32::seed_from_u64(55);
    let (mut wrong, mut scattered) = (vec![], 0);
    for seed in 0..RUNS {
        let mut scene = any_run(&mut random);
        let short = any_short(&mut random);
        let posts = short.posts;
        scene.run.short = vec![short];
        let (one, other) = Post::PAIRS[random.random_range(0..6)];
        let between = [one.number(), other.number()];
        let hertz = if seed % 2 == 0 { 50.0 } else { 60.0 };
        let through = Through::CoupledPf(random.random_range(2.0..15.0));
        scene.source = vec![Source::alternating(between, 120.0, hertz, through)];
        let run = format!("seed {seed} {:?} {:?}", scene.run, scene.source);
        let judgement = judged(scene, seed);
        let unsteady = [FindingKind::Hum, FindingKind::Unsteady];
        scattered += usize::from(judgement.findings.iter().any(|one| unsteady.contains(&one.kind)));
        if !has(&judgement, &[FindingKind::Short], &posts) {
            wrong.push(format!("{run}: {:?}", judgement.findings));
        }
    }
    expect_none("shorts under hum", RUNS as usize, &wrong);
    assert!(scattered >= 20, "{scattered}");
}
