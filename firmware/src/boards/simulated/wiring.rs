//! The run, its faults and its end plug as a circuit.

use std::vec;
use std::vec::Vec;

use runproof_protocol::Post;

use super::circuit::{Circuit, Emf, Node};
use super::parts::Parts;
use super::scene::{Run, Scene};

/// Temperature coefficient of copper's resistance at 20 °C: IEC 60028.
const COPPER_PER_KELVIN: f64 = 0.003_93;

/// Between two things at one place.
const LEAST_OHM: f64 = 1e-3;

/// Puts the run between the wires in the clips and the end plug, and what else is on it.
pub(super) fn connect(circuit: &mut Circuit, scene: &Scene, parts: &Parts, near: [Node; 4]) {
    let socket = [(); 4].map(|()| circuit.node());
    let touching: Vec<[Node; 2]> =
        scene.run.short.iter().map(|_| [(); 2].map(|()| circuit.node())).collect();
    let far = Post::ALL.map(|post| {
        let k = post.index();
        let far = circuit.node();
        conductor(circuit, &scene.run, post, parts.sibling[k], [near[k], far], &touching);
        let arrives = usize::from(scene.run.arrives_at[k]) - 1;
        circuit.resistor(far, socket[arrives], parts.far_clip_ohm[k]);
        far
    });
    for (short, [a, b]) in scene.run.short.iter().zip(touching) {
        circuit.resistor(a, b, short.ohm);
    }
    if scene.plug_fitted {
        for ((a, b), ohm) in [(0, 2), (2, 3), (3, 1), (1, 0)].into_iter().zip(parts.ring_ohm) {
            circuit.resistor(socket[a], socket[b], ohm);
        }
    }
    if let Some(foreign) = &scene.foreign {
        let [a, b] = foreign.between.map(|post| far[usize::from(post) - 1]);
        let amplitude = foreign.volts_rms * std::f64::consts::SQRT_2;
        circuit.source(a, b, Emf { direct: 0.0, amplitude }, foreign.source_ohm);
    }
}

/// One conductor from its near to its far end, past the nodes where it touches another.
fn conductor(
    circuit: &mut Circuit,
    run: &Run,
    post: Post,
    sibling: f64,
    [near, far]: [Node; 2],
    touching: &[[Node; 2]],
) {
    let mut stops = vec![(1.0, far)];
    for (short, nodes) in run.short.iter().zip(touching) {
        let sides = short.posts.into_iter().zip(nodes);
        let mine = sides.filter(|(number, _)| *number == post.number());
        stops.extend(mine.map(|(_, node)| (short.at, *node)));
    }
    stops.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut from, mut node) = (0.0, near);
    for (place, (to, next)) in stops.into_iter().enumerate() {
        let here =
            |number: u8, at: f64| number == post.number() && at <= to && (at > from || place == 0);
        let joints = run.joint.iter().filter(|joint| here(joint.post, joint.at));
        let joints_ohm: f64 = joints.map(|joint| joint.ohm).sum();
        if !run.open.iter().any(|open| here(open.post, open.at)) {
            let wire_ohm = (to - from) * whole_ohm(run) * sibling;
            circuit.resistor(node, next, wire_ohm + joints_ohm + LEAST_OHM);
        }
        (from, node) = (to, next);
    }
}

fn whole_ohm(run: &Run) -> f64 {
    let at_20_c = run.ohm_per_km * run.length_m / 1e3;
    at_20_c * (1.0 + COPPER_PER_KELVIN * (run.copper_c - 20.0))
}
