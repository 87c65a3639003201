//! A constant and waves of given frequencies, fitted to readings by least squares (IEEE Std 1057: the three-parameter
//! fit; with the frequency searched for, the four-parameter one).

use std::f64::consts::{PI, TAU};

use nalgebra::{Cholesky, DMatrix, DVector};

use super::look::CONVERSION_S;

/// One reading, at the posts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Sample {
    /// The middle of its conversion.
    pub(crate) seconds: f64,
    pub(crate) volts: f64,
    /// Its standard deviation, as far as the converter makes it.
    pub(crate) noise_v: f64,
}

/// What explains readings: a constant, then cosine and sine of each frequency.
#[derive(Clone, Debug)]
pub(crate) struct Fitted {
    pub(crate) coefficients: Vec<f64>,
    /// Of these.
    pub(crate) covariance: DMatrix<f64>,
    /// Readings less coefficients.
    pub(crate) free: usize,
    /// What is left, rms.
    pub(crate) left_v: f64,
}

impl Fitted {
    /// Variance of what changes by `along` with the coefficients.
    pub(crate) fn variance_along(&self, along: &[f64]) -> f64 {
        let each = along.iter().enumerate().flat_map(|(p, a)| {
            along.iter().enumerate().map(move |(q, b)| a * b * self.covariance[(p, q)])
        });
        each.sum::<f64>().max(0.0)
    }
}

/// What a conversion leaves of a wave: it averages (normalised sinc).
pub(crate) fn left_by_aperture(hertz: f64) -> f64 {
    let x = PI * hertz * CONVERSION_S;
    if x.abs() < 1e-9 { 1.0 } else { x.sin() / x }
}

/// Constant, and two for each of so many waves at most.
const COLUMNS_MAX: usize = 17;

/// The equations of least squares for a constant and these waves.
struct Normal {
    columns: usize,
    matrix: [[f64; COLUMNS_MAX]; COLUMNS_MAX],
    right: [f64; COLUMNS_MAX],
    /// Weighted sum of the squares of what is to be explained.
    all: f64,
}

impl Normal {
    fn of(samples: &[Sample], frequencies: &[f64], volts: impl Fn(usize) -> f64) -> Self {
        let columns = 1 + 2 * frequencies.len();
        let (matrix, right) = ([[0.0; COLUMNS_MAX]; COLUMNS_MAX], [0.0; COLUMNS_MAX]);
        let mut normal = Self { columns, matrix, right, all: 0.0 };
        for (n, sample) in samples.iter().enumerate() {
            let row = row(sample.seconds, frequencies);
            let (volts, weight) = (volts(n), sample.noise_v.powi(-2));
            normal.all += weight * volts * volts;
            for p in 0..columns {
                let weighted = weight * row[p];
                normal.right[p] += weighted * volts;
                for (sum, other) in normal.matrix[p][..=p].iter_mut().zip(&row) {
                    *sum += weighted * other;
                }
            }
        }
        for p in 0..columns {
            normal.matrix[p][p] *= 1.0 + RIDGE;
        }
        normal
    }

    /// The lower factor of Cholesky; none where the waves are not told from each other.
    fn factor(&self) -> Option<[[f64; COLUMNS_MAX]; COLUMNS_MAX]> {
        let mut lower = [[0.0; COLUMNS_MAX]; COLUMNS_MAX];
        for p in 0..self.columns {
            for q in 0..=p {
                let known: f64 = (0..q).map(|n| lower[p][n] * lower[q][n]).sum();
                let rest = self.matrix[p][q] - known;
                lower[p][q] = match p == q {
                    true if rest > 0.0 => rest.sqrt(),
                    true => return None,
                    false => rest / lower[q][q],
                };
            }
        }
        Some(lower)
    }
}

/// χ² of the best fit and what is free for it: quicker than the fit, for searches.
pub(crate) fn least_chi_squared(samples: &[Sample], frequencies: &[f64]) -> Option<(f64, usize)> {
    let free = free(samples, frequencies)?;
    let normal = Normal::of(samples, frequencies, |n| samples[n].volts);
    let lower = normal.factor()?;
    // What the fit explains is the square of the right side, seen through the factor.
    let mut seen = [0.0; COLUMNS_MAX];
    let mut left = normal.all;
    for p in 0..normal.columns {
        let known: f64 = (0..p).map(|n| lower[p][n] * seen[n]).sum();
        seen[p] = (normal.right[p] - known) / lower[p][p];
        left -= seen[p] * seen[p];
    }
    Some((left.max(0.0), free)).filter(|(left, _)| left.is_finite())
}

fn free(samples: &[Sample], frequencies: &[f64]) -> Option<usize> {
    let columns = Some(1 + 2 * frequencies.len()).filter(|count| *count <= COLUMNS_MAX)?;
    samples.len().checked_sub(columns).filter(|free| *free >= 2)
}

/// The fit of least squares; none where there are too few readings for it.
pub(crate) fn fit(samples: &[Sample], frequencies: &[f64]) -> Option<Fitted> {
    let free = free(samples, frequencies)?;
    let normal = Normal::of(samples, frequencies, |n| samples[n].volts);
    let columns = normal.columns;
    let lower = normal.factor()?;
    let lower = DMatrix::from_fn(columns, columns, |p, q| lower[p][q]);
    let factors = Cholesky::pack_dirty(lower);
    let solve = |normal: &Normal| factors.solve(&DVector::from_row_slice(&normal.right[..columns]));
    let mut coefficients = solve(&normal);
    let mut left = residuals(samples, frequencies, &coefficients);
    // Once more on what is left: takes the ridge's and the rounding's share back.
    coefficients += solve(&Normal::of(samples, frequencies, |n| left[n]));
    left = residuals(samples, frequencies, &coefficients);
    let weigh = |(left, sample): (&f64, &Sample)| (left / sample.noise_v).powi(2);
    let chi_squared: f64 = left.iter().zip(samples).map(weigh).sum();
    let scale = f64::max(chi_squared / free as f64, 1.0);
    let left_v = (left.iter().map(|left| left * left).sum::<f64>() / free as f64).sqrt();
    let covariance = factors.inverse() * scale;
    let coefficients: Vec<f64> = coefficients.iter().copied().collect();
    let known = coefficients.iter().all(|value| value.is_finite());
    known.then_some(Fitted { coefficients, covariance, free, left_v })
}

/// Keeps a fit from failing where two waves look alike at the times that were sampled; refined away where not.
const RIDGE: f64 = 1e-9;

pub(crate) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

pub(crate) fn row(seconds: f64, frequencies: &[f64]) -> [f64; COLUMNS_MAX] {
    let mut row = [0.0; COLUMNS_MAX];
    row[0] = 1.0;
    for (n, hertz) in frequencies.iter().enumerate() {
        let (sine, cosine) = (TAU * hertz * seconds).sin_cos();
        let left = left_by_aperture(*hertz);
        (row[1 + 2 * n], row[2 + 2 * n]) = (left * cosine, left * sine);
    }
    row
}

fn residuals(samples: &[Sample], frequencies: &[f64], coefficients: &DVector<f64>) -> Vec<f64> {
    let each = samples.iter().map(|sample| {
        let row = row(sample.seconds, frequencies);
        sample.volts - dot(&row, coefficients.as_slice())
    });
    each.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: f64, expected: f64, within: f64) {
        assert!((found - expected).abs() <= within, "{found}, expected {expected}");
    }

    /// A wave whose averages over a conversion are taken exactly: the fit gives back its true amplitude.
    #[test]
    fn the_aperture_is_taken_off() {
        let mean = |from: f64, hertz: f64| {
            let to = from + CONVERSION_S;
            ((TAU * hertz * from).cos() - (TAU * hertz * to).cos()) / (TAU * hertz * CONVERSION_S)
        };
        let samples: Vec<Sample> = (0..40)
            .map(|n| {
                let from = f64::from(n) * 6.4e-3;
                let volts = 1.5 + 34.0 * mean(from, 60.0);
                Sample { seconds: from + CONVERSION_S / 2.0, volts, noise_v: 5e-3 }
            })
            .collect();
        let found = fit(&samples, &[60.0]).expect("enough");
        near(found.coefficients[0], 1.5, 1e-10);
        near(found.coefficients[1].hypot(found.coefficients[2]), 34.0, 1e-10);
        assert!(found.left_v < 1e-10);
    }

    #[test]
    fn too_few_readings_explain_nothing() {
        let sample = Sample { seconds: 0.0, volts: 1.0, noise_v: 1e-3 };
        assert!(fit(&[sample; 4], &[60.0]).is_none());
        assert!(fit(&[], &[]).is_none());
    }
}
