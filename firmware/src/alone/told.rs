//! What lamps and sounder tell of a phase that was measured without a host.

use runproof_protocol::{Event, Phase, Signs, Tune};

use super::{Seen, joined, maps};

/// By the event that ended it, and what was seen of it until then; of a plug phase by what the open phase before
/// it showed as well.
#[must_use]
pub fn told(ended: &Event, phase: Phase, seen: &Seen, before: Option<Signs>) -> Signs {
    match (ended, phase) {
        (Event::Hazard { .. }, _) => Signs::HAZARD,
        (Event::Done { .. }, Phase::Open) => joined::signs(seen),
        (Event::Done { .. }, Phase::Plug) => both(maps::signs(seen), before),
        _ => Signs::CANNOT_TELL,
    }
}

/// Good is what both phases say; what the first found stays found.
fn both(plug: Signs, open: Option<Signs>) -> Signs {
    match open {
        Some(open) if plug.tune == Tune::Next && open.tune == Tune::Next => {
            Signs { tune: Tune::Pass, ..plug }
        }
        Some(open) if plug.tune == Tune::Next => open,
        _ => plug,
    }
}
