//! Generalised least squares: y = X b + e, with the covariance of e.

use nalgebra::{DMatrix, DVector};

/// What was fitted.
#[derive(Clone, Debug)]
pub(super) struct Fit {
    /// b.
    pub(super) estimate: DVector<f64>,
    /// b = gain · y: carries any covariance of y over to b (JCGM 100:2008, 5.2.2, as matrices).
    pub(super) gain: DMatrix<f64>,
    /// V⁻¹ (y − X b).
    pub(super) weighted_rest: DVector<f64>,
    /// (y − X b)ᵀ V⁻¹ (y − X b).
    pub(super) chi_squared: f64,
}

/// The least of χ²; `None` if the design or the covariance does not determine it.
pub(super) fn fit(
    design: &DMatrix<f64>,
    covariance: &DMatrix<f64>,
    observed: &DVector<f64>,
) -> Option<Fit> {
    let factor = covariance.clone().cholesky()?;
    let weighted_design = factor.solve(design);
    let normal = (design.transpose() * &weighted_design).cholesky()?;
    let gain = normal.solve(&weighted_design.transpose());
    let estimate = &gain * observed;
    let rest = observed - design * &estimate;
    let weighted_rest = factor.solve(&rest);
    let chi_squared = rest.dot(&weighted_rest);
    chi_squared.is_finite().then_some(Fit { estimate, gain, weighted_rest, chi_squared })
}

/// NIST StRD, Norris: the certified line, its deviations, and what it leaves. The same line comes from
/// points of unlike weight, and from points that were mixed with each other, by their covariance.
#[test]
fn the_certified_line_of_nist() {
    use crate::published::{NORRIS, NORRIS_DEVIATIONS, NORRIS_LINE, NORRIS_REST};

    let design =
        DMatrix::from_fn(36, 2, |row, column| if column == 0 { 1.0 } else { NORRIS[row].1 });
    let observed = DVector::from_fn(36, |row, _| NORRIS[row].0);
    let unlike = DMatrix::from_diagonal(&DVector::from_fn(36, |n, _| 0.1 + 0.3 * n as f64));
    let mixed = DMatrix::from_fn(36, 36, |row, column| match row.checked_sub(column) {
        None => 0.0,
        Some(0) => 1.0 + 0.05 * row as f64,
        Some(below) => 0.3 / below as f64,
    });
    for mixing in [DMatrix::identity(36, 36), unlike, mixed] {
        let covariance = &mixing * mixing.transpose();
        let found = fit(&(&mixing * &design), &covariance, &(&mixing * &observed));
        let found = found.expect("determined");
        let of_line = &found.gain * &covariance * found.gain.transpose() * (NORRIS_REST / 34.0);
        let near = |value: f64, certified: f64| {
            assert!((value / certified - 1.0).abs() < 1e-9, "{value}, certified {certified}");
        };
        near(found.chi_squared, NORRIS_REST);
        for k in 0..2 {
            near(found.estimate[k], NORRIS_LINE[k]);
            near(of_line[(k, k)].sqrt(), NORRIS_DEVIATIONS[k]);
        }
    }
}

/// JCGM 100:2008, H.3: the calibration of a thermometer, a straight line through eleven points.
#[test]
fn the_gum_example_of_a_straight_line() {
    let t: Vec<f64> = vec![
        21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511,
    ];
    let b =
        [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
    let design =
        DMatrix::from_fn(11, 2, |row, column| if column == 0 { 1.0 } else { t[row] - 20.0 });
    let observed = DVector::from_row_slice(&b);
    let plain = fit(&design, &DMatrix::identity(11, 11), &observed).expect("determined");
    let variance = plain.chi_squared / 9.0;
    let near = |value: f64, expected: f64| assert!((value - expected).abs() < 1e-7, "{value}");
    near(plain.estimate[0], -0.171_203_79);
    near(plain.estimate[1], 0.002_182_70);
    let covariance = &plain.gain * plain.gain.transpose() * variance;
    near(covariance[(0, 0)].sqrt(), 0.002_877_6);
    near(covariance[(1, 1)].sqrt(), 0.000_667_94);
    near(variance.sqrt(), 0.003_497_56);
}
