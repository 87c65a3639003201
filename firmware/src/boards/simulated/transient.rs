//! What a node does from the moment that a circuit changes: a sum of exponentials, exactly.
//!
//! With G = LLᵀ and L⁻¹CL⁻ᵀ = QTQᵀ, the equation G·v + C·dv/dt = i falls apart into modes of one
//! time constant each, the diagonal of T; a time constant of 0 has settled at once.

use std::f64::consts::TAU;
use std::vec::Vec;

use nalgebra::{Complex, DMatrix, DVector};

use super::circuit::{Circuit, Emf, Node, Tone, Volts};

/// A shorter time constant is none.
const LEAST_SECONDS: f64 = 1e-12;

/// One node after a change.
#[derive(Clone, Debug)]
pub(super) struct Transient {
    settled: Emf,
    /// Time constants in seconds, and what each begins with.
    modes: Vec<(f64, Emf)>,
}

impl Transient {
    /// `node` of `after`, which was `before` until now and had settled; both have the same nodes.
    pub(super) fn new(before: &Circuit, after: &Circuit, node: Node) -> Self {
        let (was, will) = (before.solve(), after.solve());
        let lower = will.direct_factor();
        let capacitance = after.capacitance();
        let halfway = lower.solve_lower_triangular(&capacitance).expect("it is positive definite");
        let between = lower.solve_lower_triangular(&halfway.transpose());
        let eigen = between.expect("it is positive definite").symmetric_eigen();
        // Row `node` of L⁻ᵀ is column `node` of L⁻¹.
        let mut unit = DVector::zeros(capacitance.nrows());
        node.row().into_iter().for_each(|n| unit[n] = 1.0);
        let unit = lower.solve_lower_triangular(&unit).expect("it is positive definite");
        let shown = eigen.eigenvectors.transpose() * unit;
        // Only the charge on the capacitors is still there: Qᵀ·L⁻¹·C·v = T·Qᵀ·Lᵀ·v.
        let kept = eigen.eigenvectors.transpose() * halfway;
        let begins = excess(&kept, was.volts(), will.volts());
        let modes = eigen.eigenvalues.iter().zip(begins).zip(shown.iter());
        let modes = modes
            .filter(|((seconds, _), _)| **seconds > LEAST_SECONDS)
            .map(|((seconds, begin), shown)| (*seconds, begin.times(shown / seconds)))
            .collect();
        Self { settled: will.volts().at(node), modes }
    }

    /// The voltage so many seconds after the change, which came at `changed_s` of the sources' time.
    pub(super) fn at(&self, changed_s: f64, seconds: f64) -> f64 {
        let at = |emf: &Emf, seconds: f64| emf.at(seconds, |hertz| TAU * hertz * seconds);
        let gone = self
            .modes
            .iter()
            .map(|(constant_s, begin)| at(begin, changed_s) * (-seconds / constant_s).exp());
        at(&self.settled, changed_s + seconds) + gone.sum::<f64>()
    }

    /// When it passes `volts` on its way up, if it does within so many seconds.
    pub(super) fn passes(&self, volts: f64, changed_s: f64, within_s: f64) -> Option<f64> {
        let above = |seconds: f64| self.at(changed_s, seconds) >= volts;
        let steps = (within_s / STEP_S).ceil() as usize;
        let step = (0..=steps).find(|step| above(*step as f64 * STEP_S))?;
        let (mut below_s, mut above_s) =
            (step.saturating_sub(1) as f64 * STEP_S, step as f64 * STEP_S);
        while above_s - below_s > LEAST_SECONDS.max(above_s * 1e-12) {
            let middle_s = f64::midpoint(below_s, above_s);
            if above(middle_s) { above_s = middle_s } else { below_s = middle_s }
        }
        Some(above_s)
    }
}

/// Nothing that a pull lifts goes up and down again within so long.
const STEP_S: f64 = 5e-6;

/// How far from its end each mode begins, times its time constant.
fn excess(kept: &DMatrix<f64>, was: &Volts, will: &Volts) -> Vec<Emf> {
    let direct = kept * (was.direct() - will.direct());
    let mut begins: Vec<Emf> = direct.iter().map(|volts| Emf::steady(*volts)).collect();
    for ((hertz, will), (_, was)) in will.tones().iter().zip(was.tones()) {
        let phasors = kept.map(Complex::from) * (was - will);
        for (begin, phasor) in begins.iter_mut().zip(&phasors) {
            begin.tones.push(Tone { hertz: *hertz, phasor: *phasor });
        }
    }
    for ((course, will), (_, was)) in will.courses().iter().zip(was.courses()) {
        let volts = kept * (was - will);
        for (begin, volts) in begins.iter_mut().zip(&volts) {
            begin.courses.push((*course, *volts));
        }
    }
    begins
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A source behind a switch: 3.3 V over 100 kΩ to a capacitor, whose other way out is 1 kΩ.
    fn pulled(held: bool) -> (Circuit, Node) {
        let mut circuit = Circuit::new();
        let node = circuit.node();
        circuit.source(node, Node::GROUND, Emf::steady(3.3), 100e3);
        circuit.capacitor(node, Node::GROUND, 1e-9);
        if held {
            circuit.resistor(node, Node::GROUND, 1e3);
        }
        (circuit, node)
    }

    /// One capacitor charges as every textbook has it: V(1 − e^(−t/RC)) from its start.
    #[test]
    fn one_capacitor_charges_exponentially() {
        let ((before, _), (after, node)) = (pulled(true), pulled(false));
        let found = Transient::new(&before, &after, node);
        let (end, start) = (3.3, 3.3 / 101.0);
        for micros in [0.0, 10.0, 100.0, 300.0] {
            let expected = end + (start - end) * (-micros / 100.0_f64).exp();
            let volts = found.at(0.0, micros * 1e-6);
            assert!((volts - expected).abs() < 1e-5, "{volts} after {micros} µs, not {expected}");
        }
        let expected = 100e-6 * ((end - start) / (end - 1.65)).ln();
        let seconds = found.passes(1.65, 0.0, 1e-3).expect("it gets there");
        assert!((seconds - expected).abs() < 1e-9, "{seconds} s, not {expected}");
        assert_eq!(found.passes(3.4, 0.0, 1e-3), None);
    }

    /// A change that changes nothing leaves the node at rest.
    #[test]
    fn what_did_not_change_stays_where_it_was() {
        let (before, node) = pulled(true);
        let found = Transient::new(&before, &before, node);
        let expected = before.solve().volts().at(node).direct;
        assert!((found.at(0.3, 1e-5) - expected).abs() < 1e-9);
    }
}
