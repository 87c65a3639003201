//! Kirchhoff's current law as calibration: what leaves one post comes back by the other, so the
//! series resistors can be compared with each other.

use nalgebra::{Matrix4, Vector4};

use super::swing::Swing;
use crate::capture::JigConstants;
use crate::judgement::{Cause, FindingKind};
use crate::obstacle::Obstacle;

/// More current than series resistors within tolerance can feign.
const LOST_FRACTION_MAX: f64 = 0.01;

/// Less than this is not current but what clamps and inputs leak. [judgement]
const LOST_MAX_A: f64 = 10e-6;

/// Series resistors are known better than this relative to each other only from data.
const DEVIATION_MIN: f64 = 1e-6;

/// All current that leaves a post comes back by another, of pairs that meet below so many ohms.
pub(super) fn check(
    swings: &[Swing; 6],
    jig: &JigConstants,
    below_ohm: f64,
) -> Result<(), Obstacle> {
    for swing in swings.iter().filter(|swing| swing.meets_below(below_ohm)) {
        let allowed_a =
            (LOST_FRACTION_MAX + 4.0 * jig.series_tolerance) * swing.through_a().abs() + LOST_MAX_A;
        let lost_a = swing.sum_a().abs();
        if !(lost_a <= allowed_a) {
            return Err(Obstacle::new(FindingKind::SomethingConnected)
                .cause(Cause::CurrentLost)
                .posts([swing.posts.0, swing.posts.1]));
        }
    }
    Ok(())
}

/// The same swings with currents by calibrated series resistors, so that their sum is nothing.
///
/// If R_k is (1 + ρ_k) times its nominal value, the nominal currents of pair i, j miss each other by
/// δ = ΣI/I = ρ_i − ρ_j. The ρ with the least squares, held by the tolerance, are found from six δ.
pub(super) fn calibrated(swings: [Swing; 6], jig: &JigConstants, below_ohm: f64) -> [Swing; 6] {
    let prior = (jig.series_tolerance / 3.0_f64.sqrt()).max(DEVIATION_MIN);
    let mut normal = Matrix4::identity() / prior.powi(2);
    let mut right = Vector4::zeros();
    for swing in swings.iter().filter(|swing| swing.meets_below(below_ohm)) {
        let through_a = swing.through_a();
        let weight = through_a.powi(2) / swing.sum_variance_a2;
        let mut row = Vector4::zeros();
        row[swing.posts.0.index()] = 1.0;
        row[swing.posts.1.index()] = -1.0;
        normal += row * row.transpose() * weight;
        right += row * weight * (swing.sum_a() / through_a);
    }
    // Positive definite: the prior alone is.
    let covariance = normal.try_inverse().unwrap_or_else(Matrix4::zeros);
    let deviation = covariance * right;
    // What all four have in common is the jig's scale, which the plug gives.
    let centre = Matrix4::identity() - Matrix4::repeat(0.25);
    let covariance = centre * covariance * centre;
    swings.map(|swing| correct(swing, &deviation, &covariance))
}

fn correct(mut swing: Swing, deviation: &Vector4<f64>, covariance: &Matrix4<f64>) -> Swing {
    let (i, j) = (swing.posts.0.index(), swing.posts.1.index());
    for k in [i, j] {
        swing.current_a[k] /= 1.0 + deviation[k];
    }
    let rest_a = swing.sum_a() / 2.0;
    swing.current_a[i] -= rest_a;
    swing.current_a[j] -= rest_a;
    let relative = (covariance[(i, i)] + covariance[(j, j)] + 2.0 * covariance[(i, j)]) / 4.0;
    swing.current_variance_a2 += relative * swing.through_a().powi(2);
    swing
}
