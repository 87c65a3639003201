//! Mains hum, as the live divider saw it.

use std::f64::consts::TAU;

use runproof_protocol::{DIVIDER_FOOT, Phase, Step};

use super::{DIFFERENCES, looks};
use crate::capture::Capture;

const MAINS_HERTZ: [f64; 2] = [50.0, 60.0];

/// Less than this is not told from the divider and its converter. [judgement]
const HUM_MIN_V: f64 = 0.1;

/// A sine of the mains leaves at most this part of what it explains. [judgement]
const LEFT_MAX: f64 = 0.1;

/// A sine at the mains' frequency between two posts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hum {
    pub(crate) rms_v: f64,
    pub(crate) hertz: f64,
}

/// The strongest between any two posts that are read against each other, before any phase.
pub(crate) fn hum(capture: &Capture) -> Option<Hum> {
    let ratio = capture.head.jig.divider_ohm / DIVIDER_FOOT.ohms();
    let phases = [Phase::Open, Phase::Plug].into_iter();
    let each = phases.flat_map(|phase| DIFFERENCES.map(|difference| (phase, difference)));
    let found = each.filter_map(|(phase, difference)| {
        let looks = looks(capture, phase, Step::Live, difference);
        let points: Vec<_> = looks.map(|one| (one.at.0 as f64 * 1e-6, one.volts * ratio)).collect();
        MAINS_HERTZ.into_iter().filter_map(|hertz| sine(&points, hertz)).max_by(weaker)
    });
    found.filter(|hum| hum.rms_v >= HUM_MIN_V).max_by(weaker)
}

fn weaker(a: &Hum, b: &Hum) -> std::cmp::Ordering {
    a.rms_v.total_cmp(&b.rms_v)
}

/// The sine of least squares, beside a constant; none where it leaves too much.
fn sine(points: &[(f64, f64)], hertz: f64) -> Option<Hum> {
    let sines = centred(points.iter().map(|(seconds, _)| (TAU * hertz * seconds).sin()));
    let cosines = centred(points.iter().map(|(seconds, _)| (TAU * hertz * seconds).cos()));
    let volts = centred(points.iter().map(|(_, volts)| *volts));
    let (ss, cc, sc) = (dot(&sines, &sines), dot(&cosines, &cosines), dot(&sines, &cosines));
    let (sv, cv) = (dot(&sines, &volts), dot(&cosines, &volts));
    let determinant = ss * cc - sc * sc;
    let (a, b) = ((sv * cc - cv * sc) / determinant, (cv * ss - sv * sc) / determinant);
    let total = dot(&volts, &volts);
    let left = total - a * sv - b * cv;
    (left <= LEFT_MAX * total).then(|| Hum { rms_v: a.hypot(b) / 2.0_f64.sqrt(), hertz })
}

fn centred(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let values: Vec<f64> = values.collect();
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    values.into_iter().map(|value| value - mean).collect()
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::{centred, dot, sine};
    use crate::published::{self, MICHELSO, MICHELSO_DEVIATION};

    fn points(hertz: f64) -> Vec<(f64, f64)> {
        let times = (0..128).filter(|n| n % 16 < 4).map(|n| f64::from(n) * 1.59e-3);
        times.map(|t| (t, 0.3 + 2.0 * (std::f64::consts::TAU * hertz * t + 0.7).sin())).collect()
    }

    #[test]
    fn the_mains_is_told_from_its_neighbour_and_from_others() {
        let found = sine(&points(60.0), 60.0).expect("a sine");
        assert!((found.rms_v - 2.0_f64.sqrt()).abs() < 1e-9);
        assert_eq!(sine(&points(60.0), 50.0), None);
        assert_eq!(sine(&points(50.0), 60.0), None);
        assert_eq!(sine(&points(85.0), 60.0), None);
    }
    /// NIST StRD, Michelso and NumAcc3: the certified standard deviations. The one of NumAcc3, a tenth
    /// beside a million, cannot come out better than its numbers are held: to 1e-9 of it.
    #[test]
    fn the_certified_deviations_of_nist() {
        let deviation = |values: Vec<f64>| {
            let centred = centred(values.iter().copied());
            (dot(&centred, &centred) / (values.len() as f64 - 1.0)).sqrt()
        };
        let michelso = MICHELSO.map(|beyond| 299.0 + f64::from(beyond) / 100.0);
        assert!((deviation(michelso.into()) / MICHELSO_DEVIATION - 1.0).abs() < 1e-12);
        assert!((deviation(published::num_acc_3()) / 0.1 - 1.0).abs() < 2e-9);
    }
}
