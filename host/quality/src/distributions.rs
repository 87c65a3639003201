//! The continuous distributions: a library's probabilities, and quantiles that are their inverse to the last digits.

mod noncentral_t;

pub(crate) use noncentral_t::NoncentralT;

use std::f64::consts::{PI, SQRT_2};

use libm::erfc;
use statrs::function::beta::beta_reg;
use statrs::function::gamma::{gamma_lr, gamma_ur};

use crate::{Chance, root};

/// P(Z ≤ z) of the standard normal distribution, precise in the lower tail.
pub(crate) fn normal(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}

/// The standard normal quantile. The library's value is a start; Newton's step makes it exact.
pub(crate) fn normal_quantile(chance: Chance) -> f64 {
    let chance = chance.value();
    let z = -SQRT_2 * statrs::function::erf::erfc_inv(2.0 * chance);
    let density = (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
    if density == 0.0 { z } else { z - (normal(z) - chance) / density }
}

/// P(T > t) of Student's t, for a t that is not negative.
pub(crate) fn students_t_beyond(degrees_of_freedom: f64, t: f64) -> f64 {
    0.5 * beta_reg(0.5 * degrees_of_freedom, 0.5, degrees_of_freedom / (degrees_of_freedom + t * t))
}

/// The t that Student's t stays within, on both sides of nought, with `confidence`.
pub(crate) fn students_t_within(degrees_of_freedom: f64, confidence: Chance) -> Option<f64> {
    let beyond = 0.5 * confidence.contrary();
    let falling = |t: f64| students_t_beyond(degrees_of_freedom, t) - beyond;
    Some(root::of_falling(0.0, root::beyond(1.0, falling)?, falling))
}

/// P(χ² ≤ x) and P(χ² > x) of chi-square, for an x that is not negative.
pub(crate) fn chi_square(degrees_of_freedom: f64, x: f64) -> (f64, f64) {
    if x <= 0.0 {
        return (0.0, 1.0);
    }
    if x == f64::INFINITY {
        return (1.0, 0.0);
    }
    (gamma_lr(0.5 * degrees_of_freedom, 0.5 * x), gamma_ur(0.5 * degrees_of_freedom, 0.5 * x))
}

/// The x with P(χ² ≤ x) = `chance`.
pub(crate) fn chi_square_quantile(degrees_of_freedom: f64, chance: f64) -> Option<f64> {
    let falling = |x: f64| {
        let (at_most, more) = chi_square(degrees_of_freedom, x);
        if chance < 0.5 { chance - at_most } else { more - (1.0 - chance) }
    };
    Some(root::of_falling(0.0, root::beyond(1.0, falling)?, falling))
}

/// P(F > f) of the F distribution, for an f that is not negative.
pub(crate) fn f_beyond(numerator: f64, denominator: f64, f: f64) -> f64 {
    if f == f64::INFINITY {
        return 0.0;
    }
    beta_reg(0.5 * denominator, 0.5 * numerator, denominator / (denominator + numerator * f))
}
