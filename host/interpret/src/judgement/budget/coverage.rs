//! How wide an interval has to be to hold the true value with 95 %.

use std::f64::consts::{PI, SQRT_2};

/// Of a normal distribution, in standard deviations: the quantile of 97.5 %.
pub(crate) const NORMAL: f64 = 1.959_963_984_540_054;

const OUTSIDE: f64 = 0.05;

/// Halvings: more than a number has digits.
const STEPS: usize = 60;

/// Standard uncertainty of what may lie anywhere within ± this (JCGM 100:2008, 4.3.7).
pub(crate) fn rectangular(half_width: f64) -> f64 {
    half_width / 3.0_f64.sqrt()
}

/// Of the sum of one part that lies anywhere within ± `half_width`, each value as likely, and one that
/// is normal: JCGM 101:2008 in closed form. No value of k serves both.
pub(crate) fn half_width(half_width: f64, standard_deviation: f64) -> f64 {
    let most = half_width + 4.0 * standard_deviation;
    if !(most > 0.0 && most.is_finite()) {
        return most;
    }
    let (mut least, mut most) = (0.0, most);
    for _ in 0..STEPS {
        let middle = f64::midpoint(least, most);
        if outside(middle, half_width, standard_deviation) > OUTSIDE {
            least = middle;
        } else {
            most = middle;
        }
    }
    most
}

/// The probability to be further off than `limit`: of the normal part's tail, the mean over all values
/// of the other one.
fn outside(limit: f64, half_width: f64, standard_deviation: f64) -> f64 {
    if standard_deviation <= 1e-9 * half_width {
        return (1.0 - limit / half_width).max(0.0);
    }
    let [from, to] = [limit - half_width, limit + half_width].map(|at| at / standard_deviation);
    if to - from < 1e-6 {
        return 2.0 * tail(limit / standard_deviation);
    }
    2.0 * (tail_from(from) - tail_from(to)) / (to - from)
}

/// 1 − Φ(z).
fn tail(z: f64) -> f64 {
    libm::erfc(z / SQRT_2) / 2.0
}

/// ∫ (1 − Φ) from z on: φ(z) − z (1 − Φ(z)).
fn tail_from(z: f64) -> f64 {
    (-z * z / 2.0).exp() / (2.0 * PI).sqrt() - z * tail(z)
}

/// Student's t of 97.5 %, by its expansion about the normal quantile (Abramowitz and Stegun, 26.7.5,
/// from memory); good to a thousandth from five degrees of freedom on.
pub(crate) fn student(degrees_of_freedom: f64) -> f64 {
    let z = NORMAL;
    let terms = [
        (z.powi(3) + z) / 4.0,
        (5.0 * z.powi(5) + 16.0 * z.powi(3) + 3.0 * z) / 96.0,
        (3.0 * z.powi(7) + 19.0 * z.powi(5) + 17.0 * z.powi(3) - 15.0 * z) / 384.0,
        (79.0 * z.powi(9) + 776.0 * z.powi(7) + 1482.0 * z.powi(5)
            - 1920.0 * z.powi(3)
            - 945.0 * z)
            / 92_160.0,
    ];
    let mut power = 1.0;
    terms.into_iter().fold(z, |sum, term| {
        power /= degrees_of_freedom;
        sum + term * power
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JCGM 100:2008, table G.2: t₉₅ by degrees of freedom.
    #[test]
    fn students_t_as_the_guide_prints_it() {
        for (degrees, printed) in [(5, 2.57), (10, 2.23), (12, 2.18), (20, 2.09), (50, 2.01)] {
            let found = student(f64::from(degrees));
            assert!((found - printed).abs() < 0.006, "{degrees}: {found}, printed {printed}");
        }
        assert!((student(f64::INFINITY) - 1.96).abs() < 1e-4);
    }

    /// A rectangle alone: 0.95 of its half width, 1.65 standard deviations (JCGM 100:2008, G.1.2 and
    /// table G.1); a normal part alone: 1.960.
    #[test]
    fn the_two_extremes() {
        assert!((half_width(1.0, 0.0) - 0.95).abs() < 1e-9);
        assert!((3.0_f64.sqrt() * half_width(1.0, 0.0) - 1.65).abs() < 0.005);
        assert!((half_width(0.0, 1.0) - 1.960).abs() < 5e-4);
        assert!((half_width(1e-6, 1.0) - 1.960).abs() < 5e-4);
        assert_eq!(half_width(0.0, 0.0), 0.0);
        assert!(!half_width(f64::NAN, 1.0).is_finite());
        assert!(!half_width(1.0, f64::INFINITY).is_finite());
    }

    /// Between: the same probability, summed over the rectangle by hand (Simpson's rule).
    #[test]
    fn five_in_a_hundred_lie_outside() {
        for standard_deviation in [0.01, 0.1, 0.3, 0.577, 1.0, 5.0] {
            let limit = half_width(1.0, standard_deviation);
            let parts = 2_000;
            let sum: f64 = (0..=parts)
                .map(|n| {
                    let at = 2.0 * f64::from(n) / f64::from(parts) - 1.0;
                    let weight =
                        if n == 0 || n == parts { 1.0 } else { 2.0 + 2.0 * f64::from(n % 2) };
                    let beyond = |z: f64| tail(z / standard_deviation);
                    weight * (beyond(limit - at) + beyond(limit + at))
                })
                .sum();
            let outside = sum / (3.0 * f64::from(parts));
            assert!((outside - 0.05).abs() < 1e-5, "{standard_deviation}: {outside}");
        }
    }
}
