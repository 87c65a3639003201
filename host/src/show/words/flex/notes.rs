//! What is told below the findings.

use runproof_interpret::flex::{DURATION_BOUNDS_US, FlexLane};
use runproof_interpret::judgement::FlexJudgement;
use runproof_protocol::Phase;

use super::Names;
use super::numbers::{duration, ohms};

/// A label and what stands behind it.
pub(crate) type Row = (&'static str, String);

pub(crate) fn notes(judgement: &FlexJudgement, lanes: &[FlexLane], names: &Names) -> Vec<Row> {
    let mut rows: Vec<Row> = vec![];
    for lane in lanes.iter().filter(|lane| lane.count > 0) {
        rows.push(("durations", format!("{}: {}.", names.lane(lane.of), durations(lane))));
    }
    if moves_from_unknown(lanes) {
        rows.push(("at rest", MOVES_FROM_UNKNOWN.into()));
    }
    rows.push(("watched", watched(judgement)));
    if let Some(turns) = turns(judgement) {
        rows.push(("in turns", turns.into()));
    }
    rows.push(("could miss", misses(judgement)));
    rows.push(("precision", super::PRECISION.into()));
    rows
}

/// "3 of less than 0.10 ms, 9 of 0.10 to 1.0 ms, 2 longer".
fn durations(lane: &FlexLane) -> String {
    let bound = |n: usize| duration(DURATION_BOUNDS_US[n]);
    let told = lane.durations.iter().enumerate().filter(|(_, count)| **count > 0);
    let told = told.map(|(n, count)| match n {
        0 => format!("{count} of less than {}", bound(0)),
        5 => format!("{count} of {} or more", bound(4)),
        n => format!("{count} of {} to {}", bound(n - 1), bound(n)),
    });
    told.collect::<Vec<_>>().join(", ")
}

const MOVES_FROM_UNKNOWN: &str = "how many ohms each had is not known, as something moved while that was read: least and most are how \
    far each went from it.";

fn moves_from_unknown(lanes: &[FlexLane]) -> bool {
    lanes.iter().any(|lane| lane.baseline_ohm.is_none() && lane.most_rise_ohm.is_some())
}

/// "20 s, without a gap", "5 min; 2 gaps of 3.1 s together, in which nothing is known".
fn watched(judgement: &FlexJudgement) -> String {
    let heads = || judgement.watches.iter().map(|watch| &watch.head);
    let gaps: u64 = heads().map(|head| head.gaps).sum();
    let gaps_us: u64 = heads().map(|head| head.gaps_us).sum();
    let lost: u64 = heads().map(|head| head.lost_events).sum();
    let dropped: u64 = heads().map(|head| head.dropped_edges).sum();
    let all = super::headline::watched(judgement);
    if gaps == 0 {
        let turns = heads().any(|head| head.phase == Phase::FlexShorts);
        let but =
            if turns { ", but for the moments between turns, which are not counted" } else { "" };
        return format!("{all}, without a gap{but}.");
    }
    let gaps = if gaps == 1 { "1 gap".into() } else { format!("{gaps} gaps") };
    let mut told = format!("{all}, beside {gaps} of {} together", duration(gaps_us));
    for (count, what) in
        [(lost, "messages were lost"), (dropped, "changes came too fast to be told")]
    {
        if count > 0 {
            told += &format!(", {count} {what}");
        }
    }
    told + ": what happened then is not known."
}

fn turns(judgement: &FlexJudgement) -> Option<&'static str> {
    match judgement.watches.first()?.head.phase {
        Phase::FlexShorts => Some(
            "pairs of posts 1–4 and 2–3 were watched all the time, each other pair half of it.",
        ),
        Phase::FlexAcross => {
            Some("pairs of posts 1–2 and 3–4 were not watched (`--shorts along` does).")
        }
        Phase::FlexAlong => {
            Some("pairs of posts 1–3 and 2–4 were not watched (`--shorts across` does).")
        }
        _ => None,
    }
}

fn misses(judgement: &FlexJudgement) -> String {
    let heads = || judgement.watches.iter().map(|watch| &watch.head);
    let is_flex = heads().any(|head| head.phase == Phase::Flex);
    let steps = heads().filter_map(|head| head.steps_from_ohm).reduce(f64::max);
    let shorter = duration(runproof_interpret::flex::DURATION_U_US as u64);
    let rises = match steps {
        _ if !is_flex => String::new(),
        Some(from) => format!(", a rise of less than {}", ohms(from)),
        None => ", any rise that is no break".into(),
    };
    let mistaken =
        if is_flex { " A rise of less than 10 ms may be such a short break." } else { "" };
    format!(
        "what was shorter than about {shorter}{rises}; and what did not come while it was watched.{mistaken}"
    )
}
