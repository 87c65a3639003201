//! A voltage, steady and alternating.

use nalgebra::Complex;

/// A voltage: a steady part, and one that alternates, re·sin ωt + im·cos ωt.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(in super::super) struct Emf {
    /// Steady volts.
    pub(in super::super) direct: f64,
    /// The alternating part's phasor, peak volts.
    pub(in super::super) alternating: Complex<f64>,
}

impl Emf {
    /// So many steady volts.
    pub(in super::super) const fn steady(volts: f64) -> Self {
        Self { direct: volts, alternating: Complex::new(0.0, 0.0) }
    }

    /// So many times of it.
    pub(in super::super) fn times(self, factor: f64) -> Self {
        Self { direct: self.direct * factor, alternating: self.alternating * Complex::from(factor) }
    }

    /// At an angle ωt.
    pub(in super::super) fn at(self, radians: f64) -> f64 {
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
