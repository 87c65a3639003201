//! What stands on the screen of a watch beside numbers.

use runproof_interpret::flex::{FlexLane, Now};

use super::numbers::{ohms, rise};

pub(crate) const KEYS: &str = " m  mark where you are    q, Enter, Esc  end it";
pub(crate) const NOTING: &str = " Enter  keep it    Esc  not";
pub(crate) const MARK: &str = "mark: ";
pub(crate) const BREAKS_LEGEND: &str = " ─ carries  ▄ rose  █ broke  · not watched  ▼ mark";
pub(crate) const TOUCHES_LEGEND: &str = " ─ apart  █ touched  · not watched  ▼ mark";
pub(crate) const BREAKS_HEARD: &str = " the jig ticks: all carry; sounds high: one broke";
pub(crate) const TOUCHES_HEARD: &str = " the jig ticks: all apart; low, rough: two touch";
pub(crate) const BEGINS: &str = " the jig begins: hands off until it ticks …";

/// At the top: what is watched, and how long already.
pub(crate) fn title(is_pairs: bool, watched: &str) -> String {
    let what = if is_pairs { "who touches?" } else { "who breaks?" };
    format!(" flex: {what}  {watched} watched")
}

/// How a lane is; nothing where it is another's turn, and it stays as it was.
pub(crate) fn now(lane: &FlexLane) -> Option<String> {
    Some(match lane.now {
        Now::Carries { ohm: Some(ohm), .. } => ohms(ohm),
        Now::Carries { rise_ohm: Some(more), .. } => rise(more),
        Now::Carries { .. } => "carries".into(),
        Now::Broken { .. } => "BROKEN".into(),
        Now::Apart => "apart".into(),
        Now::Touching { .. } => "TOUCHES".into(),
        Now::NotKnown => "not known".into(),
        Now::NotWatchedNow => return None,
    })
}
