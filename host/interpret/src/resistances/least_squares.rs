//! Six pair resistances from eighteen voltages, by weighted least squares.

use nalgebra::{DMatrix, DVector, Matrix3, Matrix6, SMatrix, Vector3, Vector6};
use runproof_protocol::Post;

use super::PairResistances;
use super::swing::Swing;
use crate::judgement::{Cause, FindingKind};
use crate::obstacle::Obstacle;

/// What the currents may be off, relative to each other, beyond noise: the inputs' own load.
const CURRENT_MIN_U: f64 = 2e-5;

/// Equations less unknowns.
const SURPLUS: f64 = 12.0;

/// Scatter of more than so many times the variance expected is not bad luck but contradiction: by
/// chance three in a million runs have it (χ² of 48 with 12 degrees of freedom). [judgement]
const SCATTER_MAX: f64 = 4.0;

/// Two ranges' gains differ by 0.1 % at most (ADS1115, TI SBAS444E, electrical characteristics): so
/// much is no contradiction.
const GAIN_MATCH: f64 = 1e-3;

/// From all six pairs, each read at all four posts.
///
/// With post 4 as reference ΔV_a = Σ_b Z_ab I_b, a, b = 1 … 3, and R_ij = Z_ii + Z_jj − 2 Z_ij. The
/// equations are linear in the R, too, and stay finite for a short as for a large resistance.
pub(crate) fn among_all(swings: &[Swing; 6]) -> Result<PairResistances, Obstacle> {
    let unsolvable = || Obstacle::new(FindingKind::Unexplained);
    let mut normal = Matrix6::zeros();
    let mut right = Vector6::zeros();
    let mut weighted = Vec::new();
    for swing in swings {
        let [v1, v2, v3, _] = swing.volts;
        let volts = Vector3::new(v1, v2, v3);
        let design = design(swing);
        let weight = covariance_v2(swing, &volts).try_inverse().ok_or_else(unsolvable)?;
        normal += design.transpose() * weight * design;
        right += design.transpose() * weight * volts;
        weighted.push((design, weight, volts));
    }
    let covariance = normal.try_inverse().ok_or_else(unsolvable)?;
    let ohm = covariance * right;
    let chi_squared: f64 = weighted
        .iter()
        .map(|(design, weight, volts)| {
            let rest = volts - design * ohm;
            (rest.transpose() * weight * rest)[0]
        })
        .sum();
    // Scatter beyond the noise expected widens the uncertainty (Birge's ratio).
    let birge = (chi_squared / SURPLUS).max(1.0);
    if !(scatter(&weighted, &ohm) <= SCATTER_MAX) {
        return Err(Obstacle::new(FindingKind::Unsteady).cause(Cause::Contradictory));
    }
    let covariance = covariance * birge;
    Ok(PairResistances {
        posts: Post::ALL.to_vec(),
        pairs: Post::PAIRS.to_vec(),
        ohm: DVector::from_column_slice(ohm.as_slice()),
        covariance_ohm2: DMatrix::from_column_slice(6, 6, covariance.as_slice()),
        common_u: 0.0,
        nothing_between: false,
    })
}

/// What is left over of the voltages, for each equation to spare, where the two ranges that they were
/// read on may differ.
fn scatter(
    equations: &[(SMatrix<f64, 3, 6>, Matrix3<f64>, Vector3<f64>)],
    ohm: &Vector6<f64>,
) -> f64 {
    let chi_squared = equations.iter().map(|(design, weight, volts)| {
        let rest = volts - design * ohm;
        let gain_v = volts * (GAIN_MATCH / 3.0_f64.sqrt());
        let noise = weight.try_inverse()?;
        let weight =
            (noise + Matrix3::from_diagonal(&gain_v.component_mul(&gain_v))).try_inverse()?;
        Some((rest.transpose() * weight * rest)[0])
    });
    chi_squared.sum::<Option<f64>>().map_or(f64::INFINITY, |sum| sum / SURPLUS)
}

/// Each pair of these posts by itself.
pub(super) fn each(swings: &[Swing; 6], posts: &[Post]) -> PairResistances {
    let among = |swing: &&Swing| posts.contains(&swing.posts.0) && posts.contains(&swing.posts.1);
    let used: Vec<&Swing> = swings.iter().filter(among).collect();
    let ohm = used.iter().map(|swing| swing.ohm());
    let variance = used.iter().map(|swing| swing.ohm_variance(relative_variance(swing)));
    PairResistances {
        posts: posts.to_vec(),
        pairs: used.iter().map(|swing| swing.posts).collect(),
        ohm: DVector::from_iterator(used.len(), ohm),
        covariance_ohm2: DMatrix::from_diagonal(&DVector::from_iterator(used.len(), variance)),
        common_u: 0.0,
        nothing_between: false,
    }
}

/// Row a: what each pair resistance adds to ΔV_a, by Z_ab = (R_a4 + R_b4 − R_ab)/2.
fn design(swing: &Swing) -> SMatrix<f64, 3, 6> {
    let mut design = SMatrix::zeros();
    for a in 0..3 {
        for b in 0..3 {
            let half_a = swing.current_a[b] / 2.0;
            design[(a, pair_index(a, 3))] += half_a;
            design[(a, pair_index(b, 3))] += half_a;
            if a != b {
                design[(a, pair_index(a, b))] -= half_a;
            }
        }
    }
    design
}

/// Each voltage has its own noise; the current's noise moves all three in proportion.
fn covariance_v2(swing: &Swing, volts: &Vector3<f64>) -> Matrix3<f64> {
    let [v1, v2, v3, _] = swing.variance_v2;
    let own = Matrix3::from_diagonal(&Vector3::new(v1, v2, v3));
    own + volts * volts.transpose() * relative_variance(swing)
}

fn relative_variance(swing: &Swing) -> f64 {
    swing.current_variance_a2 / swing.through_a().powi(2) + CURRENT_MIN_U.powi(2)
}

/// Where two posts, by index, stand in [`Post::PAIRS`].
fn pair_index(a: usize, b: usize) -> usize {
    match (a.min(b), a.max(b)) {
        (0, b) => b - 1,
        (1, b) => b + 1,
        _ => 5,
    }
}

#[test]
fn pairs_stand_in_the_order_of_the_posts() {
    for (index, (a, b)) in Post::PAIRS.into_iter().enumerate() {
        assert_eq!(pair_index(a.index(), b.index()), index);
        assert_eq!(pair_index(b.index(), a.index()), index);
    }
}
