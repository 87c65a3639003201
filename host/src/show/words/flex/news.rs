//! What happens, as it happens: the words behind its time and its lane.

use runproof_interpret::flex::{Depth, FlexEvent, FlexGap, FlexKind, FlexLane, FlexNews};

use super::Names;
use super::numbers::{duration, lasted, ohms};

/// Whom it is of, and what; nothing of what is told once it is over.
pub(crate) fn happened(
    news: &FlexNews,
    names: &Names,
    lanes: &[FlexLane],
) -> Option<(String, String)> {
    Some(match news {
        FlexNews::Began { .. } => return None,
        FlexNews::Ended(event) => {
            let lane = lanes.iter().find(|lane| lane.of == event.lane);
            let at_rest = lane.and_then(|lane| lane.baseline_ohm);
            (names.short(event.lane), over(event, at_rest.is_some()))
        }
        FlexNews::Gap(one) => ("all".into(), gap(one)),
        FlexNews::Baseline { steps_from_ohm: Some(from) } => {
            ("all".into(), format!("at rest: rises of {} or more are told", ohms(*from)))
        }
        FlexNews::Baseline { steps_from_ohm: None } => {
            ("all".into(), "no resistance can be told: no rises".into())
        }
    })
}

/// How much a conductor has, or how much more than at rest where that is not known.
fn over(event: &FlexEvent, rest_is_known: bool) -> String {
    let long = lasted(event.lasted);
    match (event.kind, event.depth) {
        (FlexKind::Break, Depth::Ohm(ohm)) => format!("broke {long}, up to {}", ohms(ohm)),
        (FlexKind::Break, _) => format!("broke {long}"),
        (FlexKind::Touch, Depth::Ohm(ohm)) => format!("touched {long}, {} between", ohms(ohm)),
        (FlexKind::Touch, _) => format!("touched {long}"),
        (FlexKind::Step, Depth::Ohm(ohm)) if rest_is_known => {
            format!("rose {long}, to {}", ohms(ohm))
        }
        (FlexKind::Step, Depth::Ohm(ohm)) => format!("rose {long}, by {}", ohms(ohm)),
        (FlexKind::Step, _) => format!("rose {long}"),
    }
}

/// "not watched for 0.20 s: 3 messages were lost".
fn gap(gap: &FlexGap) -> String {
    let lost = match (gap.lost_events, gap.dropped_edges) {
        (0, 0) => String::new(),
        (lost, 0) => format!(": {lost} messages of the jig were lost"),
        (0, dropped) => format!(": {dropped} changes came too fast to be told"),
        (lost, dropped) => {
            format!(": {lost} messages were lost, {dropped} changes came too fast to be told")
        }
    };
    format!("not watched for {}{lost}", duration(gap.lasted_us))
}

/// It began so long ago, and is not over.
pub(crate) fn still(kind: FlexKind) -> &'static str {
    match kind {
        FlexKind::Break => "has broken, and stays so",
        FlexKind::Touch => "touch, and stay so",
        FlexKind::Step => "has risen, and stays so",
    }
}
