//! What the marks say: whatever happened near one in time is counted to it.

use runproof_interpret::flex::{FlexEvent, FlexKind, FlexRecord};

use super::Names;
use super::numbers::times;

/// Who flexes hears it at once, and needs a moment to say where. (judgement)
const NEAR_US: u64 = 5_000_000;

/// Of many marks the first.
const TOLD_MAX: usize = 20;

/// "12.3 s, “at the elbow”: data− broke 5 times within 5 s".
pub(crate) fn marks(watch: &FlexRecord, names: &Names) -> Vec<String> {
    let from = watch.head.from_us.unwrap_or_default();
    let mut told: Vec<String> = watch
        .marks
        .iter()
        .take(TOLD_MAX)
        .map(|mark| {
            let near: Vec<&FlexEvent> = watch
                .events
                .iter()
                .filter(|event| nearest(watch, event) == Some(mark.at.0))
                .collect();
            let at_s = mark.at.0.saturating_sub(from) as f64 / 1e6;
            format!("{at_s:.1} s, “{}”: {}", mark.text, counted(&near, names))
        })
        .collect();
    let more = watch.head.marks.saturating_sub(told.len() as u64);
    if more > 0 {
        told.push(format!("and {more} marks more"));
    }
    told
}

/// The time of the mark that this event is counted to.
fn nearest(watch: &FlexRecord, event: &FlexEvent) -> Option<u64> {
    let end = event.at.0.saturating_add(event.lasted.micros());
    let away = |mark: u64| event.at.0.saturating_sub(mark).max(mark.saturating_sub(end));
    let all = watch.marks.iter().map(|mark| (away(mark.at.0), mark.at.0));
    all.min().filter(|(away, _)| *away <= NEAR_US).map(|(_, at)| at)
}

fn counted(near: &[&FlexEvent], names: &Names) -> String {
    let mut groups: Vec<(String, u64)> = vec![];
    for event in near {
        let what = match event.kind {
            FlexKind::Break => "broke",
            FlexKind::Touch => "touched",
            FlexKind::Step => "rose",
        };
        let what = format!("{} {what}", names.lane(event.lane));
        match groups.iter_mut().find(|(told, _)| *told == what) {
            Some((_, count)) => *count += 1,
            None => groups.push((what, 1)),
        }
    }
    if groups.is_empty() {
        return "nothing within 5 s".into();
    }
    let told: Vec<String> =
        groups.iter().map(|(what, count)| format!("{what} {}", times(*count))).collect();
    format!("{} within 5 s", told.join(", "))
}
