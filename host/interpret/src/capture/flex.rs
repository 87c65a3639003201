//! What is kept of a run that was flexed, as entries of a capture.

use serde::{Deserialize, Serialize};

use super::{Capture, Entry};
use crate::flex::{
    Depth, FlexEvent, FlexGap, FlexHead, FlexLane, FlexMark, FlexRecord, MARK_CHARS_MAX, Now,
};

/// A piece of a watch; all behind a head belong to it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum FlexEntry {
    /// A watch begins.
    #[serde(rename = "flex")]
    Head(FlexHead),
    /// One of its lanes.
    #[serde(rename = "flex_lane")]
    Lane(FlexLane),
    /// One of its events.
    #[serde(rename = "flex_event")]
    Event(FlexEvent),
    /// One of its gaps.
    #[serde(rename = "flex_gap")]
    Gap(FlexGap),
    /// One of its marks.
    #[serde(rename = "flex_mark")]
    Mark(FlexMark),
}

/// No resistance that is told is larger, and none is smaller than its negative.
const OHM_MAX: f64 = 1e6;

impl FlexEntry {
    /// By which a line is known.
    pub(super) const KEYS: [&str; 5] = ["flex", "flex_lane", "flex_event", "flex_gap", "flex_mark"];

    pub(super) const EXPECTED: &str =
        "what is kept of a flexed run, each of a kind and a size that a watch can have";

    /// Whether a watch can have it.
    pub(super) fn is_possible(&self) -> bool {
        let small = |ohm: f64| ohm.abs() <= OHM_MAX;
        let all = |ohms: &[Option<f64>]| ohms.iter().flatten().all(|ohm| small(*ohm));
        match self {
            Self::Head(head) => {
                let steps = head.steps_from_ohm.is_none_or(|from| from > 0.0);
                let step = head.step_ohm > 0.0 && small(head.step_ohm);
                step && steps && all(&head.baseline_ohm) && all(&[head.steps_from_ohm])
            }
            Self::Lane(lane) => {
                let ohms = [
                    lane.baseline_ohm,
                    lane.least_rise_ohm,
                    lane.most_rise_ohm,
                    lane.least_touch_ohm,
                    lane.largest_step_ohm,
                ];
                let now = match lane.now {
                    Now::Carries { ohm, rise_ohm } => all(&[ohm, rise_ohm]),
                    _ => true,
                };
                let counted =
                    lane.durations.iter().try_fold(0_u64, |sum, one| sum.checked_add(*one));
                now && all(&ohms) && counted == Some(lane.count)
            }
            Self::Event(event) => !matches!(event.depth, Depth::Ohm(ohm) if !small(ohm)),
            Self::Gap(_) => true,
            Self::Mark(mark) => mark.text.chars().count() <= MARK_CHARS_MAX,
        }
    }
}

impl Capture {
    /// Adds what is kept of a watch.
    pub fn push_flex(&mut self, record: FlexRecord) {
        let FlexRecord { head, lanes, events, gaps, marks } = record;
        let head = std::iter::once(FlexEntry::Head(head));
        let all = head
            .chain(lanes.into_iter().map(FlexEntry::Lane))
            .chain(events.into_iter().map(FlexEntry::Event))
            .chain(gaps.into_iter().map(FlexEntry::Gap))
            .chain(marks.into_iter().map(FlexEntry::Mark));
        self.entries.extend(all.map(|one| Entry::Flex(Box::new(one))));
    }

    /// Its watches, in the order they came.
    #[must_use]
    pub fn flexes(&self) -> Vec<FlexRecord> {
        let mut all: Vec<FlexRecord> = vec![];
        for entry in &self.entries {
            let Entry::Flex(entry) = entry else { continue };
            match (&**entry, all.last_mut()) {
                (FlexEntry::Head(head), _) => all.push(FlexRecord {
                    head: head.clone(),
                    lanes: vec![],
                    events: vec![],
                    gaps: vec![],
                    marks: vec![],
                }),
                (FlexEntry::Lane(lane), Some(watch)) => watch.lanes.push(*lane),
                (FlexEntry::Event(event), Some(watch)) => watch.events.push(*event),
                (FlexEntry::Gap(gap), Some(watch)) => watch.gaps.push(*gap),
                (FlexEntry::Mark(mark), Some(watch)) => watch.marks.push(mark.clone()),
                // Without a head it is nobody's.
                (_, None) => {}
            }
        }
        all
    }

    /// Whether a run was flexed for it.
    #[must_use]
    pub fn is_flex(&self) -> bool {
        self.entries.iter().any(|entry| matches!(entry, Entry::Flex(_)))
    }
}
