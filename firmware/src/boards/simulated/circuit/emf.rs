//! A voltage over time: steady, alternating at some frequencies, and as other things go.

use std::f64::consts::TAU;
use std::vec::Vec;

use nalgebra::Complex;

use super::super::Nanoseconds;
use super::super::rectified::Rectified;
use super::super::traffic::Traffic;

/// A voltage.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in super::super) struct Emf {
    /// Steady volts.
    pub(in super::super) direct: f64,
    /// Each frequency once.
    pub(in super::super) tones: Vec<Tone>,
    /// So many volts while each is 1.
    pub(in super::super) courses: Vec<(Course, f64)>,
}

/// What goes over time in its own way, and is answered by resistances alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in super::super) enum Course {
    /// Data.
    Traffic(Traffic),
    /// What a rectified sine has beside its series.
    RestOf(Rectified),
}

impl Course {
    fn level(&self, seconds: f64) -> f64 {
        match self {
            Self::Traffic(traffic) => traffic.level(seconds),
            Self::RestOf(rectified) => rectified.rest(seconds),
        }
    }

    fn area(&self, from: Nanoseconds, to: Nanoseconds) -> f64 {
        match self {
            Self::Traffic(traffic) => traffic.area(from as f64 * 1e-9, to as f64 * 1e-9) * 1e9,
            Self::RestOf(rectified) => rectified.rest_area(from, to),
        }
    }
}

/// What alternates at one frequency: re·sin ωt + im·cos ωt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in super::super) struct Tone {
    pub(in super::super) hertz: f64,
    /// Peak volts.
    pub(in super::super) phasor: Complex<f64>,
}

impl Tone {
    fn area(self, from: Nanoseconds, to: Nanoseconds) -> f64 {
        let Self { hertz, phasor: Complex { re, im } } = self;
        if re == 0.0 && im == 0.0 {
            return 0.0;
        }
        let per_nano = TAU * hertz * 1e-9;
        let (from_sin, from_cos) = (per_nano * from as f64).sin_cos();
        let (to_sin, to_cos) = (per_nano * to as f64).sin_cos();
        (re * (from_cos - to_cos) + im * (to_sin - from_sin)) / per_nano
    }
}

impl Emf {
    /// So many steady volts.
    pub(in super::super) const fn steady(volts: f64) -> Self {
        Self { direct: volts, tones: Vec::new(), courses: Vec::new() }
    }

    /// Its phasor at a frequency.
    pub(in super::super) fn phasor(&self, hertz: f64) -> Complex<f64> {
        let tone = self.tones.iter().find(|tone| tone.hertz == hertz);
        tone.map_or(Complex::default(), |tone| tone.phasor)
    }

    /// Its part that goes as this does.
    pub(in super::super) fn in_step_with(&self, course: &Course) -> f64 {
        self.courses.iter().find(|one| one.0 == *course).map_or(0.0, |one| one.1)
    }

    /// So many times of it.
    pub(in super::super) fn times(mut self, factor: f64) -> Self {
        self.direct *= factor;
        self.tones.iter_mut().for_each(|tone| tone.phasor *= Complex::from(factor));
        self.courses.iter_mut().for_each(|one| one.1 *= factor);
        self
    }

    /// At a time. `radians` is ωt of a frequency.
    pub(in super::super) fn at(&self, seconds: f64, radians: impl Fn(f64) -> f64) -> f64 {
        let alternating = self.tones.iter().fold(self.direct, |volts, tone| {
            let (sin, cos) = radians(tone.hertz).sin_cos();
            volts + tone.phasor.re * sin + tone.phasor.im * cos
        });
        self.courses
            .iter()
            .fold(alternating, |volts, (course, one)| volts + one * course.level(seconds))
    }

    /// Its integral over time, in volts times nanoseconds.
    pub(in super::super) fn area(&self, from: Nanoseconds, to: Nanoseconds) -> f64 {
        let steady = self.direct * (to - from) as f64;
        let alternating = self.tones.iter().fold(steady, |area, tone| area + tone.area(from, to));
        self.courses
            .iter()
            .fold(alternating, |area, (course, one)| area + one * course.area(from, to))
    }

    /// Between these it stays, whatever the time.
    pub(in super::super) fn bounds(&self) -> [f64; 2] {
        let tones: f64 = self.tones.iter().map(|tone| tone.phasor.norm()).sum();
        let courses: f64 = self.courses.iter().map(|one| one.1.abs()).sum();
        [self.direct - tones - courses, self.direct + tones + courses]
    }
}

/// Of one circuit: the same frequencies and courses in the same order, or none.
impl core::ops::Sub for Emf {
    type Output = Self;

    fn sub(mut self, other: Self) -> Self {
        if self.tones.is_empty() && self.courses.is_empty() {
            let direct = self.direct - other.direct;
            return Self { direct, ..other.times(-1.0) };
        }
        self.direct -= other.direct;
        for (tone, other) in self.tones.iter_mut().zip(&other.tones) {
            tone.phasor -= other.phasor;
        }
        for (one, other) in self.courses.iter_mut().zip(&other.courses) {
            one.1 -= other.1;
        }
        self
    }
}
