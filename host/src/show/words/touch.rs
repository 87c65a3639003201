//! What to hold together, and what came of it.

use runproof_interpret::capture::End;
use runproof_interpret::landing::Landed;

use super::landing::wire;
use crate::guide::{ASKED, Wires};

/// What to do at this end, with a label each.
pub(crate) fn touches(end: End, landed: &Landed) -> [(&'static str, String); 3] {
    let [first, second] = ASKED.map(|wires| both(wires, end, landed));
    let (what, how_long) = match end {
        End::Near => (
            "to tell the clips from the run: here, with the supply off, hold the bare ends of these \
             wires together, named by the terminal that they came off.",
            "until this screen has it",
        ),
        End::Far => (
            "to tell the run from the end plug's clips: go to the far end, take the key out, and hold \
             the bare ends of these wires together, named by the terminal that they came off there.",
            "for a slow count of five",
        ),
    };
    [
        ("touch", what.into()),
        ("1", format!("{first}, {how_long}; then let go.")),
        ("2", format!("{second}, {how_long}; then let go.")),
    ]
}

/// What is waited for now.
pub(crate) fn touch(end: End, wires: Wires, landed: &Landed) -> String {
    let place = match end {
        End::Near => "here",
        End::Far => "at the far end",
    };
    format!("{place}, hold together: {} …", both(wires, end, landed))
}

pub(crate) fn touched(end: End, wires: Wires, landed: &Landed) -> String {
    format!("touched: {}.", both(wires, end, landed))
}

pub(crate) const NOT_TOUCHED: &str = "no touch was seen: where the exchange lies stays open.";

fn both([a, b]: Wires, end: End, landed: &Landed) -> String {
    let colours = match end {
        End::Near => landed.near.as_ref(),
        End::Far => landed.far.as_ref(),
    };
    format!("{} and {}", wire(a, colours), wire(b, colours))
}
