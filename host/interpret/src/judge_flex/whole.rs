//! Whether all that is kept of a watch is there, and says the same: a capture that was cut off passes nothing.

use runproof_protocol::{Phase, Post};

use crate::flex::{
    EVENTS_FIRST, EVENTS_LONGEST, FlexEvent, FlexKind, FlexLane, FlexLaneOf, FlexRecord, GAPS_MAX,
    MARKS_MAX,
};

/// Whether it is whole.
pub(super) fn is_whole(watch: &FlexRecord) -> bool {
    let FlexRecord { head, lanes, events, gaps, marks } = watch;
    let kept = |all: u64, most: usize| all.min(most as u64) as usize;
    let counted = lanes
        .iter()
        .fold(0_u64, |sum, lane| sum.saturating_add(lane.count).saturating_add(lane.steps));
    let is_told = |lane: &FlexLane| {
        let of_lane = |event: &&FlexEvent| event.lane == lane.of;
        let steps = |event: &&FlexEvent| event.kind == FlexKind::Step;
        let of = || events.iter().filter(of_lane);
        let (steps, others) = (of().filter(steps).count(), of().filter(|one| !steps(one)).count());
        let longest = of().filter(|one| one.kind != FlexKind::Step).map(|one| one.lasted.micros());
        steps as u64 <= lane.steps
            && others as u64 <= lane.count
            && longest.max().is_none_or(|us| us <= lane.longest_us)
    };
    lanes.iter().map(|lane| lane.of).eq(lanes_of(head.phase))
        && lanes.iter().all(is_told)
        && counted == head.events
        && events.len() == kept(head.events, EVENTS_FIRST + EVENTS_LONGEST)
        && events.iter().all(|event| lanes.iter().any(|lane| lane.of == event.lane))
        && gaps.len() == kept(head.gaps, GAPS_MAX)
        && marks.len() == kept(head.marks, MARKS_MAX)
}

/// As a watch of this phase has them.
fn lanes_of(phase: Phase) -> impl Iterator<Item = FlexLaneOf> {
    let named: Vec<FlexLaneOf> = match phase {
        Phase::Flex => Post::ALL.map(FlexLaneOf::Conductor).into(),
        _ => Post::PAIRS.map(|(a, b)| FlexLaneOf::Pair(a, b)).into(),
    };
    named.into_iter().chain([FlexLaneOf::Untold])
}

/// Whether a watch of this phase looks at it at all.
pub(super) fn looks_at(phase: Phase, lane: FlexLaneOf) -> bool {
    use Post::{P1, P2, P3, P4};
    match (phase, lane) {
        (_, FlexLaneOf::Untold) => false,
        (Phase::FlexAcross, FlexLaneOf::Pair(a, b)) => !matches!((a, b), (P1, P2) | (P3, P4)),
        (Phase::FlexAlong, FlexLaneOf::Pair(a, b)) => !matches!((a, b), (P1, P3) | (P2, P4)),
        _ => true,
    }
}
