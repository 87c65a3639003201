//! Several faults at once that could hide each other: none may pass with a wrong statement.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Joint, Short, Source, Through};
use runproof_interpret::capture::{Channel, Entry, Node};
use runproof_interpret::judgement::{FindingKind, Judgement, NotTested, Verdict};
use runproof_protocol::{Phase, Post, Step};

use crate::{any_run, expect_none, good_run, judged, measured};

/// How many of each verdict.
#[derive(Debug, Default)]
struct Tally {
    pass: usize,
    fail: usize,
    cannot_tell: usize,
}

impl Tally {
    fn add(&mut self, verdict: Verdict) {
        *match verdict {
            Verdict::Pass => &mut self.pass,
            Verdict::Fail => &mut self.fail,
            Verdict::CannotTell => &mut self.cannot_tell,
        } += 1;
    }
}

fn between(random: &mut Pcg32, least: f64, most: f64) -> f64 {
    least * (most / least).powf(random.random_range(0.0..1.0))
}

fn any_short(random: &mut Pcg32) -> Short {
    let (a, b) = Post::PAIRS[random.random_range(0..6)];
    let at = [0.0, random.random_range(0.0..1.0), 1.0][random.random_range(0..3)];
    Short { posts: [a.number(), b.number()], at, ohm: between(random, 1.0, 3_000.0) }
}

fn any_joint(random: &mut Pcg32) -> Joint {
    let at = [0.005, random.random_range(0.0..1.0), 0.995][random.random_range(0..3)];
    Joint { post: random.random_range(1..=4), at, ohm: between(random, 0.3, 10.0) }
}

/// Posts that are said to have more resistance than their siblings.
fn uneven(judgement: &Judgement) -> Vec<u8> {
    let uneven = judgement.findings.iter().filter(|one| one.kind == FindingKind::UnevenResistance);
    uneven.flat_map(|one| one.posts.iter().map(|post| post.number())).collect()
}

/// On a short run the joint and the path took each other's place.
#[test]
fn a_path_at_the_far_end_is_not_taken_for_a_joint() {
    let mut wrong = vec![];
    for seed in 0..60 {
        let mut scene = good_run();
        scene.run.length_m = 5.82;
        scene.run.ohm_per_km = 33.31;
        scene.run.short = vec![Short { posts: [2, 3], at: 1.0, ohm: 1455.0 }];
        scene.run.joint = vec![Joint { post: 1, at: 0.995, ohm: 1.45 }];
        let judgement = judged(&measured(scene, seed));
        if judgement.verdict == Verdict::Pass {
            wrong.push(format!("seed {seed}: {:?} {:?}", judgement.fit, judgement.findings));
        }
    }
    expect_none("a path and a joint", 60, &wrong);
}

/// Runs that pass with their joint, and must not with a path between two conductors beside it.
#[test]
fn no_short_beside_a_joint_passes_with_a_wrong_statement() {
    const RUNS: usize = 700;
    let mut random = Pcg32::seed_from_u64(31);
    let (mut tally, mut wrong) = (Tally::default(), vec![]);
    let mut runs = 0;
    for seed in 0.. {
        let mut scene = any_run(&mut random);
        scene.run.joint = vec![any_joint(&mut random)];
        let short = any_short(&mut random);
        if judged(&measured(scene.clone(), seed)).verdict != Verdict::Pass {
            continue;
        }
        scene.run.short = vec![short];
        let run = format!("seed {seed} {:?}", scene.run);
        let judgement = judged(&measured(scene.clone(), seed));
        tally.add(judgement.verdict);
        if judgement.verdict == Verdict::Pass {
            wrong.push(format!("{run}: {:?} uneven {:?}", judgement.fit, uneven(&judgement)));
        }
        runs += 1;
        if runs == RUNS {
            break;
        }
    }
    println!("{tally:?}");
    expect_none("shorts beside joints", RUNS, &wrong);
}

/// One or two joints and nothing else: the judge is not so strict that it tells nothing.
#[test]
fn joints_by_themselves_are_still_told() {
    let mut random = Pcg32::seed_from_u64(32);
    for (joints, least_told) in [(0, 190), (1, 180), (2, 150)] {
        let mut tally = Tally::default();
        for seed in 0..200 {
            let mut scene = any_run(&mut random);
            scene.run.joint = (0..joints).map(|_| any_joint(&mut random)).collect();
            tally.add(judged(&measured(scene, seed)).verdict);
        }
        println!("{joints} joints: {tally:?}");
        assert!(tally.pass + tally.fail >= least_told, "{joints} joints: {tally:?}");
    }
}

/// Joints on three conductors can look like other conductors crossed.
#[test]
fn three_joints_are_no_crossed_run() {
    const RUNS: usize = 400;
    let mut random = Pcg32::seed_from_u64(33);
    let (mut tally, mut wrong) = (Tally::default(), vec![]);
    for seed in 0..RUNS as u64 {
        let mut scene = any_run(&mut random);
        let straight = random.random_range(1..=4);
        let joints = (1..=4).filter(|post| *post != straight);
        scene.run.joint = joints
            .map(|post| Joint { post, at: 0.5, ohm: between(&mut random, 1.0, 100.0) })
            .collect();
        let run = format!("seed {seed} {:?}", scene.run);
        let judgement = judged(&measured(scene, seed));
        tally.add(judgement.verdict);
        if judgement.conductors.iter().any(|one| one.reaches.is_some_and(|post| post != one.post)) {
            wrong.push(format!("{run}: {:?}", judgement.findings));
        }
    }
    println!("{tally:?}");
    expect_none("three joints", RUNS, &wrong);
}

/// Readings of one pair from another run: they do not fit the other pairs, and widen no uncertainty.
#[test]
fn readings_of_two_runs_do_not_pass() {
    let mut long = good_run();
    long.run.length_m = 60.0;
    let (one, other) = (measured(good_run(), 1), measured(long, 1));
    let mut wrong = vec![];
    let of_post = |entry: &Entry, post| {
        matches!(entry, Entry::Reading(reading) if matches!(reading.channel,
            Channel { against: Some(_), post: read, .. } if read == post)
            && reading.step == Step::Pairs)
    };
    for post in [Post::P1, Post::P2, Post::P3] {
        let mut mixed = one.clone();
        for (entry, foreign) in mixed.entries.iter_mut().zip(&other.entries) {
            if of_post(entry, post) {
                *entry = foreign.clone();
            }
        }
        let judgement = judged(&mixed);
        if judgement.verdict != Verdict::CannotTell {
            wrong.push(format!("post {post}: {:?} {:?}", judgement.fit, judgement.findings));
        }
    }
    expect_none("mixed captures", 3, &wrong);
}

/// Too little to be refused by the jig, and told as what it is: once, though it stood before both phases.
#[test]
fn a_small_foreign_voltage_is_named() {
    let mut wrong = vec![];
    for (between, volts_rms) in [([4, 3], 1.0), ([1, 2], 1.5), ([2, 4], 1.5)] {
        let mut scene = good_run();
        scene.source = vec![Source::alternating(between, volts_rms, 60.0, Through::Ohm(1.5))];
        let judgement = judged(&measured(scene, 1));
        let told = judgement.findings.iter().filter(|one| one.kind == FindingKind::ForeignVoltage);
        if judgement.verdict != Verdict::CannotTell || told.count() != 1 {
            wrong.push(format!("{between:?} {volts_rms} V: {:?}", judgement.findings));
        }
    }
    expect_none("foreign voltages", 3, &wrong);
}

/// The jig refuses to drive it; that there is voltage has then been tested.
#[test]
fn voltage_that_is_refused_is_not_called_untested() {
    let mut scene = good_run();
    scene.source = vec![Source::alternating([4, 3], 24.0, 60.0, Through::Ohm(1.5))];
    let judgement = judged(&measured(scene, 1));
    assert_eq!(judgement.findings.first().map(|one| one.kind), Some(FindingKind::Hazard));
    assert!(!judgement.not_tested.contains(&NotTested::VoltageOnTheRun));
}

/// One reading of the self-calibration is moved by 2 mV.
#[test]
fn a_self_calibration_that_scatters_does_not_pass() {
    let whole = measured(good_run(), 1);
    let mut wrong = vec![];
    for node in [Node::Sense, Node::Drive] {
        for post in Post::ALL {
            let mut scattered = whole.clone();
            let moved = scattered.entries.iter_mut().find_map(|entry| match entry {
                Entry::Reading(reading)
                    if reading.phase == Phase::Plug
                        && reading.step == Step::SelfCalibration
                        && (reading.channel.node, reading.channel.post) == (node, post) =>
                {
                    Some(&mut reading.volts)
                }
                _ => None,
            });
            *moved.expect("a reading") += 2e-3;
            let judgement = judged(&scattered);
            let first = judgement.findings.first().map(|one| (one.kind, one.posts.clone()));
            let told = first == Some((FindingKind::Unsteady, vec![post]));
            if judgement.verdict != Verdict::CannotTell || !told {
                wrong.push(format!("{node:?} {post}: {first:?}"));
            }
        }
    }
    expect_none("scattered self-calibrations", 8, &wrong);
}
