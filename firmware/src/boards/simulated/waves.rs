//! What a source gives over time.

use std::f64::consts::SQRT_2;

use nalgebra::Complex;

use super::circuit::{Course, Emf, Tone};
use super::rectified::Rectified;
use super::scene::{Shape, Source};

impl Source {
    /// All that it gives, added up.
    pub(super) fn emf(&self) -> Emf {
        let (peak, hertz) = (self.volts_rms * SQRT_2, self.hertz);
        let ahead = self.phase_degrees.to_radians();
        let mut emf = match self.shape {
            Shape::Sine => sine(hertz, peak, ahead),
            Shape::HalfWave => rectified(peak, Rectified { bridge: false, hertz, ahead }),
            Shape::FullWave => rectified(peak, Rectified { bridge: true, hertz, ahead }),
        };
        for one in &self.harmonic {
            let (peak, ahead) = (one.volts_rms * SQRT_2, one.phase_degrees.to_radians());
            for tone in sine(f64::from(one.times) * hertz, peak, ahead).tones {
                match emf.tones.iter_mut().find(|known| known.hertz == tone.hertz) {
                    Some(known) => known.phasor += tone.phasor,
                    None => emf.tones.push(tone),
                }
            }
        }
        emf.direct += self.direct_v;
        emf.courses.extend(self.traffic.map(|traffic| (Course::Traffic(traffic), traffic.volts)));
        emf
    }
}

fn sine(hertz: f64, peak: f64, ahead: f64) -> Emf {
    let mut emf = Emf::steady(0.0);
    emf.tones.push(Tone { hertz, phasor: Complex::from_polar(peak, ahead) });
    emf
}

fn rectified(peak: f64, rectified: Rectified) -> Emf {
    let mut emf = rectified.series();
    emf.courses.push((Course::RestOf(rectified), 1.0));
    emf.times(peak)
}

#[cfg(test)]
mod tests {
    use std::vec;

    use super::super::scene::{Harmonic, Through};
    use super::*;

    #[test]
    fn harmonics_stand_beside_their_sine() {
        let harmonic = vec![
            Harmonic { times: 3, volts_rms: 2.0, phase_degrees: 90.0 },
            Harmonic { times: 1, volts_rms: 1.0, phase_degrees: 0.0 },
        ];
        let sine = Source::alternating([4, 3], 24.0, 50.0, Through::Ohm(1.0));
        let emf = Source { harmonic, direct_v: -0.5, ..sine }.emf();
        assert_eq!(emf.direct, -0.5);
        assert_eq!(emf.tones.len(), 2);
        assert!((emf.phasor(50.0) - Complex::new(25.0 * SQRT_2, 0.0)).norm() < 1e-12);
        assert!((emf.phasor(150.0) - Complex::new(0.0, 2.0 * SQRT_2)).norm() < 1e-12);
    }

    #[test]
    fn what_is_rectified_has_its_peak() {
        let sine = Source::alternating([4, 3], 24.0, 60.0, Through::Ohm(1.0));
        for shape in [Shape::HalfWave, Shape::FullWave] {
            let emf = Source { shape, phase_degrees: 90.0, ..sine.clone() }.emf();
            let at_start = emf.at(0.0, |_| 0.0);
            assert!((at_start - 24.0 * SQRT_2).abs() < 1e-9, "{shape:?}: {at_start}");
        }
    }
}
