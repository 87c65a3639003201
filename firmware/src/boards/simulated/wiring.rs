//! The run, its faults and its end plug as a circuit.
//!
//! Every conductor is cut at the same places: wherever any of them has a fault. At a place a
//! conductor has a node towards the jig and one towards the far end; they are one where it is whole.

use std::vec::Vec;

use runproof_protocol::Post;

use super::circuit::{Circuit, Node};
use super::flexing::Away;
use super::parts::Parts;
use super::scene::{Contact, End, Run, Scene, Through};

/// Temperature coefficient of copper's resistance at 20 °C: IEC 60028.
const COPPER_PER_KELVIN: f64 = 0.003_93;

/// Two bare ends, pressed together by hand. [judgement]
const TOUCH_OHM: f64 = 0.05;

/// A shorter piece of wire would make the circuit hard to solve.
const LEAST_OHM: f64 = 1e-3;

/// How the run stands at some moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stands {
    /// The end plug is in.
    pub(super) plug_in: bool,
    /// Seconds since the jig's start.
    pub(super) seconds: f64,
    /// How far what moves is away from rest.
    pub(super) away: Away,
}

/// What is not a resistor: it conducts beyond a voltage, in either direction.
#[derive(Clone, Copy, Debug)]
pub(super) struct Threshold {
    pub(super) between: [Node; 2],
    pub(super) volts: f64,
    pub(super) ohm: f64,
    /// It is a pair of the key's lights.
    pub(super) lit: bool,
}

impl Threshold {
    /// Two opposed low-current diodes behind their resistor, as in `firmware/jig/far-end.md`.
    fn light(between: [Node; 2]) -> Self {
        Self { between, volts: 1.7, ohm: 680.0, lit: true }
    }
}

/// Puts the run between the wires in the clips and the end plug, and what else is on it. Returns what
/// cannot be put into a linear circuit.
pub(super) fn connect(
    circuit: &mut Circuit,
    scene: &Scene,
    parts: &Parts,
    clips: [Node; 4],
    stands: Stands,
) -> Vec<Threshold> {
    let run = &scene.run;
    let near = run.clipped_to.map(|post| clips[index(post)]);
    let places = places(scene);
    let moved = Moved { scene, away: stands.away };
    let whole_ohm = whole_ohm(run, stands.seconds);
    let conductors = Post::ALL.map(|post| {
        conductor(circuit, &moved, whole_ohm * parts.sibling[post.index()], post, near, &places)
    });
    for [index_a, index_b] in pairs() {
        for (n, place) in places.iter().enumerate() {
            let before = if n == 0 { *place } else { places[n - 1] };
            let after = places.get(n + 1).copied().unwrap_or(*place);
            let (a, b) = (&conductors[index_a][n], &conductors[index_b][n]);
            let alike = parts.core[index_a] * parts.core[index_b];
            let farads = run.pf_per_m * 1e-12 * run.length_m / 2.0 * alike;
            circuit.capacitor(a.jig_side, b.jig_side, farads * (place - before));
            circuit.capacitor(a.far_side, b.far_side, farads * (after - place));
        }
    }
    for short in &run.short {
        let n = places.iter().position(|place| *place == short.at).unwrap_or_default();
        let [a, b] = short.posts.map(|post| conductors[index(post)][n].jig_side);
        circuit.resistor(a, b, short.ohm);
    }
    for (posts, at, ohm) in moved.touches() {
        let n = places.iter().position(|place| *place == at).unwrap_or_default();
        let [a, b] = posts.map(|post| conductors[index(post)][n].jig_side);
        circuit.resistor(a, b, ohm);
    }
    let mut far = [Node::GROUND; 4];
    for (nodes, terminal) in conductors.iter().zip(run.arrives_at) {
        far[index(terminal)] = nodes.last().map_or(Node::GROUND, |place| place.far_side);
    }
    let socket = [(); 4].map(|()| circuit.node());
    for ((terminal, plugged_to), ohm) in far.into_iter().zip(run.plugged_to).zip(parts.far_clip_ohm)
    {
        circuit.resistor(terminal, socket[index(plugged_to)], ohm);
    }
    let key_in = stands.seconds < scene.key_out_s;
    let reversed = stands.seconds >= scene.key_reversed_s;
    if key_in && stands.plug_in && !reversed {
        for ((a, b), ohm) in [(0, 2), (2, 3), (3, 1), (1, 0)].into_iter().zip(parts.ring_ohm) {
            circuit.resistor(socket[a], socket[b], ohm);
        }
    }
    for touch in scene.touch.iter().filter(|touch| touch.holds(stands.seconds)) {
        let ends = if touch.end == End::Near { near } else { far };
        let [a, b] = touch.terminals.map(|terminal| ends[index(terminal)]);
        circuit.resistor(a, b, TOUCH_OHM);
    }
    sources(circuit, scene, [near, far], stands);
    let mut thresholds = left_on(circuit, scene, far, stands);
    if key_in && reversed {
        let lights = [[socket[0], socket[1]], [socket[2], socket[3]]];
        thresholds.extend(lights.map(Threshold::light));
    }
    thresholds
}

fn index(post: u8) -> usize {
    usize::from(post) - 1
}

fn pairs() -> impl Iterator<Item = [usize; 2]> {
    Post::PAIRS.into_iter().map(|(a, b)| [a.index(), b.index()])
}

/// Where the conductors are cut, from 0 at the jig to 1.
fn places(scene: &Scene) -> Vec<f64> {
    let run = &scene.run;
    let flexed = scene.flexed.iter().map(|flexed| flexed.at);
    let opens = run.open.iter().map(|open| open.at);
    let joints = run.joint.iter().map(|joint| joint.at);
    let shorts = run.short.iter().map(|short| short.at);
    let mut places: Vec<f64> =
        [0.0, 1.0].into_iter().chain(opens).chain(joints).chain(shorts).chain(flexed).collect();
    places.sort_by(f64::total_cmp);
    places.dedup();
    places
}

/// What moves, as it stands.
struct Moved<'a> {
    scene: &'a Scene,
    away: Away,
}

impl Moved<'_> {
    fn contacts(&self) -> impl Iterator<Item = (&Contact, f64, f64)> {
        self.scene.flexed.iter().zip(self.away).map(|(one, away)| (&one.of, one.at, away))
    }

    /// What a conductor has there, if it is one that moves: at rest as well, so that the circuit keeps its nodes.
    fn ohm(&self, post: u8, place: f64) -> Option<f64> {
        let mine = self.contacts().filter_map(|(of, at, away)| match of {
            Contact::Conductor { post: one, ohm } if *one == post && at == place => {
                Some((ohm * away).max(LEAST_OHM))
            }
            _ => None,
        });
        mine.reduce(|a, b| a + b)
    }

    /// Those that touch now.
    fn touches(&self) -> impl Iterator<Item = ([u8; 2], f64, f64)> {
        self.contacts().filter_map(|(of, at, away)| match of {
            Contact::Touch { posts, ohm } if away > 0.0 => Some((*posts, at, *ohm)),
            _ => None,
        })
    }
}

/// One conductor at one place.
#[derive(Clone, Copy, Debug)]
struct Place {
    jig_side: Node,
    far_side: Node,
}

fn conductor(
    circuit: &mut Circuit,
    moved: &Moved<'_>,
    whole_ohm: f64,
    post: Post,
    near: [Node; 4],
    places: &[f64],
) -> Vec<Place> {
    let (k, run) = (post.index(), &moved.scene.run);
    let mine = |number: u8, at: f64, place: f64| number == post.number() && at == place;
    let mut nodes: Vec<Place> = Vec::new();
    for (n, place) in places.iter().copied().enumerate() {
        let jig_side = match nodes.last() {
            None => near[k],
            Some(before) => {
                let node = circuit.node();
                let wire_ohm = (place - places[n - 1]) * whole_ohm;
                circuit.resistor(before.far_side, node, wire_ohm.max(LEAST_OHM));
                node
            }
        };
        let cut = run.open.iter().any(|open| mine(open.post, open.at, place));
        let joints = run.joint.iter().filter(|joint| mine(joint.post, joint.at, place));
        let moving = moved.ohm(post.number(), place);
        let joints_ohm = joints.map(|joint| joint.ohm).chain(moving).sum::<f64>();
        let far_side = if cut || joints_ohm > 0.0 { circuit.node() } else { jig_side };
        if joints_ohm > 0.0 && !cut {
            circuit.resistor(jig_side, far_side, joints_ohm);
        }
        nodes.push(Place { jig_side, far_side });
    }
    nodes
}

/// Each conductor's wire and joints, as the jig starts.
pub(super) fn conductors_ohm(run: &Run, parts: &Parts) -> [f64; 4] {
    Post::ALL.map(|post| {
        let joints = run.joint.iter().filter(|joint| joint.post == post.number());
        let joints_ohm: f64 = joints.map(|joint| joint.ohm).sum();
        whole_ohm(run, 0.0) * parts.sibling[post.index()] + joints_ohm
    })
}

fn whole_ohm(run: &Run, seconds: f64) -> f64 {
    let at_20_c = run.ohm_per_km * run.length_m / 1e3;
    let celsius = run.copper_c + run.warms_k_per_min * seconds / 60.0;
    at_20_c * (1.0 + COPPER_PER_KELVIN * (celsius - 20.0))
}

fn sources(circuit: &mut Circuit, scene: &Scene, [near, far]: [[Node; 4]; 2], stands: Stands) {
    let on: Vec<_> = scene.source.iter().filter(|one| stands.seconds >= one.from_s).collect();
    let to_earth = on.iter().any(|one| one.between.contains(&0));
    let earth = if to_earth && !scene.jig.earthed {
        let earth = circuit.node();
        circuit.capacitor(earth, Node::GROUND, scene.jig.earth_pf * 1e-12);
        earth
    } else {
        Node::GROUND
    };
    for source in on {
        let ends = if source.end == End::Near { near } else { far };
        let [plus, minus] = source.between.map(|terminal| match terminal {
            0 => earth,
            terminal => ends[index(terminal)],
        });
        match source.through {
            Through::Ohm(ohm) => circuit.source(plus, minus, source.emf(), ohm),
            Through::CoupledPf(pf) => circuit.coupled(plus, minus, source.emf(), pf * 1e-12),
        }
    }
}

fn left_on(circuit: &mut Circuit, scene: &Scene, far: [Node; 4], stands: Stands) -> Vec<Threshold> {
    let mut thresholds = Vec::new();
    let there = scene.left_on.iter().filter(|one| stands.seconds < one.until_s);
    for device in there {
        let [a, b] = device.between.map(|post| far[index(post)]);
        match device.conducts_from_v {
            None => circuit.resistor(a, b, device.ohm),
            Some(volts) => {
                circuit.resistor(a, b, device.blocks_ohm);
                thresholds.push(Threshold { between: [a, b], volts, ohm: device.ohm, lit: false });
            }
        }
    }
    thresholds
}
