//! Does something hang on each post in the open phase? Told by how long the post takes to rise.

use runproof_protocol::{Phase, Post};

use crate::capacitance::capacitances;
use crate::capture::Capture;

/// What hangs on a post.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hanging {
    /// So many picofarads, beyond the jig's own.
    Picofarads(f64),
    /// Something that conducts: it did not rise in time.
    Held,
    /// It was not timed.
    NotTimed,
}

/// What hangs on each post at the end of `phase`, where posts are timed.
#[must_use]
pub fn hanging(capture: &Capture, phase: Phase) -> [Hanging; 4] {
    Post::ALL.map(|post| {
        if let Some([one]) = capacitances(capture, phase, [post]).as_deref() {
            return Hanging::Picofarads(one.picofarads);
        }
        let mut with_run =
            capture.rises(phase).filter(|rise| rise.post == post && rise.relays_closed);
        let held = with_run.any(|rise| rise.micros.iter().any(Option::is_none));
        if held { Hanging::Held } else { Hanging::NotTimed }
    })
}
