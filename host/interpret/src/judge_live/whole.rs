//! Is the live phase whole? Nothing passes on one that is not.

use std::collections::BTreeMap;

use runproof_protocol::{Phase, Step};

use super::look;
use crate::capture::Capture;
use crate::completeness;
use crate::judgement::{Cause, LiveCause};

/// Patterns of a step, and how often each channel is in one: the three differences, and post 4 alone.
const ALONE: (Step, usize, [usize; 4]) = (Step::Live, 8, [8, 4, 4, 0]);
const LOADED: (Step, usize, [usize; 4]) = (Step::LiveLoaded, 4, [4, 4, 4, 4]);

/// What is missing; the gravest.
pub(super) fn check(capture: &Capture) -> Result<(), LiveCause> {
    if let Err(obstacle) = completeness::check(capture, Phase::Live) {
        return Err(match obstacle.cause {
            Some(Cause::NotMeasured) => LiveCause::NotMeasured,
            Some(Cause::PatternsMissing) => LiveCause::PatternsMissing,
            Some(Cause::ReadingsMissing) => LiveCause::ReadingsMissing,
            _ => LiveCause::NotFinished,
        });
    }
    step(capture, ALONE)?;
    match look::readings(capture, LOADED.0).next() {
        Some(_) => step(capture, LOADED),
        None => Err(LiveCause::LoadedMissing),
    }
}

fn step(
    capture: &Capture,
    (step, patterns, needed): (Step, usize, [usize; 4]),
) -> Result<(), LiveCause> {
    let mut seen: BTreeMap<u32, [usize; 4]> = BTreeMap::new();
    for reading in look::readings(capture, step) {
        let counts = seen.entry(reading.pattern).or_default();
        counts[look::channel_of(reading.channel).unwrap_or(3)] += 1;
    }
    if seen.len() < patterns {
        return Err(LiveCause::PatternsMissing);
    }
    let whole =
        |counts: &[usize; 4]| counts.iter().zip(needed).all(|(count, needed)| *count >= needed);
    if seen.values().all(whole) { Ok(()) } else { Err(LiveCause::ReadingsMissing) }
}
