//! A linear circuit of resistors, capacitors and sources, solved by nodal analysis: at rest for what
//! is steady or goes as it likes, by phasors for what alternates.

mod emf;
mod solved;

use std::vec::Vec;

pub(super) use emf::{Course, Emf, Tone};
use nalgebra::{Complex, DMatrix, DVector};
pub(super) use solved::{Solved, Volts};

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
        let Emf { direct, mut tones, mut courses } = emf;
        tones.iter_mut().for_each(|tone| tone.phasor /= Complex::from(ohms));
        courses.iter_mut().for_each(|one| one.1 /= ohms);
        self.sources.push((plus, minus, Emf { direct: direct / ohms, tones, courses }));
    }

    /// A source that couples into `plus` through a capacitor: what alternates of it.
    pub(super) fn coupled(&mut self, plus: Node, minus: Node, emf: Emf, farads: f64) {
        self.capacitor(plus, minus, farads);
        let mut tones = emf.tones;
        for tone in &mut tones {
            tone.phasor *= Complex::new(0.0, radians_per_s(tone.hertz) * farads);
        }
        self.sources.push((plus, minus, Emf { tones, ..Emf::default() }));
    }

    /// Factors the circuit, and solves it.
    #[must_use]
    pub(super) fn solve(&self) -> Solved {
        let direct = self.conductance().cholesky().expect("every node is tied to ground");
        let direct_v = direct.solve(&self.currents(|emf| emf.direct));
        let (mut factored, mut tones) = (Vec::new(), Vec::new());
        for hertz in self.frequencies() {
            let factors = self.admittance(hertz).lu();
            let currents = self.currents(|emf| emf.phasor(hertz));
            tones.push((hertz, factors.solve(&currents).expect("every node is tied to ground")));
            factored.push(factors);
        }
        let courses = self.courses().into_iter().map(|course| {
            let currents = self.currents(|emf| emf.in_step_with(&course));
            (course, direct.solve(&currents))
        });
        let volts = Volts { courses: courses.collect(), direct: direct_v, tones };
        Solved { direct, tones: factored, volts }
    }

    /// Each once.
    fn frequencies(&self) -> Vec<f64> {
        let mut frequencies = Vec::new();
        for tone in self.sources.iter().flat_map(|source| &source.2.tones) {
            if tone.phasor.norm() > 0.0 && !frequencies.contains(&tone.hertz) {
                frequencies.push(tone.hertz);
            }
        }
        frequencies
    }

    /// Each once.
    fn courses(&self) -> Vec<Course> {
        let mut courses = Vec::new();
        for (one, _) in self.sources.iter().flat_map(|source| &source.2.courses) {
            if !courses.contains(one) {
                courses.push(*one);
            }
        }
        courses
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

#[cfg(test)]
mod tests;
