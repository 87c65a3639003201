//! Puts a fault of a class on a run.

use rand::RngExt;
use rand_pcg::Pcg32;
use runproof_firmware::boards::simulated::{
    EndPlug, Joint, LeftOn, OpenConductor, Run, Scene, Short,
};
use runproof_protocol::Post;

use super::logarithmic;
use crate::class::Class;

const JOINT_OHM: [f64; 2] = [0.1, 30.0];
const SHORT_OHM: [f64; 2] = [1e-3, 10.0];
const LEAK_OHM: [f64; 2] = [1e4, 1e7];

pub(super) fn put(class: Class, scene: &mut Scene, random: &mut Pcg32) {
    let run = &mut scene.run;
    match class {
        Class::Sound | Class::StrongHum => {}
        Class::WrongMap => wrong_map(run, random),
        Class::Open => open(run, random),
        Class::Joint => joint(run, random),
        Class::Short => path(run, random, SHORT_OHM),
        Class::Leak => path(run, random, LEAK_OHM),
        Class::NoPlug => scene.plug = EndPlug::Out,
        Class::Device => scene.left_on = device(random),
        Class::CrossedAndJoint => {
            crossed(run, random);
            joint(run, random);
        }
        Class::ShortAndWrongMap => {
            wrong_map(run, random);
            path(run, random, SHORT_OHM);
        }
        Class::OpenAndCrossed => {
            crossed(run, random);
            open(run, random);
        }
        Class::ShortAndJoint => {
            path(run, random, SHORT_OHM);
            joint(run, random);
        }
        Class::TwoJoints => {
            joint(run, random);
            let first = run.joint[0].post;
            while run.joint.len() < 2 || run.joint[1].post == first {
                run.joint.truncate(1);
                joint(run, random);
            }
        }
    }
}

/// One of the 23, at the clips, in the run, or at the plug.
fn wrong_map(run: &mut Run, random: &mut Pcg32) {
    let mut map = [1, 2, 3, 4];
    while map == [1, 2, 3, 4] {
        for n in (1..4).rev() {
            map.swap(n, random.random_range(0..=n));
        }
    }
    *any_end(run, random) = map;
}

/// Two conductors exchanged.
fn crossed(run: &mut Run, random: &mut Pcg32) {
    let [a, b] = pair(random).map(|post| usize::from(post) - 1);
    any_end(run, random).swap(a, b);
}

fn any_end<'a>(run: &'a mut Run, random: &mut Pcg32) -> &'a mut [u8; 4] {
    match random.random_range(0..3) {
        0 => &mut run.clipped_to,
        1 => &mut run.arrives_at,
        _ => &mut run.plugged_to,
    }
}

fn open(run: &mut Run, random: &mut Pcg32) {
    run.open = vec![OpenConductor { post: random.random_range(1..=4), at: anywhere(random) }];
}

fn joint(run: &mut Run, random: &mut Pcg32) {
    // Where joints are: at the clip, on the way, at the far end.
    let at = [0.0, anywhere(random), 1.0][random.random_range(0..3)];
    let ohm = logarithmic(random, JOINT_OHM);
    run.joint.push(Joint { post: random.random_range(1..=4), at, ohm });
}

fn path(run: &mut Run, random: &mut Pcg32, ohm: [f64; 2]) {
    let posts = pair(random);
    run.short = vec![Short { posts, at: anywhere(random), ohm: logarithmic(random, ohm) }];
}

/// A terminator, a transformer's winding, a receiver, a bridge rectifier with its capacitor.
fn device(random: &mut Pcg32) -> Vec<LeftOn> {
    let resistor = |between, ohm| LeftOn {
        between,
        ohm,
        conducts_from_v: None,
        blocks_ohm: 72_000.0,
        until_s: f64::INFINITY,
    };
    match random.random_range(0..4) {
        0 => vec![resistor([1, 2], 120.0)],
        1 => vec![resistor([3, 4], 5.0)],
        2 => vec![resistor([1, 3], 12e3), resistor([2, 3], 12e3)],
        _ => vec![LeftOn { conducts_from_v: Some(1.8), ..resistor([3, 4], 2.0) }],
    }
}

fn pair(random: &mut Pcg32) -> [u8; 2] {
    let (a, b) = Post::PAIRS[random.random_range(0..6)];
    [a.number(), b.number()]
}

fn anywhere(random: &mut Pcg32) -> f64 {
    random.random_range(0.0..=1.0)
}
