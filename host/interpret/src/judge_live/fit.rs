//! A constant and waves of given frequencies, fitted to readings by least squares (IEEE Std 1057: the three-parameter
//! fit; with the frequency searched for, the four-parameter one).

use std::f64::consts::{PI, TAU};

use nalgebra::{DMatrix, DVector};

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
    /// Sum of squares that is left, in units of the converter's noise.
    pub(crate) chi_squared: f64,
    /// Readings less coefficients.
    pub(crate) free: usize,
    /// What is left, rms.
    pub(crate) left_v: f64,
}

/// What a conversion leaves of a wave: it averages (normalised sinc).
pub(crate) fn left_by_aperture(hertz: f64) -> f64 {
    let x = PI * hertz * CONVERSION_S;
    if x.abs() < 1e-9 { 1.0 } else { x.sin() / x }
}

/// The fit of least squares; none where there are too few readings for it.
pub(crate) fn fit(samples: &[Sample], frequencies: &[f64]) -> Option<Fitted> {
    let columns = 1 + 2 * frequencies.len();
    let free = samples.len().checked_sub(columns).filter(|free| *free >= 2)?;
    let mut normal = DMatrix::<f64>::zeros(columns, columns);
    let mut right = DVector::<f64>::zeros(columns);
    let rows = DMatrix::from_row_iterator(
        samples.len(),
        columns,
        samples.iter().flat_map(|sample| row(sample.seconds, frequencies)),
    );
    let weights: Vec<f64> = samples.iter().map(|sample| sample.noise_v.powi(-2)).collect();
    for (n, sample) in samples.iter().enumerate() {
        for p in 0..columns {
            let weighted = weights[n] * rows[(n, p)];
            right[p] += weighted * sample.volts;
            for q in 0..=p {
                normal[(p, q)] += weighted * rows[(n, q)];
            }
        }
    }
    for p in 0..columns {
        normal[(p, p)] *= 1.0 + RIDGE;
        for q in 0..p {
            normal[(q, p)] = normal[(p, q)];
        }
    }
    let factors = normal.cholesky()?;
    let mut coefficients = factors.solve(&right);
    let mut left = residuals(samples, &rows, &coefficients);
    // Once more on what is left: takes the ridge's and the rounding's share back.
    let again: Vec<f64> = left.iter().zip(&weights).map(|(left, weight)| left * weight).collect();
    coefficients += factors.solve(&(rows.transpose() * DVector::from_vec(again)));
    left = residuals(samples, &rows, &coefficients);
    let chi_squared = left.iter().zip(&weights).map(|(left, weight)| left * left * weight).sum();
    let scale = f64::max(chi_squared / free as f64, 1.0);
    let left_v = (left.iter().map(|left| left * left).sum::<f64>() / free as f64).sqrt();
    let covariance = factors.inverse() * scale;
    let fitted = Fitted {
        coefficients: coefficients.iter().copied().collect(),
        covariance,
        chi_squared,
        free,
        left_v,
    };
    fitted.coefficients.iter().all(|value| value.is_finite()).then_some(fitted)
}

/// Keeps a fit from failing where two waves look alike at the times that were sampled; refined away where not.
const RIDGE: f64 = 1e-9;

fn row(seconds: f64, frequencies: &[f64]) -> Vec<f64> {
    let mut row = vec![1.0];
    for hertz in frequencies {
        let (sine, cosine) = (TAU * hertz * seconds).sin_cos();
        let left = left_by_aperture(*hertz);
        row.extend([left * cosine, left * sine]);
    }
    row
}

fn residuals(samples: &[Sample], rows: &DMatrix<f64>, coefficients: &DVector<f64>) -> Vec<f64> {
    let explained = rows * coefficients;
    samples.iter().zip(explained.iter()).map(|(sample, found)| sample.volts - found).collect()
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
