//! A source beside the supply: of another frequency, or out of step with it.

use runproof_protocol::Post;

use super::super::places;
use super::super::supply::COUPLED;
use super::super::window::{Window, rms};
use super::Held;
use crate::judgement::{LiveFinding, LiveFindingKind as Kind, LiveUnit};
use crate::limits::Severity;

/// A second source's wave, rms. [judgement]
const SECOND_V: f64 = 1.0;
/// A wave that is turned so much against the supply's is another source's: its sine. [judgement]
const TURNED: f64 = 0.25;

impl Held<'_> {
    /// Of another frequency, on whatever conductor; what couples in only is a remark.
    pub(super) fn second_source(&self, found: &mut Vec<LiveFinding>) {
        let (Some(hertz), Some(against)) =
            (self.seen.waves.second_hertz, places::against(self.sheet))
        else {
            return;
        };
        let wave = |window: &Window, post: Post| {
            let n = window.frequencies.len().checked_sub(1)?;
            Some(rms(&window.wave((post, against), n)?))
        };
        let alone = |post: Post| wave(&self.seen.alone, post).unwrap_or(0.0);
        let loaded = |post: Post| wave(&self.seen.loaded, post).unwrap_or(f64::INFINITY);
        let on = self.sheet.conductors.iter().filter(|one| alone(one.post) > SECOND_V);
        let on: Vec<_> = on.collect();
        let stays = on.iter().any(|one| loaded(one.post) > COUPLED * alone(one.post));
        let severity = if stays { Severity::Fail } else { Severity::Note };
        let mut finding = LiveFinding::new(Kind::SecondSource, severity);
        finding.conductors = on.iter().map(|one| one.name).collect();
        finding.posts = on.iter().map(|one| one.post).collect();
        finding.value = Some(hertz);
        finding.unit = Some(LiveUnit::Hertz);
        found.push(finding);
    }

    /// Its wave is turned against the supply's: no wire from the supply makes that.
    pub(super) fn turned(&self, post: Post) -> bool {
        let (Some(against), Some(supply)) =
            (places::against(self.sheet), places::supply(self.sheet))
        else {
            return false;
        };
        let fundamental = self.seen.waves.harmonics.first() == Some(&1);
        let window = &self.seen.loaded;
        let waves = window.wave((post, against), 0).zip(window.wave(supply, 0));
        fundamental
            && waves.is_some_and(|(a, b)| {
                let across = a[0] * b[1] - a[1] * b[0];
                across.abs() > TURNED * a[0].hypot(a[1]) * b[0].hypot(b[1])
            })
    }
}
