//! Zeros by the simulated jig: one is had from the tail on the clips alone, it narrows what is told, and it
//! never makes a number wrong: not when it has grown cold, not when it is of another jig.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Circuitry, EndPlug, Joint, OpenConductor, Scene};
use runproof_interpret::capture::{Capture, Entry};
use runproof_interpret::judgement::{Judgement, Verdict};
use runproof_interpret::{LimitSheet, NoZero, RunKnowledge, judge, zero};
use runproof_protocol::{Phase, Post};

use crate::any_run;
use crate::host::Host;
use crate::measured::{measured, phases};
use crate::zeroed::zeroed;

const DAY_S: u64 = 86_400;

fn judged(capture: &Capture) -> Judgement {
    judge(capture, &LimitSheet::service_24vac(), &RunKnowledge::default())
}

/// Of this scene instead of the tail on the clips.
fn taken_on(scene: Scene, seed: u64) -> Result<(), NoZero> {
    let mut capture = phases(&mut Host::on(scene, seed), &[Phase::Plug]);
    capture.head.taken_unix_s = Some(0);
    zero(&capture).map(|_| ())
}

fn tail_on_clips() -> Scene {
    Scene::built_in("tail-on-clips").expect("it is built in")
}

#[test]
fn a_zero_is_had_whatever_the_parts_and_however_warm() {
    for seed in 0..100 {
        let celsius = -10.0 + (seed % 61) as f64;
        let zero = zeroed(seed, celsius);
        assert!(zero.is_ok(), "seed {seed}, {celsius} °C: {zero:?}");
        let told = zero.expect("it is").jig_c.expect("it has a thermometer");
        assert!((told - celsius).abs() < 0.01, "{told}");
    }
}

#[test]
fn what_is_not_the_tail_on_the_clips_is_no_zero() {
    for seed in 0..10 {
        // 18 AWG, 8 m: 0.17 Ω in each conductor.
        let mut run = tail_on_clips();
        (run.run.length_m, run.run.ohm_per_km) = (8.0, 20.95);
        assert!(matches!(taken_on(run, seed), Err(NoZero::OnARun { .. })), "seed {seed}");
        let mut joint = tail_on_clips();
        joint.run.joint = vec![Joint { post: 3, at: 0.5, ohm: 0.4 }];
        let found = taken_on(joint, seed);
        let expected = matches!(found, Err(NoZero::OnARun { post: Some(Post::P3), .. }));
        assert!(expected, "seed {seed}: {found:?}");
        let mut crossed = tail_on_clips();
        crossed.run.arrives_at = [1, 2, 4, 3];
        assert!(matches!(taken_on(crossed, seed), Err(NoZero::Crossed(_))), "seed {seed}");
        let mut open = tail_on_clips();
        open.run.open = vec![OpenConductor { post: 2, at: 0.5 }];
        assert_eq!(taken_on(open, seed), Err(NoZero::Open(vec![Post::P2])), "seed {seed}");
        let mut no_plug = tail_on_clips();
        no_plug.plug = EndPlug::Out;
        assert!(matches!(taken_on(no_plug, seed), Err(NoZero::Obstacle(_))), "seed {seed}");
    }
}

/// The truth lies within what is told as often as without, and what is told is narrower.
#[test]
fn a_zero_narrows_what_is_told_and_the_truth_stays_within() {
    let mut random = Pcg32::seed_from_u64(4);
    let (mut told, mut held, mut width_ratio) = (0, 0, 0.0);
    for seed in 100..160 {
        let mut scene = any_run(&mut random);
        let celsius = random.random_range(10.0..40.0);
        scene.jig.celsius = celsius + random.random_range(-30.0..30.0);
        scene.jig.plug_celsius = random.random_range(-20.0..70.0);
        let truth = Circuitry::new(scene.clone(), seed).conductors_ohm();
        let plain = measured(scene, seed);
        let mut with = plain.clone();
        with.entries.push(Entry::Zero(zeroed(seed, celsius).expect("a zero")));
        let (plain, with) = (judged(&plain), judged(&with));
        assert!(with.zero.is_some_and(|zero| zero.used), "seed {seed}");
        for (one, before) in with.conductors.iter().zip(&plain.conductors) {
            let (Some(ohm), Some(u_ohm)) = (one.resistance_ohm, one.expanded_uncertainty_ohm)
            else {
                continue;
            };
            told += 1;
            held += u32::from((ohm - truth[one.post.index()]).abs() <= u_ohm);
            width_ratio += u_ohm / before.expanded_uncertainty_ohm.unwrap_or(f64::NAN);
        }
    }
    assert!(told >= 200, "{told} told");
    // 95 % are meant to hold; 90 % of 200 is three standard deviations below.
    assert!(f64::from(held) >= 0.90 * f64::from(told), "{held} of {told}");
    let width_ratio = width_ratio / f64::from(told);
    assert!(
        width_ratio < 1.0,
        "a zeroed interval has {width_ratio} of the width of one that is not"
    );
}

/// Another plug, within its tolerance: the numbers stay true, or stand without the zero.
#[test]
fn another_jigs_zero_passes_nothing_that_is_wrong() {
    let mut random = Pcg32::seed_from_u64(5);
    for seed in 200..240 {
        let mut scene = any_run(&mut random);
        scene.run.arrives_at = [[2, 1, 3, 4], [1, 2, 4, 3], [3, 2, 1, 4]][(seed % 3) as usize];
        let mut capture = measured(scene, seed);
        capture.entries.push(Entry::Zero(zeroed(seed + 1, 25.0).expect("a zero")));
        assert_eq!(judged(&capture).verdict, Verdict::Fail, "seed {seed}");
    }
}

#[test]
fn it_is_asked_for_again_when_it_is_old_or_the_jig_has_another_temperature() {
    for (days, kelvins, again) in
        [(1, 0.0, false), (29, 9.0, false), (31, 0.0, true), (1, 11.0, true), (1, -11.0, true)]
    {
        let mut scene = Scene::built_in("good-run").expect("it is built in");
        scene.jig.celsius = 25.0 + kelvins;
        let mut capture = measured(scene, 1);
        capture.head.taken_unix_s = Some(days * DAY_S);
        capture.entries.push(Entry::Zero(zeroed(1, 25.0).expect("a zero")));
        let zero = judged(&capture).zero.expect("it has one");
        assert_eq!((zero.used, zero.again), (true, again), "{days} days, {kelvins} K");
    }
}
