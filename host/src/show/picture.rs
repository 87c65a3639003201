//! The run, drawn: both ends, the posts, conductors as they really go, and what was read on them.

mod check;
mod drawing;
mod earth;
mod live;

use maud::Markup;

use super::described::Described;
use super::judged::Judged;

/// A drawing for a page, which says in words what it shows; none of what has no place along the run.
pub(super) fn picture(judged: &Judged, told: &Described, id: &str) -> Option<Markup> {
    let drawing = match judged {
        Judged::Check(_, judgement) => match &judgement.to_earth {
            Some(to_earth) => earth::drawn(to_earth, judgement),
            None => check::drawn(judgement),
        },
        Judged::Reel(_, judgement) => check::of_reel(judgement),
        Judged::Live(_, judgement) => live::drawn(judgement, &told.table),
        Judged::Flex(..) => return None,
    };
    Some(drawing.svg(id, &told.table))
}
