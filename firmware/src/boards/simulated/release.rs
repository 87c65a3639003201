//! A post that was let go under both pulls: when does its line read high?

use std::vec::Vec;

use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg32;
use runproof_protocol::{Drive, Rise};

use super::Nanoseconds;
use super::electronics::{self, Lines};
use super::parts::Parts;
use super::scene::Scene;
use super::transient::Transient;
use super::wiring::Stands;

/// How long the jig waits for a post to rise.
pub(super) const WITHIN_SECONDS: f64 = Rise::MICROS_MAX as f64 * 1e-6;

/// Noise at a pin's threshold. [judgement]
const PIN_NOISE_VOLTS: f64 = 5e-3;

/// Lines that stand differently for less than this are on their way from one state to the next.
const STANDS_NANOS: u64 = 2_000;

/// The last post that was let go, and what is known of how posts rise as the run stands.
#[derive(Debug, Default)]
pub(super) struct Releases {
    last: Option<Release>,
    changed_at: Nanoseconds,
    /// How the lines stood, long enough to settle, before they changed last.
    stood: Lines,
    known: Vec<(usize, Lines, Transient)>,
}

#[derive(Clone, Copy, Debug)]
struct Release {
    post: usize,
    at: Nanoseconds,
    before: Lines,
    noise_volts: f64,
}

impl Releases {
    /// The lines change from `before` to `after`.
    pub(super) fn change(
        &mut self,
        before: Lines,
        after: &Lines,
        at: Nanoseconds,
        random: &mut Pcg32,
    ) {
        if at >= self.changed_at + STANDS_NANOS {
            self.stood = before;
        }
        self.changed_at = at;
        let before = self.stood;
        self.last = (0..4)
            .find(|post| before.posts[*post] == Drive::Low && after.posts[*post] == Drive::Off)
            .filter(|_| after.pulls == [Drive::High; 2])
            .map(|post| {
                let standard: f64 = StandardNormal.sample(random);
                Release { post, at, before, noise_volts: PIN_NOISE_VOLTS * standard }
            });
    }

    /// The run is another now.
    pub(super) fn forget(&mut self) {
        self.known.clear();
    }

    /// When the post that was let go reads high, if it was this one and the run stays as it is.
    pub(super) fn rises_at(
        &mut self,
        post: usize,
        scene: &Scene,
        parts: &Parts,
        lines: &Lines,
        stands: Stands,
    ) -> Option<Nanoseconds> {
        let Release { at, before, noise_volts, .. } = self.last.filter(|last| last.post == post)?;
        let known = self.known.iter().position(|known| (known.0, &known.1) == (post, lines));
        let known = known.unwrap_or_else(|| {
            let found = electronics::transient(scene, parts, [&before, lines], stands, post);
            self.known.push((post, *lines, found));
            self.known.len() - 1
        });
        let volts = parts.reads_high_volts[post] + noise_volts;
        let seconds = self.known[known].2.passes(volts, at as f64 * 1e-9, WITHIN_SECONDS)?;
        Some(at + (seconds * 1e9).ceil() as Nanoseconds)
    }
}
