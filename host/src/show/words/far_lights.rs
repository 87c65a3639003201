//! The verdict at the far end: how to see it there, and what came of it.

use runproof_interpret::capture::Ending;

use crate::guide::{FarShown, FarVerdict};

/// Why it cannot be shown there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum NotAtFarEnd {
    /// The jig's firmware does not know the lights.
    NotCapable,
    /// A phase is missing.
    NotMeasured,
    /// Where conductors arrive is not known, or voltage was found.
    MapUnknown,
}

pub(in super::super) const WAITS_FOR_TURNED_KEY: &str = "waiting for the key to be turned over …";

pub(in super::super) const FAR_LIT: &str =
    "its lights show the verdict, until the key is taken out …";

/// Behind the step that puts the key in.
pub(super) const TURN_IT: &str = " Then turn the key over, its reverse face in, and wait for its lights: one \
    long light, over and over, is pass; three, fail; two short, cannot tell. Where none comes within a minute, \
    the screen says why. A light that never pauses is voltage on the run.";

/// How to see it, or why it cannot be seen.
pub(in super::super) fn far_end(verdict: Result<&FarVerdict, NotAtFarEnd>, enter: bool) -> String {
    let verdict = match verdict {
        Ok(verdict) => verdict,
        Err(NotAtFarEnd::NotCapable) => {
            return "this jig's firmware does not light the key's lights.".into();
        }
        Err(NotAtFarEnd::NotMeasured) => {
            return "the verdict is not shown by the key's lights: not all was measured.".into();
        }
        Err(NotAtFarEnd::MapUnknown) => {
            return "the verdict cannot be shown by the key's lights: it is not known which conductors reach \
                    them, or nothing may be driven."
                .into();
        }
    };
    let only = match verdict.pairs {
        [true, false] => " Only the pair across 1 and 2 can light.",
        [false, true] => " Only the pair across 3 and 4 can light.",
        _ => "",
    };
    let end = if enter { " Enter ends this." } else { "" };
    format!(
        "to see the verdict there, turn the key over, its reverse face in: one long light, over and over, is pass; \
         three, fail; two short, cannot tell.{only} No light proves nothing, and one that never pauses is voltage \
         on the run.{end}"
    )
}

pub(in super::super) fn far_shown(shown: &FarShown) -> String {
    match shown {
        FarShown::Shown => {
            "the key was turned over, and its lights were driven with the verdict.".into()
        }
        FarShown::NotTurned => "the key was not seen turned over.".into(),
        FarShown::BrokenOff(Ending::Hazard { reason, largest_v }) => format!(
            "DANGER: {reason}, {largest_v:.1} V, after the result. The jig has let go: find the source and remove \
             it before anything is touched."
        ),
        FarShown::BrokenOff(Ending::Stopped { reason } | Ending::Lost { reason }) => {
            format!("the key's lights broke off: {reason}.")
        }
        FarShown::BrokenOff(Ending::Done { .. }) => "the key's lights broke off.".into(),
    }
}
