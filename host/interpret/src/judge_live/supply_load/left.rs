//! The part of a supply that is left under a load: one number for constant and waves together, as a resistance leaves it.

use std::f64::consts::TAU;

use super::super::fit::{Fitted, Sample, dot, row};
use crate::judgement::Measured;
use crate::judgement::budget::coverage;

/// What a supply's own level changes within the half second between the two readings, standard deviation. [judgement]
const DRIFT: f64 = 1e-3;
/// What is left of a form that a resistance makes smaller and leaves as it is. [judgement]
const ALIKE: f64 = 0.99;
/// More than alone nothing is under a load, but for so much. [judgement]
const MORE: f64 = 1.02;

/// What is read under the load, held against the supply alone as its fit goes on to that time: by least squares how much of it is
/// there, though the load or the mains shift its phase a little. None where it is another form, or shifted far.
pub(super) fn left(alone: &Fitted, frequencies: &[f64], under: &[Sample]) -> Option<Measured> {
    let rows: Vec<_> = under.iter().map(|sample| row(sample.seconds, frequencies)).collect();
    let form: Vec<f64> = rows.iter().map(|row| dot(row, &alone.coefficients)).collect();
    let shifts = shifted(&alone.coefficients, frequencies);
    let shift: Vec<f64> = rows.iter().map(|row| dot(row, &shifts)).collect();
    let along = without(&form, &shift);
    let volts: Vec<f64> = under.iter().map(|sample| sample.volts).collect();
    let size = dot(&form, &along);
    let in_phase = dot(&volts, &along) / size;
    let beside = residual(&volts, &form, in_phase);
    let explained = 1.0 - dot(&beside, &beside) / dot(&volts, &volts);
    // Of a form that is shifted less is in phase with it than is left.
    let shifts_square = dot(&shift, &shift);
    let shifted_by = if shifts_square > 0.0 { dot(&beside, &shift) / shifts_square } else { 0.0 };
    let value = in_phase.hypot(shifted_by * (shifts_square / dot(&form, &form)).sqrt());
    let rest = without(&beside, &shift);
    let rest_squares = dot(&rest, &rest);
    let is_alike = explained >= ALIKE * ALIKE && in_phase > 0.0 && value <= MORE;
    if !(is_alike && under.len() > 2) {
        return None;
    }
    let mean_noise = under.iter().map(|one| one.noise_v * one.noise_v).sum::<f64>();
    let mean_noise = mean_noise / under.len() as f64;
    let variance = mean_noise.max(rest_squares / (under.len() - 2) as f64);
    let by_under = variance * dot(&along, &along) / (size * size);
    let parts = (0..alone.coefficients.len()).map(|n| {
        let column = rows.iter().zip(&along).map(|(row, along)| row[n] * along);
        column.sum::<f64>() / size
    });
    let by_alone = value * value * alone.variance_along(&parts.collect::<Vec<_>>());
    let squares = by_under + by_alone + (DRIFT * value).powi(2);
    Some(Measured { value, u: coverage::NORMAL * squares.sqrt() })
}

/// How the parts change with time: of cosine and sine each.
fn shifted(parts: &[f64], frequencies: &[f64]) -> Vec<f64> {
    let each = frequencies.iter().zip(parts[1..].as_chunks::<2>().0);
    let waves = each.flat_map(|(hertz, [cosine, sine])| {
        let turns = TAU * hertz;
        [turns * sine, -turns * cosine]
    });
    std::iter::once(0.0).chain(waves).collect()
}

/// What of the one has nothing of the other in it.
fn without(one: &[f64], other: &[f64]) -> Vec<f64> {
    let size = dot(other, other);
    if size > 0.0 { residual(one, other, dot(one, other) / size) } else { one.to_vec() }
}

fn residual(one: &[f64], other: &[f64], times: f64) -> Vec<f64> {
    one.iter().zip(other).map(|(one, other)| one - times * other).collect()
}

#[cfg(test)]
mod tests {
    use super::super::super::fit::fit;
    use super::*;

    const HERTZ: [f64; 3] = [60.0, 120.0, 180.0];

    fn samples(from_s: f64, count: u32, times: f64, late_s: f64) -> Vec<Sample> {
        let wave = |seconds: f64| {
            let row = row(seconds - late_s, &HERTZ);
            dot(&row, &[0.4, 20.0, -27.0, 1.0, 0.3, -0.7, 1.1])
        };
        let each = (0..count).map(|n| {
            let seconds = from_s + 6.36e-3 * f64::from(n);
            Sample { seconds, volts: times * wave(seconds), noise_v: 6e-3 }
        });
        each.collect()
    }

    #[test]
    fn a_part_is_found_whatever_its_phase() {
        let alone = fit(&samples(0.0, 40, 1.0, 0.0), &HERTZ).expect("enough");
        for times in [0.15, 0.6, 0.97, 1.0] {
            for late_s in [0.0, 2e-5, -5e-5, 3e-4] {
                let left = left(&alone, &HERTZ, &samples(0.5, 32, times, late_s)).expect("alike");
                let off = (left.value - times).abs();
                assert!(off <= 5e-4 * times, "{times} {late_s}: {left:?}");
                assert!((1.9e-3..2.1e-3).contains(&(left.u / times)) || times < 0.5, "{left:?}");
            }
        }
    }

    #[test]
    fn another_form_is_no_part_of_it() {
        let alone = fit(&samples(0.0, 40, 1.0, 0.0), &HERTZ).expect("enough");
        for other in
            [samples(0.5, 32, 1.1, 0.0), samples(0.5, 32, -0.5, 0.0), samples(0.5, 32, 0.0, 0.0)]
        {
            assert_eq!(left(&alone, &HERTZ, &other), None);
        }
        let clipped = |one: Sample| Sample { volts: one.volts.max(-10.0), ..one };
        let clipped: Vec<_> = samples(0.5, 32, 0.9, 0.0).into_iter().map(clipped).collect();
        assert_eq!(left(&alone, &HERTZ, &clipped), None);
        assert_eq!(left(&alone, &HERTZ, &samples(0.5, 2, 0.9, 0.0)), None);
        for late_s in [2e-3, -2e-3, 8e-3] {
            assert_eq!(left(&alone, &HERTZ, &samples(0.5, 32, 0.9, late_s)), None, "{late_s}");
        }
    }
}
