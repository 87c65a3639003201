//! A linear circuit of resistors, capacitors and sources, solved by nodal analysis: at rest for what
//! is steady, by phasors for what alternates.

use std::vec::Vec;

use nalgebra::{Cholesky, Complex, DMatrix, DVector, Dyn, LU};

/// A node; [`Node::GROUND`] is the reference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Node(usize);

impl Node {
    /// 0 V.
    pub(super) const GROUND: Self = Self(0);

    /// Its row in the matrix, which has none for ground.
    pub(super) fn row(self) -> Option<usize> {
        self.0.checked_sub(1)
    }
}

/// From every node to ground, so that one that nothing touches has a voltage.
const LEAST_SIEMENS: f64 = 1e-11;

/// A voltage: a steady part, and one that alternates, re·sin ωt + im·cos ωt.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Emf {
    /// Steady volts.
    pub(super) direct: f64,
    /// The alternating part's phasor, peak volts.
    pub(super) alternating: Complex<f64>,
}

impl Emf {
    /// So many steady volts.
    pub(super) const fn steady(volts: f64) -> Self {
        Self { direct: volts, alternating: Complex::new(0.0, 0.0) }
    }

    /// So many times of it.
    pub(super) fn times(self, factor: f64) -> Self {
        Self { direct: self.direct * factor, alternating: self.alternating * Complex::from(factor) }
    }

    /// At an angle ωt.
    pub(super) fn at(self, radians: f64) -> f64 {
        let (sin, cos) = radians.sin_cos();
        self.direct + self.alternating.re * sin + self.alternating.im * cos
    }
}

impl core::ops::Sub for Emf {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self {
            direct: self.direct - other.direct,
            alternating: self.alternating - other.alternating,
        }
    }
}

/// Resistors and capacitors between nodes, and sources with an inner resistance.
#[derive(Clone, Debug, Default)]
pub(super) struct Circuit {
    nodes: usize,
    siemens: Vec<(Node, Node, f64)>,
    farads: Vec<(Node, Node, f64)>,
    /// Plus, minus, and the current into a short between them.
    sources: Vec<(Node, Node, Emf)>,
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
        self.siemens.push((a, b, 1.0 / ohms));
    }

    /// A capacitor between two nodes; what is steady does not pass it.
    pub(super) fn capacitor(&mut self, a: Node, b: Node, farads: f64) {
        self.farads.push((a, b, farads));
    }

    /// A source that lifts `plus` over `minus`, behind `ohms` > 0.
    pub(super) fn source(&mut self, plus: Node, minus: Node, emf: Emf, ohms: f64) {
        self.resistor(plus, minus, ohms);
        let current =
            Emf { direct: emf.direct / ohms, alternating: emf.alternating / Complex::from(ohms) };
        self.sources.push((plus, minus, current));
    }

    /// An alternating source that couples into `plus` through a capacitor.
    pub(super) fn coupled(&mut self, plus: Node, minus: Node, emf: Emf, farads: f64, hertz: f64) {
        self.capacitor(plus, minus, farads);
        let siemens = Complex::new(0.0, radians_per_s(hertz) * farads);
        let current = Emf { direct: 0.0, alternating: emf.alternating * siemens };
        self.sources.push((plus, minus, current));
    }

    /// Factors the circuit, and solves it. `hertz` is of all sources that alternate.
    #[must_use]
    pub(super) fn solve(&self, hertz: f64) -> Solved {
        let direct = self.conductance().cholesky().expect("every node is tied to ground");
        let direct_v = direct.solve(&self.currents(|emf| emf.direct));
        let alternates = self.sources.iter().any(|source| source.2.alternating.norm() > 0.0);
        let alternating = alternates.then(|| self.admittance(hertz).lu());
        let alternating_v = alternating.as_ref().map(|factors| {
            let currents = self.currents(|emf| emf.alternating);
            factors.solve(&currents).expect("every node is tied to ground")
        });
        let volts = Volts { direct: direct_v, alternating: alternating_v };
        Solved { direct, alternating, volts }
    }

    fn conductance(&self) -> DMatrix<f64> {
        let mut matrix = DMatrix::from_diagonal_element(self.nodes, self.nodes, LEAST_SIEMENS);
        for (a, b, siemens) in &self.siemens {
            stamp(&mut matrix, (*a, *b), *siemens);
        }
        matrix
    }

    /// Farads between and at the nodes.
    pub(super) fn capacitance(&self) -> DMatrix<f64> {
        let mut matrix = DMatrix::zeros(self.nodes, self.nodes);
        for (a, b, farads) in &self.farads {
            stamp(&mut matrix, (*a, *b), *farads);
        }
        matrix
    }

    fn admittance(&self, hertz: f64) -> DMatrix<Complex<f64>> {
        let mut matrix = self.conductance().map(Complex::from);
        for (a, b, farads) in &self.farads {
            stamp(&mut matrix, (*a, *b), Complex::new(0.0, radians_per_s(hertz) * farads));
        }
        matrix
    }

    fn currents<T>(&self, part: impl Fn(&Emf) -> T) -> DVector<T>
    where
        T: nalgebra::ComplexField,
    {
        let mut amperes = DVector::zeros(self.nodes);
        for (plus, minus, current) in &self.sources {
            if let Some(n) = plus.row() {
                amperes[n] += part(current);
            }
            if let Some(n) = minus.row() {
                amperes[n] -= part(current);
            }
        }
        amperes
    }
}

fn radians_per_s(hertz: f64) -> f64 {
    std::f64::consts::TAU * hertz
}

fn stamp<T: nalgebra::ComplexField>(matrix: &mut DMatrix<T>, (a, b): (Node, Node), siemens: T) {
    let (a, b) = (a.row(), b.row());
    for n in [a, b].into_iter().flatten() {
        matrix[(n, n)] += siemens.clone();
    }
    if let (Some(a), Some(b)) = (a, b) {
        matrix[(a, b)] -= siemens.clone();
        matrix[(b, a)] -= siemens;
    }
}

/// A solved circuit: G·v = i, G symmetric and positive definite; and Y·v = i for what alternates.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    direct: Cholesky<f64, Dyn>,
    alternating: Option<LU<Complex<f64>, Dyn, Dyn>>,
    volts: Volts,
}

impl Solved {
    /// The voltages.
    #[must_use]
    pub(super) fn volts(&self) -> &Volts {
        &self.volts
    }

    /// L of G = LLᵀ.
    pub(super) fn direct_factor(&self) -> DMatrix<f64> {
        self.direct.l()
    }

    /// The voltages with some more resistors, without factoring it all again.
    #[must_use]
    pub(super) fn with_resistors(&self, resistors: &[(Node, Node, f64)]) -> Volts {
        let direct = with(resistors, &self.volts.direct, |e| self.direct.solve(e));
        let alternating = self.alternating.as_ref().zip(self.volts.alternating.as_ref());
        let alternating = alternating.map(|(factors, volts)| {
            with(resistors, volts, |e| factors.solve(e).expect("it was solved before"))
        });
        Volts { direct, alternating }
    }
}

/// Woodbury's formula: v − Z (R + UᵀZ)⁻¹ Uᵀv, Z = G⁻¹U, a column of U for each resistor.
fn with<T: nalgebra::ComplexField<RealField = f64>>(
    resistors: &[(Node, Node, f64)],
    volts: &DVector<T>,
    solve: impl Fn(&DMatrix<T>) -> DMatrix<T>,
) -> DVector<T> {
    if resistors.is_empty() {
        return volts.clone();
    }
    let mut carried = DMatrix::zeros(volts.len(), resistors.len());
    for (column, (a, b, _)) in resistors.iter().enumerate() {
        if let Some(a) = a.row() {
            carried[(a, column)] += T::one();
        }
        if let Some(b) = b.row() {
            carried[(b, column)] -= T::one();
        }
    }
    let done = solve(&carried);
    let mut small = carried.transpose() * &done;
    for (n, (_, _, ohms)) in resistors.iter().enumerate() {
        small[(n, n)] += T::from_real(*ohms);
    }
    let across = carried.transpose() * volts;
    let currents = small.lu().solve(&across).expect("resistors are positive");
    volts - done * currents
}

/// Node voltages.
#[derive(Clone, Debug)]
pub(super) struct Volts {
    direct: DVector<f64>,
    alternating: Option<DVector<Complex<f64>>>,
}

impl Volts {
    /// All nodes but ground, at rest.
    pub(super) fn direct(&self) -> &DVector<f64> {
        &self.direct
    }

    /// Their phasors, where something alternates.
    pub(super) fn alternating(&self) -> Option<&DVector<Complex<f64>>> {
        self.alternating.as_ref()
    }

    /// The voltage of a node against ground.
    #[must_use]
    pub(super) fn at(&self, node: Node) -> Emf {
        let Some(n) = node.row() else { return Emf::default() };
        let alternating = self.alternating.as_ref().map_or(Complex::default(), |v| v[n]);
        Emf { direct: self.direct[n], alternating }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Resistance between two nodes: the volts that one ampere makes.
    fn ohms_between(circuit: &Circuit, a: Node, b: Node) -> f64 {
        let mut circuit = circuit.clone();
        circuit.source(a, b, Emf::steady(1e9), 1e9);
        let solved = circuit.solve(0.0);
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
        let solved = bridge.solve(0.0);
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
        let emf = Emf { direct: 0.0, alternating: Complex::new(1.0, 0.0) };
        filter.source(input, Node::GROUND, emf, 1e-6);
        filter.resistor(input, output, 1_000.0);
        filter.capacitor(output, Node::GROUND, 1e-6);
        let corner_hertz = 1.0 / (std::f64::consts::TAU * 1e-3);
        let volts = filter.solve(corner_hertz).volts().at(output).alternating;
        assert!((volts - Complex::new(0.5, -0.5)).norm() < 1e-6, "{volts}");
    }

    /// What is added to a solved circuit does what it does when it is there from the start.
    #[test]
    fn resistors_added_later_are_as_good_as_soldered_ones() {
        let mut circuit = Circuit::new();
        let nodes = [(); 5].map(|()| circuit.node());
        circuit.source(nodes[0], Node::GROUND, Emf::steady(3.3), 25.0);
        let emf = Emf { direct: 0.0, alternating: Complex::new(0.0, 2.0) };
        circuit.coupled(nodes[3], Node::GROUND, emf, 1e-9, 60.0);
        for pair in nodes.windows(2) {
            circuit.resistor(pair[0], pair[1], 330.0);
        }
        let added = [(nodes[1], nodes[4], 15e3), (nodes[3], Node::GROUND, 6e3)];
        let later = circuit.solve(60.0).with_resistors(&added);
        for (a, b, ohms) in added {
            circuit.resistor(a, b, ohms);
        }
        let soldered = circuit.solve(60.0);
        for node in nodes {
            let difference = later.at(node) - soldered.volts().at(node);
            assert!(difference.direct.abs() < 1e-12, "{difference:?}");
            assert!(difference.alternating.norm() < 1e-12, "{difference:?}");
        }
    }
}
