//! A whole circuit in time, from whatever charge its capacitors hold: see `transient` for how it falls apart.

use std::vec::Vec;

use nalgebra::{DMatrix, DVector};

use super::circuit::{Circuit, Emf, Node, Solved};

/// A shorter time constant is none.
const LEAST_SECONDS: f64 = 1e-12;

/// A circuit's modes.
#[derive(Debug)]
pub(super) struct Modes {
    solved: Solved,
    capacitance: DMatrix<f64>,
    /// Time constants in seconds, of as many as there are.
    seconds: DVector<f64>,
    /// From nodes' charges to what each mode begins with, and from that to nodes' voltages.
    into: DMatrix<f64>,
    out: DMatrix<f64>,
}

impl Modes {
    pub(super) fn new(circuit: &Circuit) -> Self {
        let solved = circuit.solve();
        let lower = solved.direct_factor();
        let capacitance = circuit.capacitance();
        let positive = "it is positive definite";
        let halfway = lower.solve_lower_triangular(&capacitance).expect(positive);
        let between = lower.solve_lower_triangular(&halfway.transpose()).expect(positive);
        let eigen = between.symmetric_eigen();
        let lasting: Vec<usize> = (0..eigen.eigenvalues.len())
            .filter(|n| eigen.eigenvalues[*n] > LEAST_SECONDS)
            .collect();
        let seconds = eigen.eigenvalues.select_rows(&lasting);
        let turned = eigen.eigenvectors.select_columns(&lasting);
        let nodes = capacitance.nrows();
        let inverse = lower.solve_lower_triangular(&DMatrix::identity(nodes, nodes));
        let into = turned.transpose() * inverse.expect(positive);
        let mut out = into.transpose();
        for (mut column, seconds) in out.column_iter_mut().zip(seconds.iter()) {
            column /= *seconds;
        }
        Self { solved, capacitance, seconds, into, out }
    }

    /// What each mode begins with, where the nodes hold these charges.
    pub(super) fn begin(&self, charges: &DVector<f64>) -> DVector<f64> {
        &self.into * (charges - &self.capacitance * self.solved.volts().direct())
    }

    /// The nodes' charges so many seconds after it began so.
    pub(super) fn charges(&self, begun: &DVector<f64>, seconds: f64) -> DVector<f64> {
        let now =
            begun.zip_map(&self.seconds, |begun, constant| begun * (-seconds / constant).exp());
        &self.capacitance * (self.solved.volts().direct() + &self.out * now)
    }

    /// The same at rest.
    pub(super) fn charges_at_rest(&self) -> DVector<f64> {
        &self.capacitance * self.solved.volts().direct()
    }

    /// How some nodes go on from there.
    pub(super) fn course<const N: usize>(
        &self,
        begun: &DVector<f64>,
        nodes: [Node; N],
    ) -> Course<N> {
        let rest = nodes.map(|node| self.solved.volts().at(node));
        let rows = nodes.map(|node| {
            let row = node.row().map(|row| self.out.row(row).transpose().component_mul(begun));
            row.unwrap_or_else(|| DVector::zeros(begun.len()))
        });
        Course { rest, rows, seconds: self.seconds.clone() }
    }
}

/// Some nodes' voltages after a change.
#[derive(Debug)]
pub(super) struct Course<const N: usize> {
    rest: [Emf; N],
    rows: [DVector<f64>; N],
    seconds: DVector<f64>,
}

impl<const N: usize> Course<N> {
    /// `since` seconds after the change; what alternates stands as it does `at` seconds of the sources' time.
    pub(super) fn volts(&self, since: f64, at: f64) -> [f64; N] {
        let decayed = self.seconds.map(|constant| (-since / constant).exp());
        core::array::from_fn(|n| self.at_rest(n, at) + self.rows[n].dot(&decayed))
    }

    /// When all that ends has ended.
    pub(super) fn at_rest(&self, node: usize, at: f64) -> f64 {
        self.rest[node].at(at, |hertz| std::f64::consts::TAU * hertz * at)
    }

    /// By how much what alternates moves a node at most.
    pub(super) fn swing(&self, node: usize) -> f64 {
        self.rest[node].tones.iter().map(|tone| tone.phasor.norm()).sum()
    }
}
