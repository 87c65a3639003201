//! The noncentral t distribution: a normal variable, not about nought, over the square root of a mean square.
//!
//! T = (Z + δ) / S with ν S² of chi-square with ν degrees of freedom, so P(T ≤ t) is the mean of Φ(t S − δ) over S. Over
//! the logarithm of S the integrand is smooth and falls off on both sides, where the trapezoidal rule is as exact as the
//! numbers are; it needs no special function but Φ. Where δ is so large that Φ would be a step, it is the mean over Z
//! instead, of what chi-square says of S.

use super::{chi_square, normal};
use crate::root;

/// The distribution for some degrees of freedom and a noncentrality.
pub(crate) struct NoncentralT {
    degrees_of_freedom: f64,
    noncentrality: f64,
    /// What the mean is taken over, and how likely it is.
    nodes: Vec<(f64, f64)>,
    over: Over,
}

#[derive(Clone, Copy, PartialEq)]
enum Over {
    RootMeanSquare,
    Normal,
}

/// From here on the mean is over Z. [judgement]
const LARGE: f64 = 300.0;

/// Beyond so many of its own e-foldings a density adds nothing.
const NOTHING_LOG: f64 = -60.0;
/// Steps in what is the narrower of the density and of Φ: with one degree of freedom, the worst, the rule is then wrong
/// by exp(−56). [judgement]
const STEPS: f64 = 8.0;

impl NoncentralT {
    /// With at least one degree of freedom, and a noncentrality that is a number.
    pub(crate) fn new(degrees_of_freedom: f64, noncentrality: f64) -> Self {
        let over = if noncentrality.abs() < LARGE { Over::RootMeanSquare } else { Over::Normal };
        Self::over(over, degrees_of_freedom, noncentrality)
    }

    fn over(over: Over, degrees_of_freedom: f64, noncentrality: f64) -> Self {
        let root_mean_square = |u: f64| degrees_of_freedom * (u - 0.5 * ((2.0 * u).exp() - 1.0));
        let width = (2.0 * degrees_of_freedom).sqrt().recip();
        let narrower = width.min(noncentrality.abs().max(1.0).recip());
        let nodes = match over {
            Over::RootMeanSquare => {
                nodes(narrower, root_mean_square).map(|(u, weight)| (u.exp(), weight)).collect()
            }
            Over::Normal => nodes(1.0, |z| -0.5 * z * z).collect(),
        };
        Self { degrees_of_freedom, noncentrality, nodes, over }
    }

    /// P(T ≤ t).
    pub(crate) fn at_most(&self, t: f64) -> f64 {
        match self.over {
            Over::RootMeanSquare => self.mean(|s| normal(t * s - self.noncentrality)),
            Over::Normal => self.mean(|z| self.sides(z, t).0),
        }
    }

    /// P(T > t).
    pub(crate) fn more_than(&self, t: f64) -> f64 {
        match self.over {
            Over::RootMeanSquare => self.mean(|s| normal(self.noncentrality - t * s)),
            Over::Normal => self.mean(|z| self.sides(z, t).1),
        }
    }

    /// P(T ≤ t) and P(T > t) where Z is `z`: of T and t on the same side of nought S decides, else it is certain.
    fn sides(&self, z: f64, t: f64) -> (f64, f64) {
        let above = z + self.noncentrality;
        if (t > 0.0 && above > 0.0) || (t < 0.0 && above < 0.0) {
            let ratio = above / t;
            let (less, more) =
                chi_square(self.degrees_of_freedom, self.degrees_of_freedom * ratio * ratio);
            if t > 0.0 { (more, less) } else { (less, more) }
        } else if above > 0.0 {
            (0.0, 1.0)
        } else {
            (1.0, 0.0)
        }
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

/// Where a density is that is 1 at nought, so wide there, and its logarithm; with weights that are 1 together.
fn nodes(width: f64, log_density: impl Fn(f64) -> f64) -> impl Iterator<Item = (f64, f64)> {
    let side = |direction: f64| {
        let places = (1..).map(move |n| direction * width / STEPS * f64::from(n));
        places.map(|at| (at, log_density(at))).take_while(|(_, log)| *log > NOTHING_LOG)
    };
    let nodes: Vec<(f64, f64)> = side(-1.0)
        .chain(std::iter::once((0.0, 0.0)))
        .chain(side(1.0))
        .map(|(at, log)| (at, log.exp()))
        .collect();
    let whole: f64 = nodes.iter().map(|(_, weight)| weight).sum();
    nodes.into_iter().map(move |(at, weight)| (at, weight / whole))
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

    /// The two ways share nothing but the rule.
    #[test]
    fn over_either_variable_it_is_the_same() {
        for (degrees, noncentrality) in [(1.0, 40.0), (9.0, -40.0), (60.0, 300.0), (900.0, 900.0)] {
            let [one, other] = [Over::RootMeanSquare, Over::Normal]
                .map(|over| NoncentralT::over(over, degrees, noncentrality));
            for part in [0.3, 0.8, 0.95, 1.0, 1.1, 2.0] {
                let t = part * noncentrality;
                let [one, other] = [&one, &other].map(|of| (of.at_most(t), of.more_than(t)));
                assert!((one.0 - other.0).abs() < 1e-13, "{degrees} {t}: {one:?} {other:?}");
                assert!((one.1 - other.1).abs() < 1e-13, "{degrees} {t}: {one:?} {other:?}");
            }
        }
    }

    #[test]
    fn the_farthest_are_told_at_once() {
        let far = NoncentralT::new(9.0, 1e12);
        let t = far.quantile(0.5, 0.5).unwrap();
        assert!((t / 1e12 - 1.0).abs() < 0.1, "{t}");
        for t in [-1.0, 0.0] {
            assert_eq!(far.at_most(t), 0.0);
            assert!((far.more_than(t) - 1.0).abs() < 1e-14);
        }
        assert!((NoncentralT::new(9.0, -1e300).at_most(0.0) - 1.0).abs() < 1e-14);
    }

    #[test]
    fn what_is_no_number_has_no_quantile() {
        assert_eq!(NoncentralT::new(3.0, 1.0).quantile(f64::NAN, f64::NAN), None);
    }
}
