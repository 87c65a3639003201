//! What was seen when wires were held together, touch by touch, and what it shows.

use runproof_interpret::capture::{End, Touch};
use runproof_interpret::judgement::{Cause, Finding};
use runproof_interpret::{Judgement, LimitSheet};
use runproof_protocol::Post;

use super::{between, conductor, terminal};

/// One touch, with the end as its label.
pub(crate) fn touch_seen(
    touch: &Touch,
    posts: Option<(Post, Post)>,
    sheet: &LimitSheet,
) -> (&'static str, String) {
    let label = match touch.end {
        End::Near => "touched here",
        End::Far => "touched far",
    };
    let name = |terminal| {
        let found = sheet.conductors.iter().find(|one| one.terminal == terminal);
        found.map_or("unknown", |one| conductor(one.name))
    };
    let wires = format!("{} and {}", name(touch.terminals[0]), name(touch.terminals[1]));
    let seen =
        posts.map_or("no two posts met by it, or more than two: it does not count".into(), |met| {
            let pair = Post::PAIRS.iter().position(|pair| *pair == met);
            let ohm = between::ohms(pair.and_then(|at| touch.ohm[at]));
            format!("posts {} and {} met, at some {ohm}", met.0, met.1)
        });
    (label, format!("{wires}: {seen}."))
}

/// What all touches show together, place by place.
pub(crate) fn placed(judgement: &Judgement) -> Vec<String> {
    let placed = &judgement.placed;
    let on_wire =
        |wire, post: Post| format!("clip {post} is on {}'s wire", terminal(wire, judgement));
    let arrives =
        |wire, at| format!("{} arrives at {}", terminal(wire, judgement), terminal(at, judgement));
    let told = [
        placed.clips.map(|map| each("the clips here", map, on_wire)),
        placed.run.map(|map| each("the run", map, arrives)),
        placed.plug_end.map(|map| each("the end plug's clips", map, on_wire)),
    ];
    let told: Vec<String> = told.into_iter().flatten().collect();
    if told.is_empty() {
        let disagree = |one: &Finding| one.cause == Some(Cause::TouchesDisagree);
        let nothing = if judgement.findings.iter().any(disagree) {
            "nothing: they do not fit together."
        } else {
            "nothing: they are too few to tell the clips from the run."
        };
        return vec![nothing.into()];
    }
    told
}

/// Where a map is not straight, terminal by terminal.
fn each(what: &str, map: [Post; 4], told: impl Fn(Post, Post) -> String) -> String {
    let moved = Post::ALL.into_iter().zip(map).filter(|(from, to)| from != to);
    let moved: Vec<String> = moved.map(|(from, to)| told(from, to)).collect();
    match moved.as_slice() {
        [] => format!("{what}: straight."),
        moved => format!("{what}: {}.", moved.join(", ")),
    }
}
