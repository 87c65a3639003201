//! The contacts of a run that move, each by a chance of its own.

use std::vec::Vec;

use rand::RngExt;
use rand_pcg::Pcg32;

use super::Nanoseconds;
use super::scene::{Flexed, Moves, Scene};

/// More of them are not simulated at once.
pub(super) const FLEXED_MAX: usize = 4;

/// How far each is away from rest, 0 to 1.
pub(super) type Away = [f64; FLEXED_MAX];

/// A slow movement goes there in so many steps, and back: of 1 Ω each is 4 mΩ.
const CREEPS_STEPS: u64 = 250;

/// A stream of chance beside those that parts are drawn from.
const MOVES: u64 = 5 << 32;

/// All of one run.
#[derive(Debug, Default)]
pub(super) struct Flexing {
    movers: Vec<Mover>,
}

#[derive(Debug)]
struct Mover {
    flexed: Flexed,
    random: Pcg32,
    /// The next change: when, and how far it is away from then on.
    next: Option<(Nanoseconds, f64)>,
    changes: u64,
}

impl Flexing {
    pub(super) fn new(scene: &Scene, seed: u64) -> Self {
        let movers = scene.flexed.iter().enumerate().map(|(n, flexed)| {
            let random = Pcg32::new(seed, MOVES + n as u64);
            let mut mover = Mover { flexed: flexed.clone(), random, next: None, changes: 0 };
            mover.plan(nanos(flexed.from_s), 0.0);
            mover
        });
        Self { movers: movers.take(FLEXED_MAX).collect() }
    }

    /// When the next of them changes.
    pub(super) fn due(&self) -> Option<Nanoseconds> {
        self.movers.iter().filter_map(|mover| Some(mover.next?.0)).min()
    }

    /// What has changed by now; whether anything has.
    pub(super) fn advance(&mut self, to: Nanoseconds, away: &mut Away) -> bool {
        let mut changed = false;
        for (mover, away) in self.movers.iter_mut().zip(away) {
            while let Some((at, then)) = mover.next.filter(|(at, _)| *at <= to) {
                changed |= *away != then;
                *away = then;
                mover.plan(at, then);
            }
        }
        changed
    }
}

impl Mover {
    /// What comes after it has stood so since `at`.
    fn plan(&mut self, at: Nanoseconds, away: f64) {
        let [from, until] = [self.flexed.from_s, self.flexed.until_s].map(nanos);
        let rests = away == 0.0;
        let (n, turn) = (self.changes, self.changes / 2);
        self.changes += 1;
        let then = if rests { 1.0 } else { 0.0 };
        self.next = match &self.flexed.moves {
            Moves::Chatters { rests_ms, away_ms } => {
                let mean_ms = if rests { rests_ms } else { away_ms };
                let chance: f64 = self.random.random();
                Some((at + nanos(-mean_ms * (1.0 - chance).ln() / 1e3), then))
            }
            Moves::Shakes { hertz, .. } if rests => {
                Some((from + nanos((turn as f64 + 0.5) / hertz), then))
            }
            Moves::Shakes { away_ms, .. } => Some((at + nanos(away_ms / 1e3), then)),
            Moves::Creeps { period_s } => {
                let step = (n + 1) % (2 * CREEPS_STEPS);
                let then = step.min(2 * CREEPS_STEPS - step) as f64 / CREEPS_STEPS as f64;
                let due_s = (n + 1) as f64 * period_s / (2 * CREEPS_STEPS) as f64;
                Some((from + nanos(due_s), then))
            }
            Moves::At(times) => times.get(turn as usize).map(|[begins_ms, long_ms]| {
                let ms = if rests { *begins_ms } else { begins_ms + long_ms };
                (from + nanos(ms / 1e3), then)
            }),
        };
        // What is away comes back to rest.
        self.next = self.next.filter(|(due, _)| !rests || *due < until);
    }
}

fn nanos(seconds: f64) -> Nanoseconds {
    (seconds * 1e9) as Nanoseconds
}
