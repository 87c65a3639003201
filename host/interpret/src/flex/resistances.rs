//! By how much each conductor is above what it had before the run was flexed.

use runproof_protocol::Microseconds;

use super::circuit::{Seen, Set};
use super::lanes::since;
use super::slots::Slot;

/// The baseline is what is in the middle of so much,
const BASELINE_US: u64 = 200_000;
/// but of at least so many sets; more are not kept.
const SETS_LEAST: usize = 60;
const SETS_MOST: usize = 240;

/// From the median of deviations to a normal distribution's sigma.
const MAD_TO_SIGMA: f64 = 1.4826;

/// So far above noise and hum a step is told: one in a thousand million.
const SIGMAS: f64 = 6.0;

/// So far below the baseline lies no noise in the twenty readings beside a step: one in ten thousand.
const SIGMAS_OF_FALLS: f64 = 4.5;

/// A step is found from this part of what it should be told from, so that noise hides none.
pub(super) const FOUND_FROM: f64 = 0.75;

/// Resistances against a baseline, once there is one.
#[derive(Clone, Debug)]
pub(super) struct Resistances {
    told_ohm: [Option<f64>; 4],
    gathered: Vec<Seen>,
    from: Option<Microseconds>,
    baseline: Option<Baseline>,
}

#[derive(Clone, Copy, Debug)]
struct Baseline {
    ohm: [f64; 4],
    sigma_ohm: f64,
}

/// From where on something is told.
#[derive(Clone, Copy, Debug)]
pub(super) struct Threshold {
    /// Of a rise.
    pub(super) ohm: f64,
    /// What lies so far below the baseline is no noise.
    pub(super) fall_ohm: f64,
}

/// What one set says of the four conductors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rises {
    /// In ohms.
    pub(super) ohm: [f64; 4],
    /// This one has changed by more than the other three together.
    pub(super) alone: Option<usize>,
}

impl Resistances {
    pub(super) fn new(told_ohm: [Option<f64>; 4]) -> Self {
        Self { told_ohm, gathered: vec![], from: None, baseline: None }
    }

    /// Takes a set while all carry. Once there is a baseline, what it says against that; true as it is made.
    pub(super) fn hear(&mut self, at: Microseconds, seen: &Seen) -> (Option<Rises>, bool) {
        if let Some(baseline) = &self.baseline {
            return (baseline.rises(seen), false);
        }
        let from = *self.from.get_or_insert(at);
        self.gathered.push(*seen);
        let count = self.gathered.len();
        if count < SETS_MOST && (count < SETS_LEAST || since(from, at) < BASELINE_US) {
            return (None, false);
        }
        let gathered = std::mem::take(&mut self.gathered);
        self.baseline = Some(Baseline::of(&gathered, self.told_ohm));
        (None, true)
    }

    /// Steps are told from so much on, where `wanted` was asked for; nothing before there is a baseline, or where
    /// readings say nothing.
    pub(super) fn steps_from_ohm(&self, wanted: f64) -> Option<f64> {
        let hidden = self.baseline?.sigma_ohm * SIGMAS / FOUND_FROM;
        let from = wanted.max(hidden);
        (hidden.is_finite() && from.is_finite() && from > 0.0).then_some(from)
    }

    /// The same, with what lies so far below the baseline that it is no noise.
    pub(super) fn steps_from(&self, wanted: f64) -> Option<Threshold> {
        let ohm = self.steps_from_ohm(wanted)?;
        let noise = self.baseline?.sigma_ohm * SIGMAS_OF_FALLS;
        Some(Threshold { ohm, fall_ohm: (ohm * FOUND_FROM / 2.0).max(noise) })
    }

    /// What the broken conductor has, where those of `carries` carry and have what they had.
    pub(super) fn broken_ohm(&self, seen: &Seen, carries: u8, post: usize) -> Option<f64> {
        let baseline = self.baseline?;
        let above = baseline.above(seen);
        let sound = (0..4).filter(|n| carries >> n & 1 != 0);
        let (count, sum) = sound.fold((0.0, 0.0), |(count, sum), n| (count + 1.0, sum + above[n]));
        let ohm = baseline.ohm[post] + (above[post] - sum / count) / seen.amps[post];
        // What is next to nothing may have either sign.
        Some(if ohm < 0.0 { f64::INFINITY } else { ohm })
    }
}

impl Baseline {
    /// Of the readings' medians. What was told leaves only what the readings contradict to be put right, by as little as can be.
    fn of(gathered: &[Seen], told_ohm: [Option<f64>; 4]) -> Self {
        let middle = |of: &dyn Fn(&Seen) -> f64| median(gathered.iter().map(of).collect());
        let amps: [f64; 4] = std::array::from_fn(|n| middle(&|seen| seen.amps[n]));
        let told = told_ohm.map(|ohm| ohm.unwrap_or(0.0));
        let wrong: [f64; 4] = std::array::from_fn(|n| {
            middle(&|seen| seen.rest_v[n] - told[n] * seen.amps[n] + told[3] * seen.amps[3])
        });
        let weights = amps.map(|amps| amps.powi(-2));
        let weighted: f64 = wrong.iter().zip(weights).map(|(wrong, weight)| wrong * weight).sum();
        let common = weighted / weights.iter().sum::<f64>();
        let ohm = std::array::from_fn(|n| told[n] + (wrong[n] - common) / amps[n]);
        let quiet = Self { ohm, sigma_ohm: 0.0 };
        let scatter = |n: usize| {
            let rises: Vec<f64> = gathered
                .iter()
                .map(|seen| quiet.rises(seen).map_or(f64::NAN, |rises| rises.ohm[n]))
                .collect();
            let middle = median(rises.clone());
            median(rises.into_iter().map(|rise| (rise - middle).abs()).collect()) * MAD_TO_SIGMA
        };
        let worst = (0..4).map(scatter).fold(0.0, |worst: f64, one| match one.is_nan() {
            true => f64::INFINITY,
            false => worst.max(one),
        });
        Self { ohm, sigma_ohm: worst }
    }

    /// What each conductor's voltage has gained over the baseline's, against what conductor 4's has.
    fn above(&self, seen: &Seen) -> [f64; 4] {
        let falls = |n: usize| self.ohm[n] * seen.amps[n];
        std::array::from_fn(|n| seen.rest_v[n] - falls(n) + falls(3))
    }

    /// Three equations for four: something common to all is not seen. The least total change is the true one where a
    /// single conductor changed, and that is with the median of the four taken off.
    fn rises(&self, seen: &Seen) -> Option<Rises> {
        let above = self.above(seen);
        let mut sorted = above;
        sorted.sort_by(f64::total_cmp);
        let common = (sorted[1] + sorted[2]) / 2.0;
        let gained = above.map(|volts| volts - common);
        let ohm: [f64; 4] = std::array::from_fn(|n| gained[n] / seen.amps[n]);
        let total: f64 = gained.iter().map(|volts| volts.abs()).sum();
        let alone = (0..4).find(|n| gained[*n].abs() * 2.0 > total);
        ohm.iter().all(|ohm| ohm.abs() < 1e5).then_some(Rises { ohm, alone })
    }
}

fn median(mut of: Vec<f64>) -> f64 {
    of.sort_by(f64::total_cmp);
    let middle = of.len() / 2;
    match of.len() {
        0 => f64::NAN,
        count if count % 2 == 1 => of[middle],
        _ => (of[middle - 1] + of[middle]) / 2.0,
    }
}

/// A set of which each slot was read while the posts stood alike, and none is older than the set takes.
pub(super) fn set(slots: &[Option<Slot>; 3]) -> Option<Set> {
    let [Some(a), Some(b), Some(c)] = slots else { return None };
    let set = [*a, *b, *c];
    let ats = set.map(|slot| slot.at);
    let (first, last) = (ats.iter().min()?, ats.iter().max()?);
    (since(*first, *last) < SET_US_MAX && !set.iter().any(|slot| slot.saturated)).then_some(set)
}

/// Three slots, with what a pattern's end adds. (judgement)
const SET_US_MAX: u64 = 12_000;
