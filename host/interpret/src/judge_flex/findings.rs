//! What was seen, and what could not be told: one finding for each lane and kind.

use runproof_protocol::Phase;

use super::whole::{is_whole, looks_at};
use crate::flex::bits::{BAUDS, corrupts};
use crate::flex::{FlexLane, FlexLaneOf, FlexRecord};
use crate::judgement::{FlexFinding, FlexFindingKind, Severity};

/// For longer the catcher and the converters do not differ by chance. (judgement)
const CONTRADICTED_US_MAX: u64 = 100_000;

/// More than one in so many of the time that is lost leaves room for what was missed. (judgement)
const GAPS_PART: u64 = 100;

pub(super) fn of_all(watches: &[FlexRecord]) -> Vec<FlexFinding> {
    if watches.is_empty() {
        return vec![finding(FlexFindingKind::NotWatched, Severity::CannotTell, None)];
    }
    watches.iter().flat_map(of_one).collect()
}

fn of_one(watch: &FlexRecord) -> Vec<FlexFinding> {
    let phase = Some(watch.head.phase);
    let cannot_tell = |kind| finding(kind, Severity::CannotTell, phase);
    let mut all: Vec<FlexFinding> =
        watch.lanes.iter().flat_map(|lane| of_lane(watch.head.phase, lane)).collect();
    if !is_whole(watch) {
        all.push(cannot_tell(FlexFindingKind::NotWhole));
    }
    if watch.head.watched_us == 0 {
        all.push(cannot_tell(FlexFindingKind::NotWatched));
    }
    if watch.head.contradicted_us > CONTRADICTED_US_MAX {
        let longest_us = Some(watch.head.contradicted_us);
        let contradicts = cannot_tell(FlexFindingKind::CatcherContradicts);
        all.push(FlexFinding { longest_us, ..contradicts });
    }
    all.extend(gaps(watch));
    all.extend(hum(watch));
    all
}

fn of_lane(phase: Phase, lane: &FlexLane) -> Vec<FlexFinding> {
    let (kind, severity) = match lane.of {
        FlexLaneOf::Conductor(_) => (FlexFindingKind::Breaks, Severity::Fail),
        FlexLaneOf::Pair(..) => (FlexFindingKind::Touches, Severity::Fail),
        FlexLaneOf::Untold => (FlexFindingKind::Untold, Severity::CannotTell),
    };
    let of = |kind, severity| FlexFinding {
        lane: Some(lane.of),
        ..finding(kind, severity, Some(phase))
    };
    let mut all = vec![];
    if lane.count > 0 {
        all.push(FlexFinding {
            count: Some(lane.count),
            longest_us: Some(lane.longest_us),
            ohm: lane.least_touch_ohm,
            corrupts: Some(BAUDS.map(|baud| corrupts(lane.longest_us as f64, baud))),
            ..of(kind, severity)
        });
    }
    if lane.steps > 0 {
        all.push(FlexFinding {
            count: Some(lane.steps),
            longest_us: Some(lane.longest_step_us),
            ohm: lane.largest_step_ohm,
            ..of(FlexFindingKind::Steps, Severity::Fail)
        });
    }
    if looks_at(phase, lane.of) && !(lane.was_good && lane.watched_us > 0) {
        all.push(of(FlexFindingKind::NeverGood, Severity::CannotTell));
    }
    all
}

fn gaps(watch: &FlexRecord) -> Option<FlexFinding> {
    let head = &watch.head;
    let all_us = head.watched_us.saturating_add(head.gaps_us);
    let severity = match head.gaps_us.saturating_mul(GAPS_PART) > all_us {
        true => Severity::CannotTell,
        false => Severity::Note,
    };
    let found = finding(FlexFindingKind::Gaps, severity, Some(head.phase));
    (head.gaps > 0).then_some(FlexFinding {
        count: Some(head.gaps),
        longest_us: Some(head.gaps_us),
        ..found
    })
}

/// Steps are not told at all, or not as small as was asked for.
fn hum(watch: &FlexRecord) -> Option<FlexFinding> {
    let head = &watch.head;
    let severity = match head.steps_from_ohm {
        _ if head.phase != Phase::Flex => return None,
        None => Severity::CannotTell,
        Some(from) if from > head.step_ohm => Severity::Note,
        Some(_) => return None,
    };
    let found = finding(FlexFindingKind::Hum, severity, Some(head.phase));
    Some(FlexFinding { ohm: head.steps_from_ohm, ..found })
}

fn finding(kind: FlexFindingKind, severity: Severity, phase: Option<Phase>) -> FlexFinding {
    FlexFinding {
        kind,
        severity,
        phase,
        lane: None,
        count: None,
        longest_us: None,
        ohm: None,
        corrupts: None,
    }
}
