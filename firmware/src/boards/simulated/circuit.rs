//! A linear circuit of resistors and voltage sources, solved by nodal analysis.

use std::vec::Vec;

use nalgebra::DMatrix;

/// A node; [`Node::GROUND`] is the reference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Node(usize);

impl Node {
    /// 0 V.
    pub(super) const GROUND: Self = Self(0);

    /// Its row in the matrix, which has none for ground.
    fn row(self) -> Option<usize> {
        self.0.checked_sub(1)
    }
}

/// From every node to ground, so that one that nothing touches has a voltage.
const LEAST_SIEMENS: f64 = 1e-11;

/// What a source lifts: a steady part, and the amplitude of a part that alternates.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Emf {
    /// Steady volts.
    pub(super) direct: f64,
    /// Peak volts of the alternating part.
    pub(super) amplitude: f64,
}

/// Resistors between nodes, and sources with an inner resistance.
#[derive(Clone, Debug, Default)]
pub(super) struct Circuit {
    nodes: usize,
    resistors: Vec<(Node, Node, f64)>,
    /// Plus, minus, and the current into a short between them.
    sources: Vec<(Node, Node, [f64; 2])>,
}

impl Circuit {
    /// A circuit without parts.
    #[must_use]
    pub(super) fn new() -> Self {
        Self::default()
    }

    /// A new node.
    pub(super) fn node(&mut self) -> Node {
        self.nodes += 1;
        Node(self.nodes)
    }

    /// A resistor of `ohms` > 0 between two nodes.
    pub(super) fn resistor(&mut self, a: Node, b: Node, ohms: f64) {
        self.resistors.push((a, b, 1.0 / ohms));
    }

    /// A source that lifts `plus` over `minus`, behind `ohms` > 0.
    pub(super) fn source(&mut self, plus: Node, minus: Node, emf: Emf, ohms: f64) {
        self.resistor(plus, minus, ohms);
        self.sources.push((plus, minus, [emf.direct / ohms, emf.amplitude / ohms]));
    }

    /// The voltages of all nodes: G·v = i, G symmetric and positive definite.
    #[must_use]
    pub(super) fn solve(&self) -> Solution {
        let mut siemens = DMatrix::from_diagonal_element(self.nodes, self.nodes, LEAST_SIEMENS);
        let mut amperes = DMatrix::zeros(self.nodes, 2);
        for &(a, b, s) in &self.resistors {
            let (a, b) = (a.row(), b.row());
            for n in [a, b].into_iter().flatten() {
                siemens[(n, n)] += s;
            }
            if let (Some(a), Some(b)) = (a, b) {
                siemens[(a, b)] -= s;
                siemens[(b, a)] -= s;
            }
        }
        for &(plus, minus, currents) in &self.sources {
            for (part, current) in currents.into_iter().enumerate() {
                if let Some(n) = plus.row() {
                    amperes[(n, part)] += current;
                }
                if let Some(n) = minus.row() {
                    amperes[(n, part)] -= current;
                }
            }
        }
        let factors = siemens.cholesky().expect("every node has a conductance to ground");
        Solution(factors.solve(&amperes))
    }
}

/// The voltages of a solved circuit.
#[derive(Clone, Debug)]
pub(super) struct Solution(DMatrix<f64>);

impl Solution {
    /// The voltage of a node against ground.
    #[must_use]
    pub(super) fn at(&self, node: Node) -> Emf {
        node.row()
            .map_or(Emf::default(), |n| Emf { direct: self.0[(n, 0)], amplitude: self.0[(n, 1)] })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Resistance between two nodes: the volts that one ampere makes.
    fn ohms_between(circuit: &Circuit, a: Node, b: Node) -> f64 {
        let mut circuit = circuit.clone();
        circuit.source(a, b, direct(1e9), 1e9);
        let solved = circuit.solve();
        solved.at(a).direct - solved.at(b).direct
    }

    fn direct(volts: f64) -> Emf {
        Emf { direct: volts, amplitude: 0.0 }
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
        bridge.source(top, Node::GROUND, direct(10.0), 1e-9);
        let solved = bridge.solve();
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
}
