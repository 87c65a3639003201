//! A sine that a diode or a bridge has rectified: the first of its Fourier series, and the rest of it.
//!
//! The series is what a circuit is solved for. The rest is steep and small: a circuit takes it as it takes what
//! is steady.

use std::f64::consts::{FRAC_1_PI, FRAC_PI_2, PI, TAU};

use nalgebra::Complex;

use super::Nanoseconds;
use super::circuit::{Emf, Tone};

/// The series goes so far, in times the sine's frequency.
const TIMES_MAX: u32 = 32;

/// A rectified sine of 1 V peak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rectified {
    /// By a bridge; else by one diode.
    pub(super) bridge: bool,
    pub(super) hertz: f64,
    /// In radians, of a sine that begins as the jig starts.
    pub(super) ahead: f64,
}

impl Rectified {
    /// |sin θ| = 2/π − 4/π · Σ cos kθ / (k² − 1), k = 2, 4, 6 …; sin θ where it is positive is half of that
    /// and of sin θ (textbook, from memory).
    pub(super) fn series(&self) -> Emf {
        let Self { bridge, hertz, ahead } = *self;
        let share = if bridge { 1.0 } else { 0.5 };
        let mut emf = Emf::steady(2.0 * FRAC_1_PI * share);
        if !bridge {
            emf.tones.push(Tone { hertz, phasor: Complex::from_polar(share, ahead) });
        }
        for times in (2..=TIMES_MAX).step_by(2).map(f64::from) {
            let volts = -4.0 * FRAC_1_PI * share / (times * times - 1.0);
            // A cosine is a sine a quarter of a turn ahead.
            let phasor = Complex::from_polar(volts, times * ahead + FRAC_PI_2);
            emf.tones.push(Tone { hertz: times * hertz, phasor });
        }
        emf
    }

    /// What is not in the series, at a time.
    pub(super) fn rest(&self, seconds: f64) -> f64 {
        let sine = (TAU * self.hertz * seconds + self.ahead).sin();
        let rectified = if self.bridge { sine.abs() } else { sine.max(0.0) };
        rectified - self.series().at(seconds, |hertz| TAU * hertz * seconds)
    }

    /// The integral of the rest over time, in nanoseconds.
    pub(super) fn rest_area(&self, from: Nanoseconds, to: Nanoseconds) -> f64 {
        let per_nano = TAU * self.hertz * 1e-9;
        let until = |nanos: Nanoseconds| self.until(per_nano * nanos as f64 + self.ahead);
        (until(to) - until(from)) / per_nano - self.series().area(from, to)
    }

    /// The integral over the angle from 0 on: each half of a sine has 2.
    fn until(&self, angle: f64) -> f64 {
        let each = if self.bridge { PI } else { TAU };
        let whole = (angle / each).floor();
        let part = (angle - whole * each).min(PI);
        2.0 * whole + 1.0 - part.cos()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOTH: [bool; 2] = [false, true];

    fn of(bridge: bool, ahead: f64) -> Rectified {
        Rectified { bridge, hertz: 60.0, ahead }
    }

    /// Textbook, from memory: of peak V, half of a sine has the mean V/π and rms V/2, a whole one 2V/π and V/√2.
    #[test]
    fn means_are_the_textbooks() {
        for (bridge, mean, square) in [(false, FRAC_1_PI, 0.25), (true, 2.0 * FRAC_1_PI, 0.5)] {
            let emf = of(bridge, 0.0).series();
            assert!((emf.direct - mean).abs() < 1e-12, "{}", emf.direct);
            let alternating: f64 = emf.tones.iter().map(|one| one.phasor.norm_sqr() / 2.0).sum();
            let off = (mean * mean + alternating) / square - 1.0;
            assert!(off.abs() < 3e-5, "{off}");
        }
    }

    /// Textbook, from memory: the second harmonic of a bridge has 4/3π, the fourth 4/15π; of one diode the first
    /// has 1/2, the second 2/3π.
    #[test]
    fn coefficients_are_the_textbooks() {
        let volts = |bridge: bool, hertz: f64| of(bridge, 0.0).series().phasor(hertz).norm();
        for (found, expected) in [
            (volts(true, 60.0), 0.0),
            (volts(true, 120.0), 4.0 / (3.0 * PI)),
            (volts(true, 240.0), 4.0 / (15.0 * PI)),
            (volts(false, 60.0), 0.5),
            (volts(false, 120.0), 2.0 / (3.0 * PI)),
            (volts(false, 180.0), 0.0),
        ] {
            assert!((found - expected).abs() < 1e-12, "{found}, not {expected}");
        }
    }

    /// Series and rest against the sine itself, rectified: at any time, and over spans as long as a conversion
    /// by the midpoints of 20,000 steps.
    #[test]
    fn series_and_rest_are_the_rectified_sine() {
        const SPAN: u64 = 1_162_000;
        for (bridge, ahead) in BOTH.into_iter().flat_map(|one| [(one, 0.0_f64), (one, -2.1)]) {
            let (it, series) = (of(bridge, ahead), of(bridge, ahead).series());
            let rectified = |seconds: f64| {
                let sine = (TAU * 60.0 * seconds + ahead).sin();
                if bridge { sine.abs() } else { sine.max(0.0) }
            };
            for n in 0..60 {
                let from = 5_000_000 + n * 1_590_000;
                let seconds = from as f64 * 1e-9;
                let found = series.at(seconds, |hertz| TAU * hertz * seconds) + it.rest(seconds);
                assert!((found - rectified(seconds)).abs() < 1e-9, "{n}: {found}");
                let at = |k: u32| seconds + (f64::from(k) + 0.5) * SPAN as f64 * 1e-9 / 2e4;
                let expected = (0..20_000).map(|k| rectified(at(k))).sum::<f64>() / 2e4;
                let area = series.area(from, from + SPAN) + it.rest_area(from, from + SPAN);
                let found = area / SPAN as f64;
                assert!((found - expected).abs() < 1e-8, "{n}: {found}, not {expected}");
            }
        }
    }

    /// So little is left to be taken as if it were steady.
    #[test]
    fn the_rest_is_small() {
        for bridge in BOTH {
            let largest = (0..1_000).map(|n| of(bridge, 0.0).rest(f64::from(n) / 6e4).abs());
            assert!(largest.fold(0.0, f64::max) < 0.02);
        }
    }
}
