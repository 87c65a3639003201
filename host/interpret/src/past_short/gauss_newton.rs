//! Nonlinear least squares of two quantities that are not negative, by Gauss and Newton's steps.

use nalgebra::{Cholesky, Const, SMatrix, SVector};

/// A fit that has not settled by then is as far as it is needed.
const STEPS: usize = 8;

/// The two with which `at` comes nearest to what was observed, by the covariance whose factor this is.
/// `step` is of each a difference that its slope is taken over.
pub(super) fn fit<const N: usize>(
    at: impl Fn([f64; 2]) -> SVector<f64, N>,
    observed: &SVector<f64, N>,
    factor: &Cholesky<f64, Const<N>>,
    start: [f64; 2],
    step: [f64; 2],
) -> [f64; 2] {
    let mut found = start;
    for _ in 0..STEPS {
        let here = at(found);
        let slope = |n: usize| {
            let mut moved = found;
            moved[n] += step[n];
            (at(moved) - here) / step[n]
        };
        let slopes = SMatrix::<f64, N, 2>::from_columns(&[slope(0), slope(1)]);
        let target = observed - here + slopes * SVector::from(found);
        found = not_negative(&slopes, factor, &target).unwrap_or(found);
    }
    found
}

/// Least squares of two quantities that are not negative: free, or with either or both at nothing.
fn not_negative<const N: usize>(
    slopes: &SMatrix<f64, N, 2>,
    factor: &Cholesky<f64, Const<N>>,
    target: &SVector<f64, N>,
) -> Option<[f64; 2]> {
    let weighted = factor.solve(slopes);
    let normal = slopes.transpose() * weighted;
    let right = weighted.transpose() * target;
    let free: SVector<f64, 2> = normal.try_inverse()? * right;
    if free.iter().all(|ohm| *ohm >= 0.0) {
        return Some(free.into());
    }
    let alone = [0, 1].map(|n| (right[n] / normal[(n, n)]).max(0.0));
    // Of χ², what each alone takes away.
    let gain = |n: usize| alone[n] * right[n];
    Some(if gain(0) >= gain(1) { [alone[0], 0.0] } else { [0.0, alone[1]] })
}

/// NIST StRD, Misra1a, from its second start: the certified parameters, what they leave, and their
/// deviations.
#[test]
fn the_certified_curve_of_nist() {
    use crate::published::{MISRA1A, MISRA1A_CURVE, MISRA1A_DEVIATIONS, MISRA1A_REST};

    let curve = |[b1, b2]: [f64; 2]| {
        SVector::<f64, 14>::from_fn(|n, _| b1 * (1.0 - (-b2 * MISRA1A[n].1).exp()))
    };
    let observed = SVector::<f64, 14>::from_fn(|n, _| MISRA1A[n].0);
    let alike = SMatrix::<f64, 14, 14>::identity().cholesky().expect("positive");
    let step = [1e-4, 1e-10];
    let found = fit(curve, &observed, &alike, [250.0, 0.000_5], step);
    let near = |value: f64, certified: f64, within: f64| {
        assert!((value / certified - 1.0).abs() < within, "{value}, certified {certified}");
    };
    let rest = observed - curve(found);
    near(rest.norm_squared(), MISRA1A_REST, 1e-8);
    let slope = |n: usize| {
        let mut moved = found;
        moved[n] += step[n];
        (curve(moved) - curve(found)) / step[n]
    };
    let slopes = SMatrix::<f64, 14, 2>::from_columns(&[slope(0), slope(1)]);
    let covariance = (slopes.transpose() * slopes).try_inverse().expect("determined");
    for n in 0..2 {
        near(found[n], MISRA1A_CURVE[n], 1e-8);
        let deviation = (covariance[(n, n)] * rest.norm_squared() / 12.0).sqrt();
        near(deviation, MISRA1A_DEVIATIONS[n], 1e-5);
    }
}
