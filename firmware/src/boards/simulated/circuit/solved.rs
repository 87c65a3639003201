//! The voltages of a circuit that has been solved.

use nalgebra::{Cholesky, Complex, DMatrix, DVector, Dyn, LU};

use super::{Emf, Node};

/// A solved circuit: G·v = i, G symmetric and positive definite; and Y·v = i for what alternates.
#[derive(Clone, Debug)]
pub(in super::super) struct Solved {
    pub(super) direct: Cholesky<f64, Dyn>,
    pub(super) alternating: Option<LU<Complex<f64>, Dyn, Dyn>>,
    pub(super) volts: Volts,
}

impl Solved {
    /// The voltages.
    #[must_use]
    pub(in super::super) fn volts(&self) -> &Volts {
        &self.volts
    }

    /// L of G = LLᵀ.
    pub(in super::super) fn direct_factor(&self) -> DMatrix<f64> {
        self.direct.l()
    }

    /// The voltages with some more resistors, without factoring it all again.
    #[must_use]
    pub(in super::super) fn with_resistors(&self, resistors: &[(Node, Node, f64)]) -> Volts {
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
pub(in super::super) struct Volts {
    pub(super) direct: DVector<f64>,
    pub(super) alternating: Option<DVector<Complex<f64>>>,
}

impl Volts {
    /// All nodes but ground, at rest.
    pub(in super::super) fn direct(&self) -> &DVector<f64> {
        &self.direct
    }

    /// Their phasors, where something alternates.
    pub(in super::super) fn alternating(&self) -> Option<&DVector<Complex<f64>>> {
        self.alternating.as_ref()
    }

    /// The voltage of a node against ground.
    #[must_use]
    pub(in super::super) fn at(&self, node: Node) -> Emf {
        let Some(n) = node.row() else { return Emf::default() };
        let alternating = self.alternating.as_ref().map_or(Complex::default(), |v| v[n]);
        Emf { direct: self.direct[n], alternating }
    }
}
