//! Is a phase complete? Nothing can pass on one that is not.

use std::collections::{BTreeMap, BTreeSet};

use runproof_protocol::{Drive, Microseconds, Phase, Post, Step};

use crate::capture::{Capture, Ending, Entry, Node, Reading};
use crate::judgement::{Cause, FindingKind, Unit};
use crate::obstacle::Obstacle;

/// Something of this phase was measured, or tried.
pub(crate) fn begun(capture: &Capture, phase: Phase) -> bool {
    capture.readings(phase).next().is_some()
        || capture.rises(phase).next().is_some()
        || capture.ends(phase).next().is_some()
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
    let mut measured = capture.entries.iter().rev();
    let last = measured.find(|entry| {
        !matches!(entry, Entry::Touch(_) | Entry::ToEarth(_) | Entry::Zero(_) | Entry::LiveZero(_))
    });
    if !matches!(last, Some(Entry::End(_))) {
        return Err(Obstacle::incomplete(Cause::NoEnd)); // cut off in a later phase
    }
    let patterns_seen = patterns(capture, phase)?;
    let rises_seen = rises(capture, phase, &patterns_seen)?;
    let seen = patterns_seen.len() + rises_seen.len();
    let missing = f64::from(*patterns_promised) - seen as f64;
    if missing > 0.0 {
        let obstacle = Obstacle::incomplete(Cause::PatternsMissing);
        return Err(obstacle.value(missing, Unit::Count));
    }
    if patterns_seen.keys().chain(&rises_seen).any(|number| number >= patterns_promised)
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
    /// How often each was read.
    channels: BTreeMap<(Node, Post, Option<Post>), usize>,
}

/// The patterns of a phase; an error where the readings of one pattern contradict each other.
fn patterns(capture: &Capture, phase: Phase) -> Result<BTreeMap<u32, Seen>, Obstacle> {
    let mut patterns: BTreeMap<u32, Seen> = BTreeMap::new();
    let mut last = (0, Microseconds(0));
    for reading in capture.readings(phase) {
        let Reading { step, drives, pulls, relays_closed, channel, .. } = *reading;
        if reading.pattern < last.0 || reading.at < last.1 {
            return Err(Obstacle::incomplete(Cause::Contradictory)); // of more than one measurement
        }
        last = (reading.pattern, reading.at);
        let new = || Seen { step, drives, pulls, relays_closed, channels: BTreeMap::new() };
        let seen = patterns.entry(reading.pattern).or_insert_with(new);
        if (seen.step, seen.drives, seen.pulls, seen.relays_closed)
            != (step, drives, pulls, relays_closed)
        {
            return Err(Obstacle::incomplete(Cause::Contradictory));
        }
        *seen.channels.entry((channel.node, channel.post, channel.against)).or_default() += 1;
    }
    Ok(patterns)
}

/// The numbers of a phase's rises, each its own.
fn rises(
    capture: &Capture,
    phase: Phase,
    patterns: &BTreeMap<u32, Seen>,
) -> Result<BTreeSet<u32>, Obstacle> {
    let mut rises = BTreeSet::new();
    for rise in capture.rises(phase) {
        if patterns.contains_key(&rise.pattern) || !rises.insert(rise.pattern) {
            return Err(Obstacle::incomplete(Cause::Contradictory));
        }
    }
    Ok(rises)
}

impl Seen {
    /// All channels that its step needs were read, those that belong together equally often.
    fn is_whole(&self) -> bool {
        let single = |node| Post::ALL.map(|post| (node, post, None));
        match self.step {
            Step::Live | Step::LiveLoaded | Step::LiveZero | Step::SupplyLoaded | Step::Flex => {
                true
            }
            Step::Leakage => self.alike(single(Node::Sense)),
            Step::SelfCalibration => {
                self.alike(single(Node::Sense)) && self.alike(single(Node::Drive))
            }
            Step::PreScan | Step::Pairs => {
                let against = [Some(Post::P4), Some(Post::P4), Some(Post::P4), None];
                let sense = Post::ALL.into_iter().zip(against);
                let driven = Post::ALL.into_iter().zip(self.drives);
                let driven = driven.filter(|(_, drive)| *drive != Drive::Off);
                self.alike(sense.map(|(post, against)| (Node::Sense, post, against)))
                    && self.alike(driven.map(|(post, _)| (Node::Drive, post, None)))
            }
        }
    }

    fn alike(&self, channels: impl IntoIterator<Item = (Node, Post, Option<Post>)>) -> bool {
        let mut counts = channels.into_iter().map(|channel| self.channels.get(&channel).copied());
        let first = counts.next().flatten();
        first.is_some() && counts.all(|count| count == first)
    }
}
