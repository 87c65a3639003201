//! The edge catcher's comparators: when does each post's sense node pass one of the two thresholds?
//!
//! While the run is driven as it is flexed the circuit is followed in time, from each change to the next: a break
//! is far shorter than what cable and sense nodes need to settle.

use std::collections::VecDeque;
use std::vec::Vec;

use nalgebra::DVector;

use super::Nanoseconds;
use super::circuit::Node;
use super::electronics::{self, Lines};
use super::flexing::Away;
use super::modes::{Course, Modes};
use super::parts::Parts;
use super::scene::Scene;
use super::wiring::Stands;

/// A comparator with 100 mV of overdrive. (judgement)
pub const COMPARATOR_NANOS: Nanoseconds = 500;

/// So many ways in which a run can stand are remembered.
const KNOWN_MAX: usize = 64;

/// How closely a change is followed, and until when, in seconds: nodes with 1 nF, cable, and what is left.
const STEPS_S: [(f64, f64); 3] = [(0.5e-6, 100e-6), (5e-6, 1e-3), (1e-3, 0.2)];

/// Crossings are found as closely as this.
const CLOSE_S: f64 = 1e-9;

/// What alternates is followed so closely, and looked at again so much later.
const SWING_S: (f64, f64) = (20e-6, 20e-3);

/// The run as it stands, and since when.
#[derive(Debug)]
struct Held {
    known: usize,
    since: Nanoseconds,
    begun: DVector<f64>,
}

#[derive(Debug)]
struct Known {
    lines: Lines,
    plug_in: bool,
    away: Away,
    modes: Modes,
    senses: [Node; 4],
}

/// Four comparators for each threshold, by twos on one line.
#[derive(Debug, Default)]
pub(super) struct Catcher {
    known: Vec<Known>,
    held: Option<Held>,
    between: u8,
    coming: VecDeque<(Nanoseconds, u8)>,
    again: Option<Nanoseconds>,
}

impl Catcher {
    /// Posts between the thresholds, the lowest bit first, while the run is driven as it is flexed.
    pub(super) fn between(&self) -> Option<u8> {
        self.held.as_ref().map(|_| self.between)
    }

    /// When something happens next by itself.
    pub(super) fn due(&self) -> Option<Nanoseconds> {
        let coming = self.coming.front().map(|(at, _)| *at);
        coming.into_iter().chain(self.again).min()
    }

    /// Whether what alternates is to be followed on.
    pub(super) fn looks_again(&self, now: Nanoseconds) -> bool {
        self.again.is_some_and(|again| again <= now)
    }

    /// The run is not driven any more.
    pub(super) fn rest(&mut self) {
        *self = Self { known: std::mem::take(&mut self.known), ..Self::default() };
    }

    /// Lets happen what is due; true if posts stand otherwise now.
    pub(super) fn advance(&mut self, to: Nanoseconds) -> bool {
        let before = self.between;
        while let Some((_, between)) = self.coming.pop_front_if(|(at, _)| *at <= to) {
            self.between = between;
        }
        self.between != before
    }

    /// The run stands otherwise from `now` on, or is looked at again.
    pub(super) fn change(
        &mut self,
        now: Nanoseconds,
        scene: &Scene,
        parts: &Parts,
        lines: &Lines,
        stands: Stands,
    ) {
        let held = self.held.take();
        let charges = held.map(|held| {
            let seconds = (now - held.since) as f64 * 1e-9;
            self.known[held.known].modes.charges(&held.begun, seconds)
        });
        let known = self.know(scene, parts, lines, stands);
        let Known { modes, senses, .. } = &self.known[known];
        let begun = modes.begin(&charges.clone().unwrap_or_else(|| modes.charges_at_rest()));
        let course = modes.course(&begun, *senses);
        let window_v = parts.window_volts;
        if charges.is_none() {
            self.between = between(course.volts(0.0, now as f64 * 1e-9), window_v);
        }
        self.coming.retain(|(at, _)| *at <= now + COMPARATOR_NANOS);
        let last = self.coming.back().map_or(self.between, |(_, between)| *between);
        self.coming.extend(crossings(&course, window_v, now, last));
        let swings = (0..4).any(|post| {
            let rest = course.at_rest(post, now as f64 * 1e-9);
            window_v.iter().any(|volts| (rest - volts).abs() <= 2.0 * course.swing(post))
        });
        self.again = swings.then(|| now + (SWING_S.1 * 1e9) as Nanoseconds);
        self.held = Some(Held { known, since: now, begun });
    }

    fn know(&mut self, scene: &Scene, parts: &Parts, lines: &Lines, stands: Stands) -> usize {
        let Stands { plug_in, away, .. } = stands;
        let is_it = |one: &Known| one.lines == *lines && one.plug_in == plug_in && one.away == away;
        if let Some(known) = self.known.iter().position(is_it) {
            return known;
        }
        if self.known.len() == KNOWN_MAX {
            self.known.clear();
        }
        let (modes, senses) = electronics::modes(scene, parts, lines, stands);
        self.known.push(Known { lines: *lines, plug_in, away, modes, senses });
        self.known.len() - 1
    }
}

/// Of an interval, the last instant at which it still holds, or less than [`CLOSE_S`] earlier.
fn last_instant(mut holds_s: f64, mut not_s: f64, holds: impl Fn(f64) -> bool) -> f64 {
    while not_s - holds_s > CLOSE_S {
        let middle_s = f64::midpoint(holds_s, not_s);
        if holds(middle_s) { holds_s = middle_s } else { not_s = middle_s }
    }
    holds_s
}

fn between(volts: [f64; 4], [low, high]: [f64; 2]) -> u8 {
    let posts = volts.into_iter().enumerate();
    posts.fold(0, |posts, (n, volts)| posts | u8::from(low < volts && volts < high) << n)
}

/// All crossings after a change at `changed`, where posts stood `before`.
fn crossings(
    course: &Course<4>,
    window_v: [f64; 2],
    changed: Nanoseconds,
    mut stood: u8,
) -> Vec<(Nanoseconds, u8)> {
    let changed_s = changed as f64 * 1e-9;
    let mut crossings = Vec::new();
    let volts = |since: f64| course.volts(since, changed_s + since);
    let (mut since, mut was) = (0.0, volts(0.0));
    let alternates = (0..4).any(|post| course.swing(post) > 1e-3);
    let last = if alternates { SWING_S } else { STEPS_S[2] };
    for (step, until) in [STEPS_S[0], STEPS_S[1], last] {
        while since < until {
            let next = since + step;
            let now = volts(next);
            for threshold in window_v {
                for post in 0..4 {
                    let is_below = was[post] < threshold;
                    if is_below != (now[post] < threshold) {
                        let still = |at: f64| (volts(at)[post] < threshold) == is_below;
                        crossings.push(last_instant(since, next, still));
                    }
                }
            }
            (since, was) = (next, now);
        }
    }
    // What was to pass a threshold in this very nanosecond may have been taken for passed.
    crossings.push(-CLOSE_S);
    crossings.sort_by(f64::total_cmp);
    let mut edges = Vec::new();
    for crossing in crossings {
        let after = between(volts(crossing + CLOSE_S), window_v);
        if after != stood {
            let at = changed + (crossing.max(0.0) * 1e9) as Nanoseconds + COMPARATOR_NANOS;
            edges.push((at, after));
            stood = after;
        }
    }
    edges
}
