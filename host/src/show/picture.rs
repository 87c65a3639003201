//! The run, drawn: both ends, the posts, conductors as they really go, and what was read on them.

mod check;
mod drawing;
mod earth;
mod live;

use maud::Markup;

use super::described::Described;
use super::judged::Judged;

/// A drawing for a page, which says in words what it shows.
pub(super) fn picture(judged: &Judged, told: &Described, id: &str) -> Markup {
    let drawing = match judged {
        Judged::Check(_, judgement) => match &judgement.to_earth {
            Some(to_earth) => earth::drawn(to_earth, judgement),
            None => check::drawn(judgement),
        },
        Judged::Reel(_, judgement) => check::of_reel(judgement),
        Judged::Live(_, judgement) => live::drawn(judgement, &told.table),
    };
    drawing.svg(id, &told.table)
}
