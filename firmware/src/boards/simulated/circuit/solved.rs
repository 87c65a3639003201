//! The voltages of a circuit that has been solved.

use std::vec::Vec;

use nalgebra::{Cholesky, Complex, DMatrix, DVector, Dyn, LU};

use super::{Course, Emf, Node, Tone};

/// A solved circuit: G·v = i, G symmetric and positive definite; and Y·v = i for what alternates, at
/// each of its frequencies.
#[derive(Clone, Debug)]
pub(in super::super) struct Solved {
    pub(super) direct: Cholesky<f64, Dyn>,
    pub(super) tones: Vec<LU<Complex<f64>, Dyn, Dyn>>,
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
        let at_rest = |volts: &DVector<f64>| with(resistors, volts, |e| self.direct.solve(e));
        let tones = self.tones.iter().zip(&self.volts.tones).map(|(factors, (hertz, volts))| {
            let solve = |e: &DMatrix<_>| factors.solve(e).expect("it was solved before");
            (*hertz, with(resistors, volts, solve))
        });
        Volts {
            direct: at_rest(&self.volts.direct),
            tones: tones.collect(),
            courses: self.volts.courses.iter().map(|one| (one.0, at_rest(&one.1))).collect(),
        }
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
    /// By frequency.
    pub(super) tones: Vec<(f64, DVector<Complex<f64>>)>,
    /// While each is 1.
    pub(super) courses: Vec<(Course, DVector<f64>)>,
}

impl Volts {
    /// All nodes but ground, at rest.
    pub(in super::super) fn direct(&self) -> &DVector<f64> {
        &self.direct
    }

    /// Their phasors, at each frequency.
    pub(in super::super) fn tones(&self) -> &[(f64, DVector<Complex<f64>>)] {
        &self.tones
    }

    /// What each course makes of them.
    pub(in super::super) fn courses(&self) -> &[(Course, DVector<f64>)] {
        &self.courses
    }

    /// The voltage of a node against ground.
    #[must_use]
    pub(in super::super) fn at(&self, node: Node) -> Emf {
        let Some(n) = node.row() else { return Emf::default() };
        let tones =
            self.tones.iter().map(|(hertz, volts)| Tone { hertz: *hertz, phasor: volts[n] });
        Emf {
            direct: self.direct[n],
            tones: tones.collect(),
            courses: self.courses.iter().map(|(course, volts)| (*course, volts[n])).collect(),
        }
    }
}
