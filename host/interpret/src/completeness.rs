//! Is a phase complete? Nothing can pass on one that is not.

use std::collections::{BTreeMap, BTreeSet};

use runproof_protocol::{Drive, Phase, Post, Step};

use crate::capture::{Capture, Ending, Entry, Node, Reading};
use crate::judgement::{Cause, FindingKind, Unit};
use crate::obstacle::Obstacle;

/// Something of this phase was measured, or tried.
pub(crate) fn begun(capture: &Capture, phase: Phase) -> bool {
    capture.readings(phase).next().is_some() || capture.ends(phase).next().is_some()
}

/// The phase was measured once, to its end, and nothing was lost on the way.
pub(crate) fn check(capture: &Capture, phase: Phase) -> Result<(), Obstacle> {
    if !begun(capture, phase) {
        return Err(Obstacle::incomplete(Cause::NotMeasured));
    }
    for ending in capture.ends(phase) {
        match ending {
            Ending::Done { .. } => {}
            Ending::Stopped { .. } => return Err(Obstacle::incomplete(Cause::Stopped)),
            Ending::Lost { .. } => return Err(Obstacle::incomplete(Cause::Lost)),
            Ending::Hazard { largest_v, .. } => {
                return Err(Obstacle::new(FindingKind::Hazard)
                    .cause(Cause::Hazard)
                    .value(*largest_v, Unit::Volt));
            }
        }
    }
    let mut ends = capture.ends(phase);
    let Some(Ending::Done { patterns: patterns_promised }) = ends.next() else {
        return Err(Obstacle::incomplete(Cause::NoEnd));
    };
    if ends.next().is_some() {
        return Err(Obstacle::incomplete(Cause::SeveralEnds));
    }
    if !matches!(capture.entries.last(), Some(Entry::End(_))) {
        return Err(Obstacle::incomplete(Cause::SeveralEnds));
    }
    let patterns_seen = patterns(capture, phase)?;
    let missing = f64::from(*patterns_promised) - patterns_seen.len() as f64;
    if missing > 0.0 {
        let obstacle = Obstacle::incomplete(Cause::PatternsMissing);
        return Err(obstacle.value(missing, Unit::Count));
    }
    if patterns_seen.keys().any(|number| number >= patterns_promised)
        || !patterns_seen.values().all(Seen::is_whole)
    {
        return Err(Obstacle::incomplete(Cause::ReadingsMissing));
    }
    Ok(())
}

/// One pattern, as its readings tell it.
struct Seen {
    step: Step,
    drives: [Drive; 4],
    pulls: [Drive; 2],
    relays_closed: bool,
    channels: BTreeSet<(Node, Post, Option<Post>)>,
}

/// The patterns of a phase; an error where the readings of one pattern contradict each other.
fn patterns(capture: &Capture, phase: Phase) -> Result<BTreeMap<u32, Seen>, Obstacle> {
    let mut patterns: BTreeMap<u32, Seen> = BTreeMap::new();
    for reading in capture.readings(phase) {
        let Reading { step, drives, pulls, relays_closed, channel, .. } = *reading;
        let new = || Seen { step, drives, pulls, relays_closed, channels: BTreeSet::new() };
        let seen = patterns.entry(reading.pattern).or_insert_with(new);
        if (seen.step, seen.drives, seen.pulls, seen.relays_closed)
            != (step, drives, pulls, relays_closed)
        {
            return Err(Obstacle::incomplete(Cause::ReadingsMissing));
        }
        seen.channels.insert((channel.node, channel.post, channel.against));
    }
    Ok(patterns)
}

impl Seen {
    /// All channels that its step needs were read.
    fn is_whole(&self) -> bool {
        let has = |node: Node, post, against| self.channels.contains(&(node, post, against));
        match self.step {
            Step::Live | Step::LiveLoaded => true,
            Step::Leakage => Post::ALL.into_iter().all(|post| has(Node::Sense, post, None)),
            Step::SelfCalibration => Post::ALL
                .into_iter()
                .all(|post| has(Node::Sense, post, None) && has(Node::Drive, post, None)),
            Step::PreScan | Step::Pairs => {
                let differences = [Post::P1, Post::P2, Post::P3];
                let driven = Post::ALL.into_iter().zip(self.drives);
                differences.into_iter().all(|post| has(Node::Sense, post, Some(Post::P4)))
                    && has(Node::Sense, Post::P4, None)
                    && driven
                        .filter(|(_, drive)| *drive != Drive::Off)
                        .all(|(post, _)| has(Node::Drive, post, None))
            }
        }
    }
}
