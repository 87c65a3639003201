//! A tune as samples: the notes that the jig's sounder plays, without clicks.

use std::f64::consts::TAU;
use std::time::Duration;

use runproof_firmware::signs::note;
use runproof_protocol::{Lamp, Tune};

pub(super) const RATE_HERTZ: u32 = 48_000;

/// So much is made at a time: a tune changes no sooner.
pub(super) const CHUNK: Duration = Duration::from_millis(10);

const CHUNK_SAMPLES: usize = RATE_HERTZ as usize / 100;
const STEP_SAMPLES: usize = (RATE_HERTZ as u64 * Lamp::STEP_MICROS / 1_000_000) as usize;

/// Of full scale: a sine sounds louder than music. (judgement)
const LOUD: f64 = 0.3;

/// From silent to loud in 2 ms; sooner it would click.
const RAMP: f64 = LOUD / (RATE_HERTZ as f64 * 0.002);

/// Where a tune is.
#[derive(Default)]
pub(super) struct Samples {
    tune: Tune,
    /// Since it began.
    played: usize,
    /// Of a turn.
    turned: f64,
    hertz: f64,
    loud: f64,
}

impl Samples {
    /// The next 10 ms of it, as 16 bits, little-endian; another tune begins at its beginning.
    pub(super) fn next(&mut self, tune: Tune) -> Vec<u8> {
        if self.tune != tune {
            (self.tune, self.played) = (tune, 0);
        }
        (0..CHUNK_SAMPLES).flat_map(|_| self.sample().to_le_bytes()).collect()
    }

    fn sample(&mut self) -> i16 {
        let note = note(self.tune, self.played / STEP_SAMPLES);
        self.played += 1;
        self.hertz = note.map_or(self.hertz, f64::from);
        let wanted = if note.is_some() { LOUD } else { 0.0 };
        self.loud += (wanted - self.loud).clamp(-RAMP, RAMP);
        self.turned = (self.turned + self.hertz / f64::from(RATE_HERTZ)).fract();
        ((self.turned * TAU).sin() * self.loud * f64::from(i16::MAX)) as i16
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is heard of these, 10 ms each.
    fn heard(tunes: impl Iterator<Item = Tune>) -> Vec<i16> {
        let mut samples = Samples::default();
        let bytes: Vec<u8> = tunes.flat_map(|tune| samples.next(tune)).collect();
        bytes.chunks(2).map(|two| i16::from_le_bytes([two[0], two[1]])).collect()
    }

    /// Upward crossings of zero in each step of a tune, as many as there are turns in 100 ms.
    fn crossings(tune: Tune, steps: usize) -> Vec<usize> {
        let heard = heard(std::iter::repeat_n(tune, steps * 10));
        let rises = |step: &[i16]| step.windows(2).filter(|two| two[0] < 0 && two[1] >= 0).count();
        heard.chunks(STEP_SAMPLES).map(rises).collect()
    }

    fn near(found: usize, hertz: usize) -> bool {
        found.abs_diff(hertz / 10) <= 1
    }

    #[test]
    fn each_tune_has_its_heights() {
        assert!(crossings(Tune::Silent, 20).iter().all(|found| *found == 0));
        assert!(crossings(Tune::Broke, 20).iter().all(|found| near(*found, 2_500)));
        let rough = crossings(Tune::Touched, 20);
        assert!(rough.iter().step_by(2).all(|found| near(*found, 250)), "{rough:?}");
        assert!(rough.iter().skip(1).step_by(2).all(|found| near(*found, 350)), "{rough:?}");
        let ticks = crossings(Tune::Carries, 33);
        for (step, found) in ticks.iter().enumerate() {
            // The last 2 ms of a tick fade into the step behind it.
            let loud = if step % 16 == 0 { near(*found, 1_200) } else { *found <= 3 };
            assert!(loud, "{step}: {ticks:?}");
        }
    }

    /// No step from one sample to the next that is larger than the tone itself makes.
    #[test]
    fn nothing_clicks() {
        let tunes = [Tune::Carries, Tune::Broke, Tune::Touched, Tune::Broke, Tune::Silent];
        let heard = heard(tunes.into_iter().flat_map(|tune| [tune; 7]));
        let steepest = TAU * 2_500.0 / f64::from(RATE_HERTZ) * LOUD + RAMP;
        let largest = heard.windows(2).map(|two| (i32::from(two[1]) - i32::from(two[0])).abs());
        let largest = largest.max().expect("samples");
        assert!(f64::from(largest) <= steepest * f64::from(i16::MAX) + 1.0, "{largest}");
    }
}
