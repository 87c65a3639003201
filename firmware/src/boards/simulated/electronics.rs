//! The jig's front end as a circuit, with the run on its clips.

use std::vec::Vec;

use runproof_protocol::{Converter, Drive, Input, Post, Range};

use super::circuit::{Circuit, Emf, Node, Solved, Volts};
use super::modes::Modes;
use super::parts::Parts;
use super::scene::Scene;
use super::sight::Sight;
use super::transient::Transient;
use super::wiring::{self, Stands, Threshold};

const PTC_AND_SERIES_OHM: f64 = 22.0 + 220.0;
const TO_DRIVE_CONVERTER_OHM: f64 = 1_000.0;
const BRIDGE_OHM: f64 = 10_000.0;
const SENSE_OHM: f64 = 4_700.0;
const PULL_ARM_OHM: f64 = 200_000.0;
const PULL_PIN_OHM: f64 = 250.0;
const REFERENCE_PIN_OHM: f64 = 40.0;
const PAD_FARAD: f64 = 5e-12;
const DIVIDER_TOP_OHM: f64 = 4.5e6;
const DIVIDER_FOOT_OHM: f64 = 22_000.0;
/// From each post to the load's star point: 47 kΩ between any two.
const LOAD_ARM_OHM: f64 = 23_500.0;
const MID_VOLTS: f64 = 1.65;
const MID_OHM: f64 = 50.0;
/// Beyond its supply by so much a converter's input conducts, and a foot behind 4.5 MΩ goes no further:
/// SBAS444E, absolute maximum ratings: GND − 0.3 V to VDD + 0.3 V.
const CLAMP_VOLTS: f64 = 0.3;

/// How the lines and contacts stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Lines {
    pub(super) posts: [Drive; 4],
    pub(super) pulls: [Drive; 2],
    pub(super) contacts_closed: bool,
    pub(super) loaded: bool,
    pub(super) supply_loaded: bool,
    /// Each post's reference capacitor is held to ground at its other end.
    pub(super) referred: bool,
}

/// What each converter's input stage is switched to while it converts.
pub(super) type Looks = [Option<(Input, Range)>; 3];

/// What each converter's input sees.
pub(super) type Seen = [Option<Sight>; 3];

/// A node of the front end that a converter is wired to.
type Wired = [[Node; 4]; 3];

/// The circuit as it stands.
struct Built {
    circuit: Circuit,
    /// What is on the run and not linear.
    thresholds: Vec<Threshold>,
    wired: Wired,
    mid: Node,
}

impl Built {
    fn new(scene: &Scene, parts: &Parts, lines: &Lines, stands: Stands) -> Self {
        let mut circuit = Circuit::new();
        let mid = circuit.node();
        circuit.source(mid, Node::GROUND, Emf::steady(MID_VOLTS), MID_OHM);
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
        if lines.loaded {
            let star = circuit.node();
            near.into_iter().for_each(|wire| circuit.resistor(wire, star, LOAD_ARM_OHM));
        }
        if lines.supply_loaded {
            // It hangs on the driving jaws: what they drop is not what the divider reads.
            let jaws_ohm = parts.drive_jaw_ohm[2] + parts.drive_jaw_ohm[3];
            circuit.resistor(near[2], near[3], parts.supply_load_ohm + jaws_ohm);
        }
        let thresholds = wiring::connect(&mut circuit, scene, parts, near, stands);
        Self { circuit, thresholds, wired, mid }
    }
}

/// What a post's drive line does when the lines change from `before` to `after`. What conducts beyond
/// a voltage only is taken to block.
pub(super) fn transient(
    scene: &Scene,
    parts: &Parts,
    [before, after]: [&Lines; 2],
    stands: Stands,
    post: usize,
) -> Transient {
    let [before, after] = [before, after].map(|lines| Built::new(scene, parts, lines, stands));
    let line = after.wired[Converter::Drive.index()][post];
    Transient::new(&before.circuit, &after.circuit, line)
}

/// The circuit in time, and the sense nodes. What conducts beyond a voltage only is taken to block.
pub(super) fn modes(
    scene: &Scene,
    parts: &Parts,
    lines: &Lines,
    stands: Stands,
) -> (Modes, [Node; 4]) {
    let Built { circuit, wired, .. } = Built::new(scene, parts, lines, stands);
    (Modes::new(&circuit), wired[Converter::Sense.index()])
}

/// The circuit as it stands, solved.
#[derive(Debug)]
pub(super) struct Electronics {
    solved: Solved,
    wired: Wired,
    mid: Node,
    thresholds: Vec<Threshold>,
    /// Between these the live divider's feet stay.
    rails_v: [f64; 2],
    /// What was asked for before: a conversion is looked at many times.
    seen: Vec<(Looks, Seen)>,
    followed: Option<[Emf; 4]>,
}

impl Electronics {
    pub(super) fn new(scene: &Scene, parts: &Parts, lines: &Lines, stands: Stands) -> Self {
        let Built { circuit, thresholds, wired, mid } = Built::new(scene, parts, lines, stands);
        let solved = conducting(circuit, &thresholds);
        let rails_v = [-CLAMP_VOLTS, parts.supply_volts + CLAMP_VOLTS];
        Self { solved, wired, mid, thresholds, rails_v, seen: Vec::new(), followed: None }
    }

    /// All voltages while the converters look so: their inputs load what they read.
    pub(super) fn volts(&self, looks: &Looks) -> Volts {
        let looks = self.wired.iter().zip(looks);
        let loads: Vec<_> =
            looks.filter_map(|(nodes, look)| look.map(|look| load(nodes, look))).collect();
        self.solved.with_resistors(&loads)
    }

    /// What each converter's input sees that converts.
    pub(super) fn seen(&mut self, looks: &Looks) -> &Seen {
        let known = self.seen.iter().position(|(known, _)| known == looks);
        let known = known.unwrap_or_else(|| {
            let seen = self.look(looks);
            self.seen.push((*looks, seen));
            self.seen.len() - 1
        });
        &self.seen[known].1
    }

    fn look(&self, looks: &Looks) -> Seen {
        let volts = self.volts(looks);
        Converter::ALL.map(|converter| {
            let (input, _) = looks[converter.index()]?;
            let at = |post: Post| volts.at(self.wired[converter.index()][post.index()]);
            let (plus, minus) = input.posts();
            let (plus, minus) = (at(plus), minus.map(at).unwrap_or_default());
            let held = (converter == Converter::Live).then_some(self.rails_v);
            Some(Sight::new(plus, minus, held))
        })
    }

    /// The sense nodes against ground.
    pub(super) fn senses(&self) -> [Emf; 4] {
        let volts = self.solved.volts();
        self.wired[Converter::Sense.index()].map(|node| volts.at(node))
    }

    /// What flows through each pair of the key's lights, across its contacts 1 and 2, and 3 and 4, from the
    /// first to the second, in amperes; none, where it is not turned over.
    pub(super) fn lights_a(&self) -> Vec<f64> {
        let volts = self.solved.volts();
        let lights = self.thresholds.iter().filter(|one| one.lit);
        lights
            .map(|one| {
                let [a, b] = one.between.map(|node| volts.at(node).direct);
                (a - b).signum() * ((a - b).abs() - one.volts).max(0.0) / one.ohm
            })
            .collect()
    }

    /// Every node that a converter is wired to.
    pub(super) fn inputs(&self, volts: &Volts) -> [[Emf; 4]; 3] {
        self.wired.map(|nodes| nodes.map(|node| volts.at(node)))
    }

    /// What the four followers see of the posts, against the mid voltage, in volts at the post.
    pub(super) fn followed(&mut self) -> &[Emf; 4] {
        let (volts, mid) = (self.solved.volts(), self.mid);
        self.followed.get_or_insert_with(|| {
            self.wired[Converter::Live.index()].map(|foot| {
                let ratio = (DIVIDER_TOP_OHM + DIVIDER_FOOT_OHM) / DIVIDER_FOOT_OHM;
                (volts.at(foot) - volts.at(mid)).times(ratio)
            })
        })
    }
}

/// How often the set of those that conduct may change until it is found.
const TRIES: usize = 8;

/// Solves the circuit with its thresholds, each of which conducts or not: beyond its voltage, as a
/// source of that voltage behind its resistance.
fn conducting(circuit: Circuit, thresholds: &[Threshold]) -> Solved {
    let mut conducts: Vec<f64> = thresholds.iter().map(|_| 0.0).collect();
    for _ in 0..TRIES {
        let mut with = circuit.clone();
        for (one, sign) in thresholds.iter().zip(&conducts) {
            if *sign != 0.0 {
                let [plus, minus] = one.between;
                with.source(plus, minus, Emf::steady(sign * one.volts), one.ohm);
            }
        }
        let solved = with.solve();
        let now: Vec<f64> = thresholds
            .iter()
            .map(|one| {
                let [a, b] = one.between.map(|node| solved.volts().at(node).direct);
                if (a - b).abs() > one.volts { (a - b).signum() } else { 0.0 }
            })
            .collect();
        if now == conducts {
            return solved;
        }
        conducts = now;
    }
    circuit.solve()
}

fn driven(circuit: &mut Circuit, node: Node, drive: Drive, supply_volts: f64, ohms: f64) {
    match drive {
        Drive::High => circuit.source(node, Node::GROUND, Emf::steady(supply_volts), ohms),
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
    circuit.capacitor(sense, Node::GROUND, parts.sense_farad[k]);
    circuit.capacitor(drive, Node::GROUND, parts.drive_farad[k]);
    let reference = circuit.node();
    circuit.capacitor(sense, reference, parts.reference_farad[k]);
    match lines.referred {
        true => circuit.resistor(reference, Node::GROUND, REFERENCE_PIN_OHM),
        false => circuit.capacitor(reference, Node::GROUND, PAD_FARAD),
    }
    let [drive_input, foot] = [(); 2].map(|()| circuit.node());
    circuit.resistor(drive, drive_input, TO_DRIVE_CONVERTER_OHM);
    circuit.resistor(wire, foot, DIVIDER_TOP_OHM * parts.divider_ratio[k]);
    circuit.resistor(foot, mid, DIVIDER_FOOT_OHM);
    Ends { wired: [sense, drive_input, foot], wire }
}

/// The converter's input impedance, data sheet SBAS444E, electrical characteristics: across the two inputs of a
/// difference, to ground for a single one.
fn load(nodes: &[Node; 4], (input, range): (Input, Range)) -> (Node, Node, f64) {
    let (plus, minus) = input.posts();
    let (across_ohm, ground_ohm) = match range {
        Range::V4 => (15e6, 6e6),
        Range::V2 => (4.9e6, 6e6),
        Range::V1 => (2.4e6, 3e6),
        Range::V0 => (0.71e6, 100e6),
    };
    match minus {
        Some(minus) => (nodes[plus.index()], nodes[minus.index()], across_ohm),
        None => (nodes[plus.index()], Node::GROUND, ground_ohm),
    }
}

#[cfg(test)]
mod tests;
