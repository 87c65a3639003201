//! A network of resistors and sources to ground, solved by nodal analysis: written for the tests
//! alone, so that it shares no mistake with what is tested.

use nalgebra::{DMatrix, DVector};

/// Node 0 is ground.
pub(crate) struct Network {
    siemens: DMatrix<f64>,
    amperes: DVector<f64>,
}

impl Network {
    /// Of so many nodes beside ground; each leaks a little, so that none floats without a voltage.
    pub(crate) fn new(nodes: usize) -> Self {
        let siemens = DMatrix::from_diagonal_element(nodes, nodes, 1e-13);
        Self { siemens, amperes: DVector::zeros(nodes) }
    }

    pub(crate) fn resistor(&mut self, a: usize, b: usize, ohm: f64) {
        for (from, to) in [(a, b), (b, a)] {
            if let Some(row) = from.checked_sub(1) {
                self.siemens[(row, row)] += 1.0 / ohm;
                if let Some(column) = to.checked_sub(1) {
                    self.siemens[(row, column)] -= 1.0 / ohm;
                }
            }
        }
    }

    /// A voltage against ground behind a resistance (Norton).
    pub(crate) fn source(&mut self, node: usize, volts: f64, ohm: f64) {
        self.resistor(node, 0, ohm);
        self.current(node, volts / ohm);
    }

    pub(crate) fn current(&mut self, node: usize, amperes: f64) {
        if let Some(row) = node.checked_sub(1) {
            self.amperes[row] += amperes;
        }
    }

    /// By node, ground first.
    pub(crate) fn solve(&self) -> Vec<f64> {
        let volts = self.siemens.clone().cholesky().expect("resistors").solve(&self.amperes);
        [0.0].into_iter().chain(volts.iter().copied()).collect()
    }

    /// Resistance between two nodes.
    #[cfg(test)]
    pub(crate) fn between_ohm(mut self, a: usize, b: usize) -> f64 {
        self.current(a, 1.0);
        self.current(b, -1.0);
        let volts = self.solve();
        volts[a] - volts[b]
    }
}

#[cfg(test)]
fn of(nodes: usize, edges: &[(usize, usize, f64)]) -> Network {
    let mut network = Network::new(nodes);
    for (a, b, ohm) in edges {
        network.resistor(*a, *b, *ohm);
    }
    network
}

#[cfg(test)]
fn near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() < within, "{value}, not {expected}");
}

/// Introduction to Electric Circuits, p. 58: a delta, and the star that equals it.
#[test]
fn the_textbook_delta_is_its_star() {
    let delta = || of(3, &[(1, 2, 10.0), (3, 1, 5.0), (2, 3, 15.0)]);
    let arms = [1.67, 5.0, 2.5];
    for (a, b) in [(1, 2), (1, 3), (2, 3)] {
        near(delta().between_ohm(a, b), arms[a - 1] + arms[b - 1], 0.01);
    }
}

/// An unbalanced bridge, as open textbooks solve it by delta and star.
#[test]
fn the_textbook_bridge() {
    let edges = [(1, 2, 12.0), (1, 3, 18.0), (2, 3, 6.0), (2, 0, 18.0), (3, 0, 12.0)];
    let mut bridge = of(3, &edges);
    near(of(3, &edges).between_ohm(1, 0), 14.571_428_571, 1e-8);
    bridge.current(1, 10.0 / 14.571_428_571_428_57);
    let volts = bridge.solve();
    near(volts[2], 5.294_117_647, 1e-8);
    near(volts[3], 4.705_882_353, 1e-8);
}

/// The cube of twelve equal resistors, a classic: 5/6, 3/4 and 7/12 of one.
#[test]
fn the_classic_cube() {
    let mut edges = vec![];
    for corner in 0..8_usize {
        edges.extend([1, 2, 4].map(|bit| (corner + 1, (corner ^ bit) + 1, 2.0))); // each edge twice
    }
    near(of(8, &edges).between_ohm(1, 8), 5.0 / 6.0, 1e-9);
    near(of(8, &edges).between_ohm(1, 4), 3.0 / 4.0, 1e-9);
    near(of(8, &edges).between_ohm(1, 2), 7.0 / 12.0, 1e-9);
}
