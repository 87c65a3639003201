//! What is kept of events, gaps and marks: bounded.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use runproof_protocol::Microseconds;

use super::{EVENTS_FIRST, EVENTS_LONGEST, FlexEvent, FlexGap, FlexMark, MARK_CHARS_MAX};

/// More gaps are counted, but not kept.
pub const GAPS_MAX: usize = 1_000;
/// More marks are counted, but not kept.
pub const MARKS_MAX: usize = 1_000;

/// What is kept.
#[derive(Clone, Debug, Default)]
pub(super) struct Log {
    first: Vec<FlexEvent>,
    longest: BinaryHeap<Reverse<Long>>,
    pub(super) events: u64,
    pub(super) gaps: Vec<FlexGap>,
    pub(super) gap_count: u64,
    pub(super) gaps_us: u64,
    pub(super) lost_events: u64,
    pub(super) dropped_edges: u64,
    pub(super) marks: Vec<FlexMark>,
    pub(super) mark_count: u64,
}

/// By duration; of two alike the earlier is the longer.
#[derive(Clone, Copy, Debug)]
struct Long {
    us: u64,
    number: u64,
    event: FlexEvent,
}

impl Long {
    const fn order(&self) -> (u64, Reverse<u64>) {
        (self.us, Reverse(self.number))
    }
}

impl PartialEq for Long {
    fn eq(&self, other: &Self) -> bool {
        self.order() == other.order()
    }
}

impl Eq for Long {}

impl PartialOrd for Long {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Long {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.order().cmp(&other.order())
    }
}

impl Log {
    pub(super) fn event(&mut self, event: FlexEvent) {
        self.events += 1;
        if self.first.len() < EVENTS_FIRST {
            self.first.push(event);
            return;
        }
        self.longest.push(Reverse(Long { us: event.lasted.micros(), number: self.events, event }));
        if self.longest.len() > EVENTS_LONGEST {
            self.longest.pop();
        }
    }

    pub(super) fn gap(&mut self, gap: FlexGap) {
        self.gap_count += 1;
        self.gaps_us = self.gaps_us.saturating_add(gap.lasted_us);
        self.lost_events += u64::from(gap.lost_events);
        self.dropped_edges += u64::from(gap.dropped_edges);
        if self.gaps.len() < GAPS_MAX {
            self.gaps.push(gap);
        }
    }

    pub(super) fn mark(&mut self, at: Microseconds, text: &str) {
        self.mark_count += 1;
        if self.marks.len() < MARKS_MAX {
            let text = text.chars().take(MARK_CHARS_MAX).collect();
            self.marks.push(FlexMark { at, text });
        }
    }

    /// In the order in which they began.
    pub(super) fn kept(&self) -> Vec<FlexEvent> {
        let longest = self.longest.iter().map(|Reverse(long)| long.event);
        let mut all: Vec<FlexEvent> = self.first.iter().copied().chain(longest).collect();
        all.sort_by_key(|event| event.at);
        all
    }
}

#[test]
fn the_first_and_the_longest_are_kept() {
    use super::{Depth, FlexKind, FlexLaneOf, Lasted};
    let mut log = Log::default();
    let event = |n: u64, us| FlexEvent {
        lane: FlexLaneOf::Untold,
        kind: FlexKind::Break,
        at: Microseconds(n * 100),
        lasted: Lasted::Micros(us),
        depth: Depth::NotSeen,
    };
    for n in 0..100_000 {
        log.event(event(n, n * 7_919 % 100_003));
    }
    let kept = log.kept();
    assert_eq!((kept.len(), log.events), (EVENTS_FIRST + EVENTS_LONGEST, 100_000));
    assert!((0..1_000).all(|n| kept[n as usize].at == Microseconds(n * 100)));
    let mut rest: Vec<u64> = (1_000..100_000_u64).map(|n| n * 7_919 % 100_003).collect();
    rest.sort_unstable();
    let mut late: Vec<u64> = kept[1_000..].iter().map(|one| one.lasted.micros()).collect();
    late.sort_unstable();
    assert_eq!(late, rest[rest.len() - 1_000..]);
}
