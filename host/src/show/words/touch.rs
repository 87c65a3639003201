//! What to hold together, and what came of it.

use runproof_interpret::capture::End;
use runproof_interpret::landing::Landed;
use runproof_protocol::Post;

use super::landing::wire;
use crate::guide::{ASKED, Wires};

/// What to do at this end, with a label each.
pub(crate) fn touches(end: End, landed: &Landed) -> Vec<(String, String)> {
    let (what, how_long) = match end {
        End::Near => (
            "to tell the clips from the run: here, supply off and the run proved dead, hold the bare ends \
             of these wires together, two and two in this order, named by the terminal that they came \
             off; each two until this screen has it, then let go.",
            "",
        ),
        End::Far => (
            "to tell the run from the end plug's clips: go to the far end, and with the supply off and \
             the run proved dead there too take the key out, and hold the bare ends of these wires together, \
             two and two in this order, named by the terminal that they came off there.",
            ", for a slow count of five; then let go",
        ),
    };
    let each = ASKED.into_iter().enumerate().map(|(n, wires)| {
        ((n + 1).to_string(), format!("{}{how_long}.", both(wires, end, landed)))
    });
    let skip = "leaves this out; so does waiting in vain.".to_owned();
    [("touch".into(), what.into())]
        .into_iter()
        .chain(each)
        .chain([("Enter".into(), skip)])
        .collect()
}

/// What is waited for now.
pub(crate) fn touch(end: End, wires: Wires, landed: &Landed) -> String {
    let place = match end {
        End::Near => "here",
        End::Far => "at the far end",
    };
    format!("{place}, hold together: {} …", both(wires, end, landed))
}

pub(crate) fn touched(end: End, wires: Wires, posts: (Post, Post), landed: &Landed) -> String {
    format!("touched: {}, seen on posts {} and {}.", both(wires, end, landed), posts.0, posts.1)
}

pub(crate) const NOT_TOUCHED: &str =
    "not all touches were seen: what they would have told stays open.";

fn both([a, b]: Wires, end: End, landed: &Landed) -> String {
    let colours = match end {
        End::Near => landed.near.as_ref(),
        End::Far => landed.far.as_ref(),
    };
    format!("{} and {}", wire(a, colours), wire(b, colours))
}
