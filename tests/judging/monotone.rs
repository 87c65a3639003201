//! Making any one quantity worse never improves a verdict, in the order pass, cannot tell, fail.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{Joint, OpenConductor, Scene, Short};
use runproof_interpret::judgement::Verdict;
use runproof_interpret::{LimitSheet, RunKnowledge, judge};
use runproof_protocol::Post;

use crate::{any_run, expect_none, measured};

/// From bad to worse.
const JOINT_OHM: [f64; 14] =
    [0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.6, 0.8, 1.2, 2.0, 3.5, 6.0, 20.0, 100.0];
const PATH_OHM: [f64; 14] =
    [30e6, 9e6, 3e6, 1e6, 300e3, 100e3, 50e3, 20e3, 10e3, 5e3, 2e3, 500.0, 10.0, 0.1];

fn grade(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Pass => 0,
        Verdict::CannotTell => 1,
        Verdict::Fail => 2,
    }
}

/// The same run on the same jig, again and again, each time with a worse fault; what improves is told.
fn improvements(
    runs: u64,
    what: &str,
    steps: usize,
    random: &mut Pcg32,
    mut fault: impl FnMut(&mut Pcg32) -> Box<dyn Fn(&mut Scene, usize)>,
) {
    let mut told = vec![];
    for seed in 0..runs {
        let scene = any_run(random);
        let put = fault(random);
        let mut worst = (0, String::new());
        for step in 0..steps {
            let mut scene = scene.clone();
            put(&mut scene, step);
            let run = format!("seed {seed} step {step} {:?}", scene.run);
            // A few ohms between supply and common are a device unless both ends were seen lifted.
            let known = RunKnowledge { lifted: true, ..RunKnowledge::default() };
            let judgement = judge(&measured(scene, seed), &LimitSheet::service_24vac(), &known);
            let said = || {
                let kinds = judgement.findings.iter().map(|one| (one.kind, one.cause, one.value));
                format!("{run}: {:?} {:?}", judgement.verdict, kinds.collect::<Vec<_>>())
            };
            let grade = grade(judgement.verdict);
            if grade < worst.0 {
                told.push(format!("{}\n  then {}", worst.1, said()));
            } else if grade > worst.0 {
                worst = (grade, said());
            }
        }
    }
    expect_none(what, runs as usize * steps, &told);
}

#[test]
fn more_resistance_in_one_conductor_improves_nothing() {
    let mut random = Pcg32::seed_from_u64(71);
    improvements(30, "worse joints", JOINT_OHM.len(), &mut random, |random| {
        let (post, at) = (random.random_range(1..=4), random.random_range(0.0..1.0));
        Box::new(move |scene, step| {
            scene.run.joint = vec![Joint { post, at, ohm: JOINT_OHM[step] }]
        })
    });
}

#[test]
fn a_better_path_between_two_conductors_improves_nothing() {
    let mut random = Pcg32::seed_from_u64(72);
    improvements(25, "worse paths", PATH_OHM.len(), &mut random, |random| {
        let (a, b) = Post::PAIRS[random.random_range(0..6)];
        let at = random.random_range(0.0..1.0);
        Box::new(move |scene, step| {
            let posts = [a.number(), b.number()];
            scene.run.short = vec![Short { posts, at, ohm: PATH_OHM[step] }];
        })
    });
}

/// A fault, then another beside it.
#[test]
fn a_second_fault_improves_nothing() {
    let mut random = Pcg32::seed_from_u64(73);
    improvements(40, "second faults", 3, &mut random, |random| {
        let (a, b) = Post::PAIRS[random.random_range(0..6)];
        let (first, second) = (random.random_range(0..4), random.random_range(0..4));
        let (at, ohm) = (random.random_range(0.0..1.0), random.random_range(0.5..10.0));
        let put = move |scene: &mut Scene, fault: usize| match fault {
            0 => scene.run.arrives_at.swap(a.index(), b.index()),
            1 => scene.run.open.push(OpenConductor { post: a.number(), at }),
            2 => scene.run.joint.push(Joint { post: b.number(), at, ohm }),
            _ => scene.run.short.push(Short { posts: [a.number(), b.number()], at, ohm }),
        };
        Box::new(move |scene, step| {
            if step >= 1 {
                put(scene, first);
            }
            if step >= 2 && second != first {
                put(scene, second);
            }
        })
    });
}
