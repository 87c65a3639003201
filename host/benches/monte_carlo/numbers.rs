//! What a judgement states as a number with its interval, against the truth.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{FindingKind, Interval, Isolation};

use crate::truth::{Fault, Truth};

/// How far a number is off, and whether its interval holds the truth.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stated {
    pub(crate) off: f64,
    pub(crate) holds: bool,
}

/// Of one run; what it does not state is absent.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Numbers {
    /// In ohms; of one conductor a run, so that they are independent of each other.
    pub(crate) resistance: Option<Stated>,
    /// In fractions of the run.
    pub(crate) short_place: Option<Stated>,
    /// The same.
    pub(crate) open_place: Option<Stated>,
    /// As a fraction of the truth.
    pub(crate) leak: Option<Stated>,
    /// Whether a leak is no better a path than it is said to be at most.
    pub(crate) leak_at_least_holds: Option<bool>,
}

impl Numbers {
    pub(crate) fn of(judgement: &Judgement, truth: &Truth, index: u64) -> Self {
        let mut numbers =
            Self { resistance: resistance(judgement, truth, index), ..Self::default() };
        for fault in &truth.faults {
            match *fault {
                Fault::Open { at, .. } => {
                    numbers.open_place = place(judgement, FindingKind::Open, at);
                }
                Fault::Path { at, .. } if fault.is_short() => {
                    numbers.short_place = place(judgement, FindingKind::Short, at);
                }
                Fault::Path { posts, ohm, .. } => {
                    numbers.leak = leak(judgement, posts, ohm);
                    numbers.leak_at_least_holds = leak_at_least_holds(judgement, posts, ohm);
                }
                _ => {}
            }
        }
        numbers
    }
}

fn resistance(judgement: &Judgement, truth: &Truth, index: u64) -> Option<Stated> {
    let stated: Vec<_> =
        judgement.conductors.iter().filter(|one| one.resistance_ohm.is_some()).collect();
    let one = stated.get(index as usize % stated.len().max(1))?;
    let off = (one.resistance_ohm? - truth.ohm[one.post.index()]).abs();
    Some(Stated { off, holds: off <= one.expanded_uncertainty_ohm? })
}

fn place(judgement: &Judgement, kind: FindingKind, truth: f64) -> Option<Stated> {
    let finding = judgement.findings.iter().find(|one| one.kind == kind)?;
    let Interval { value, least, most } = finding.location?.fraction;
    Some(Stated { off: (value - truth).abs(), holds: (least..=most).contains(&truth) })
}

fn leak(judgement: &Judgement, posts: [u8; 2], truth_ohm: f64) -> Option<Stated> {
    let path = between(judgement, posts)?;
    let off_ohm = (path.resistance_ohm - truth_ohm).abs();
    let holds = off_ohm <= path.expanded_uncertainty_ohm?;
    Some(Stated { off: off_ohm / truth_ohm, holds })
}

fn leak_at_least_holds(judgement: &Judgement, posts: [u8; 2], truth_ohm: f64) -> Option<bool> {
    let path = between(judgement, posts)?;
    path.at_least.then_some(truth_ohm >= path.resistance_ohm)
}

fn between(judgement: &Judgement, posts: [u8; 2]) -> Option<&Isolation> {
    judgement.isolation.iter().find(|one| one.posts.map(|post| post.number()) == posts)
}
