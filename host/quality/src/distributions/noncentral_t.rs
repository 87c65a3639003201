//! The noncentral t distribution: a normal variable, not about nought, over the square root of a mean square.
//!
//! T = (Z + δ) / S with ν S² of chi-square with ν degrees of freedom, so P(T ≤ t) is the mean of Φ(t S − δ) over S. Over
//! the logarithm of S the integrand is smooth and falls off on both sides, where the trapezoidal rule is as exact as the
//! numbers are; it needs no special function but Φ.

use super::normal;
use crate::root;

/// The distribution for some degrees of freedom and a noncentrality.
pub(crate) struct NoncentralT {
    noncentrality: f64,
    /// S, and how likely it is.
    nodes: Vec<(f64, f64)>,
}

/// Beyond so many of its own e-foldings a density adds nothing.
const NOTHING_LOG: f64 = -60.0;
/// Steps in what is the narrower of the density and of Φ: with one degree of freedom, the worst, the rule is then wrong by exp(−56) [judgement]
const STEPS: f64 = 8.0;

impl NoncentralT {
    /// With at least one degree of freedom, and a noncentrality that is a number.
    pub(crate) fn new(degrees_of_freedom: f64, noncentrality: f64) -> Self {
        let log_density = |u: f64| degrees_of_freedom * (u - 0.5 * ((2.0 * u).exp() - 1.0));
        let width = (2.0 * degrees_of_freedom).sqrt().recip();
        let step = width.min(noncentrality.abs().max(1.0).recip()) / STEPS;
        let side = |direction: f64| {
            (1..)
                .map(move |n| direction * step * f64::from(n))
                .take_while(|u| log_density(*u) > NOTHING_LOG)
        };
        let mut nodes: Vec<(f64, f64)> = side(-1.0)
            .chain(std::iter::once(0.0))
            .chain(side(1.0))
            .map(|u| (u.exp(), log_density(u).exp()))
            .collect();
        let whole: f64 = nodes.iter().map(|(_, weight)| weight).sum();
        nodes.iter_mut().for_each(|(_, weight)| *weight /= whole);
        Self { noncentrality, nodes }
    }

    /// P(T ≤ t).
    pub(crate) fn at_most(&self, t: f64) -> f64 {
        self.mean(|s| normal(t * s - self.noncentrality))
    }

    /// P(T > t).
    pub(crate) fn more_than(&self, t: f64) -> f64 {
        self.mean(|s| normal(self.noncentrality - t * s))
    }

    /// The t with P(T ≤ t) = `chance`, of which the contrary is given as well for its digits.
    pub(crate) fn quantile(&self, chance: f64, contrary: f64) -> Option<f64> {
        let left = |t: f64| {
            if chance < 0.5 { chance - self.at_most(t) } else { self.more_than(t) - contrary }
        };
        let high = root::beyond(1.0, left)?;
        let low = -root::beyond(1.0, |t| -left(-t))?;
        Some(root::of_falling(low, high, left))
    }

    fn mean(&self, of: impl Fn(f64) -> f64) -> f64 {
        self.nodes.iter().map(|(s, weight)| weight * of(*s)).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Chance;
    use crate::distributions::normal_quantile;

    /// NIST/SEMATECH e-Handbook 7.2.6.3: 43 observations, 90 % of the population, 99 % confidence.
    #[test]
    fn the_handbooks_quantile_for_a_tolerance_factor() {
        let noncentrality = normal_quantile(Chance::new(0.9).unwrap()) * 43f64.sqrt();
        let t = NoncentralT::new(42.0, noncentrality).quantile(0.99, 0.01).unwrap();
        assert!((t - 12.288_34).abs() < 5.1e-6, "{t}");
    }

    /// With no noncentrality and one degree of freedom it is Cauchy's: quartiles at −1 and 1.
    #[test]
    fn centred_it_is_students_t() {
        let cauchy = NoncentralT::new(1.0, 0.0);
        assert!((cauchy.at_most(1.0) - 0.75).abs() < 1e-14);
        assert!((cauchy.more_than(-1.0) - 0.75).abs() < 1e-14);
        assert!((cauchy.quantile(0.25, 0.75).unwrap() + 1.0).abs() < 1e-13);
    }

    #[test]
    fn both_sides_are_all() {
        for (degrees, noncentrality) in [(1.0, -3.0), (4.0, 0.5), (99.0, 30.0), (2000.0, 140.0)] {
            let distribution = NoncentralT::new(degrees, noncentrality);
            for t in [-200.0, -1.0, 0.0, 1.0, 30.0, 140.0] {
                let both = distribution.at_most(t) + distribution.more_than(t);
                assert!((both - 1.0).abs() < 1e-14, "{degrees} {noncentrality} {t}: {both}");
            }
        }
    }

    #[test]
    fn what_is_no_number_has_no_quantile() {
        assert_eq!(NoncentralT::new(3.0, 1.0).quantile(f64::NAN, f64::NAN), None);
    }
}
