//! The continuous distributions: a library's probabilities, and quantiles that are their inverse to the last digits.

mod noncentral_t;

pub(crate) use noncentral_t::NoncentralT;

use libm::erfc;
use std::f64::consts::{PI, SQRT_2};

use crate::Chance;

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
