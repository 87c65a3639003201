//! The circuit against textbooks.

use std::vec;

use super::super::traffic::Traffic;
use super::*;

const BUSY: Traffic =
    Traffic { volts: 1.0, baud: 9_600.0, packet_bits: 10, idle_bits: 10, seed: 1 };

fn alternating(hertz: f64, phasor: Complex<f64>) -> Emf {
    Emf { tones: vec![Tone { hertz, phasor }], ..Emf::default() }
}

/// Resistance between two nodes: the volts that one ampere makes.
fn ohms_between(circuit: &Circuit, a: Node, b: Node) -> f64 {
    let mut circuit = circuit.clone();
    circuit.source(a, b, Emf::steady(1e9), 1e9);
    let solved = circuit.solve();
    let solved = solved.volts();
    solved.at(a).direct - solved.at(b).direct
}

/// The resistance cube of twelve 1 Ω edges: 5/6 Ω across the body, 3/4 across a face, 7/12
/// along an edge (a classic, exact).
#[test]
fn the_resistance_cube() {
    let mut cube = Circuit::new();
    let mut corners = [Node::GROUND; 8];
    for corner in &mut corners[1..] {
        *corner = cube.node();
    }
    for a in 0..8_usize {
        for bit in [1, 2, 4] {
            if a & bit == 0 {
                cube.resistor(corners[a], corners[a | bit], 1.0);
            }
        }
    }
    for (far, ohms) in [(7, 5.0 / 6.0), (3, 3.0 / 4.0), (1, 7.0 / 12.0)] {
        let found = ohms_between(&cube, corners[far], corners[0]);
        assert!((found - ohms).abs() < 1e-6, "{far}: {found} Ω, not {ohms} Ω");
    }
}

/// An unbalanced bridge on 10 V, a textbook example from memory, recomputed with fractions:
/// 12 and 18 Ω from the top, 6 Ω across, 18 and 12 Ω to ground; 102/7 Ω in all.
#[test]
fn the_unbalanced_bridge() {
    let mut bridge = Circuit::new();
    let (top, a, b) = (bridge.node(), bridge.node(), bridge.node());
    bridge.resistor(top, a, 12.0);
    bridge.resistor(top, b, 18.0);
    bridge.resistor(a, b, 6.0);
    bridge.resistor(a, Node::GROUND, 18.0);
    bridge.resistor(b, Node::GROUND, 12.0);
    assert!((ohms_between(&bridge, top, Node::GROUND) - 102.0 / 7.0).abs() < 1e-6);
    bridge.source(top, Node::GROUND, Emf::steady(10.0), 1e-9);
    let solved = bridge.solve();
    let solved = solved.volts();
    assert!((solved.at(a).direct - 5.294_117_647).abs() < 1e-6);
    assert!((solved.at(b).direct - 4.705_882_353).abs() < 1e-6);
}

/// A star of 1, 2, 3, 4 Ω and the mesh it equals: R_ij = R_i·R_j·Σ(1/R_k).
#[test]
fn a_star_equals_its_mesh() {
    let arms = [1.0, 2.0, 3.0, 4.0];
    let sum: f64 = arms.iter().map(|ohms| 1.0 / ohms).sum();
    let (mut star, mut mesh) = (Circuit::new(), Circuit::new());
    let ends = arms.map(|_| star.node());
    let centre = star.node();
    assert_eq!(ends, arms.map(|_| mesh.node()));
    for i in 0..4 {
        star.resistor(ends[i], centre, arms[i]);
        for j in i + 1..4 {
            mesh.resistor(ends[i], ends[j], arms[i] * arms[j] * sum);
        }
    }
    for i in 0..4 {
        for j in i + 1..4 {
            let (a, b) = (ends[i], ends[j]);
            assert!((ohms_between(&star, a, b) - (arms[i] + arms[j])).abs() < 1e-6);
            assert!((ohms_between(&mesh, a, b) - (arms[i] + arms[j])).abs() < 1e-6);
        }
    }
}

/// A capacitor's reactance equals the resistor before it at 1/(2πRC): the divider gives 1/√2,
/// 45° late (any textbook of alternating current).
#[test]
fn a_low_pass_at_its_corner() {
    let mut filter = Circuit::new();
    let (input, output) = (filter.node(), filter.node());
    let corner_hertz = 1.0 / (std::f64::consts::TAU * 1e-3);
    let emf = alternating(corner_hertz, Complex::new(1.0, 0.0));
    filter.source(input, Node::GROUND, emf, 1e-6);
    filter.resistor(input, output, 1_000.0);
    filter.capacitor(output, Node::GROUND, 1e-6);
    let volts = filter.solve().volts().at(output).phasor(corner_hertz);
    assert!((volts - Complex::new(0.5, -0.5)).norm() < 1e-6, "{volts}");
}

/// What is added to a solved circuit does what it does when it is there from the start.
#[test]
fn resistors_added_later_are_as_good_as_soldered_ones() {
    let mut circuit = Circuit::new();
    let nodes = [(); 5].map(|()| circuit.node());
    circuit.source(nodes[0], Node::GROUND, Emf::steady(3.3), 25.0);
    let courses = vec![(Course::Traffic(BUSY), 1.0)];
    let emf = Emf { courses, ..alternating(60.0, Complex::new(0.0, 2.0)) };
    circuit.source(nodes[2], nodes[3], emf.clone(), 120.0);
    circuit.source(nodes[1], nodes[2], alternating(50.0, Complex::new(1.0, 1.0)), 50.0);
    circuit.coupled(nodes[3], Node::GROUND, emf, 1e-9);
    for pair in nodes.windows(2) {
        circuit.resistor(pair[0], pair[1], 330.0);
    }
    let added = [(nodes[1], nodes[4], 15e3), (nodes[3], Node::GROUND, 6e3)];
    let later = circuit.solve().with_resistors(&added);
    for (a, b, ohms) in added {
        circuit.resistor(a, b, ohms);
    }
    let soldered = circuit.solve();
    for node in nodes {
        let difference = later.at(node) - soldered.volts().at(node);
        assert_eq!((difference.tones.len(), difference.courses.len()), (2, 1));
        assert!(difference.bounds().into_iter().all(|volts| volts.abs() < 1e-12), "{difference:?}");
    }
}
