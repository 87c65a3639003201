//! The jig's front end as a circuit, with the run on its clips.

use runproof_protocol::{Converter, Drive, Input, Post, Range};

use super::circuit::{Circuit, Emf, Node, Solution};
use super::parts::Parts;
use super::scene::Scene;
use super::wiring;

const PTC_AND_SERIES_OHM: f64 = 22.0 + 220.0;
const TO_DRIVE_CONVERTER_OHM: f64 = 1_000.0;
const BRIDGE_OHM: f64 = 10_000.0;
const SENSE_OHM: f64 = 4_700.0;
const PULL_ARM_OHM: f64 = 200_000.0;
const PULL_PIN_OHM: f64 = 250.0;
const DIVIDER_TOP_OHM: f64 = 4.5e6;
const DIVIDER_FOOT_OHM: f64 = 22_000.0;
const MID_VOLTS: f64 = 1.65;
const MID_OHM: f64 = 50.0;

/// How the lines and contacts stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Lines {
    pub(super) posts: [Drive; 4],
    pub(super) pulls: [Drive; 2],
    pub(super) contacts_closed: bool,
}

/// What each converter's input stage is switched to while it converts.
pub(super) type Looks = [Option<(Input, Range)>; 3];

/// A node of the front end that a converter is wired to.
type Wired = [[Node; 4]; 3];

/// The circuit as it stands, solved.
#[derive(Debug)]
pub(super) struct Electronics {
    solution: Solution,
    wired: Wired,
}

impl Electronics {
    pub(super) fn new(scene: &Scene, parts: &Parts, lines: &Lines, looks: &Looks) -> Self {
        let mut circuit = Circuit::new();
        let mid = circuit.node();
        circuit.source(mid, Node::GROUND, steady(MID_VOLTS), MID_OHM);
        let pulls = lines.pulls.map(|drive| {
            let line = circuit.node();
            driven(&mut circuit, line, drive, parts.supply_volts, PULL_PIN_OHM);
            line
        });
        let mut wired = [[Node::GROUND; 4]; 3];
        let near = Post::ALL.map(|post| {
            let nodes = front_end(&mut circuit, post, parts, lines, mid, pulls);
            for converter in Converter::ALL {
                wired[converter.index()][post.index()] = nodes.wired[converter.index()];
            }
            nodes.wire
        });
        wiring::connect(&mut circuit, scene, parts, near);
        for (nodes, look) in wired.iter().zip(looks) {
            load(&mut circuit, nodes, *look);
        }
        Self { solution: circuit.solve(), wired }
    }

    /// What a converter's input sees.
    pub(super) fn seen(&self, converter: Converter, input: Input) -> Emf {
        let at = |post: Post| self.solution.at(self.wired[converter.index()][post.index()]);
        let (plus, minus) = input.posts();
        let (plus, minus) = (at(plus), minus.map(at).unwrap_or_default());
        Emf { direct: plus.direct - minus.direct, amplitude: plus.amplitude - minus.amplitude }
    }
}

const fn steady(volts: f64) -> Emf {
    Emf { direct: volts, amplitude: 0.0 }
}

fn driven(circuit: &mut Circuit, node: Node, drive: Drive, supply_volts: f64, ohms: f64) {
    match drive {
        Drive::High => circuit.source(node, Node::GROUND, steady(supply_volts), ohms),
        Drive::Low => circuit.resistor(node, Node::GROUND, ohms),
        Drive::Off => {}
    }
}

/// What one post's front end ends in.
struct Ends {
    /// By converter: N, G, D.
    wired: [Node; 3],
    /// The run's wire in the clip.
    wire: Node,
}

fn front_end(
    circuit: &mut Circuit,
    post: Post,
    parts: &Parts,
    lines: &Lines,
    mid: Node,
    pulls: [Node; 2],
) -> Ends {
    let k = post.index();
    let [drive, sense, jig_side, wire] = [(); 4].map(|()| circuit.node());
    let pin_ohm = parts.pin_ohm[k] + PTC_AND_SERIES_OHM;
    driven(circuit, drive, lines.posts[k], parts.supply_volts, pin_ohm);
    circuit.resistor(drive, jig_side, parts.series_ohm[k]);
    circuit.resistor(jig_side, sense, BRIDGE_OHM);
    if lines.contacts_closed {
        let contacts_ohm = parts.relay_contact_ohm[k] + parts.drive_jaw_ohm[k];
        circuit.resistor(jig_side, wire, contacts_ohm);
        circuit.resistor(sense, wire, SENSE_OHM + parts.sense_jaw_ohm[k]);
    }
    for line in pulls {
        circuit.resistor(sense, line, PULL_ARM_OHM);
    }
    let [drive_input, foot] = [(); 2].map(|()| circuit.node());
    circuit.resistor(drive, drive_input, TO_DRIVE_CONVERTER_OHM);
    circuit.resistor(wire, foot, DIVIDER_TOP_OHM * parts.divider_ratio[k]);
    circuit.resistor(foot, mid, DIVIDER_FOOT_OHM);
    Ends { wired: [sense, drive_input, foot], wire }
}

/// The converter's input impedance, data sheet SBAS444E, electrical characteristics: across the two inputs of a
/// difference, to ground for a single one.
fn load(circuit: &mut Circuit, nodes: &[Node; 4], look: Option<(Input, Range)>) {
    let Some((input, range)) = look else { return };
    let (plus, minus) = input.posts();
    let (across_ohm, ground_ohm) = match range {
        Range::V4 => (15e6, 6e6),
        Range::V2 => (4.9e6, 6e6),
        Range::V1 => (2.4e6, 3e6),
        Range::V0 => (0.71e6, 100e6),
    };
    match minus {
        Some(minus) => circuit.resistor(nodes[plus.index()], nodes[minus.index()], across_ohm),
        None => circuit.resistor(nodes[plus.index()], Node::GROUND, ground_ohm),
    }
}
