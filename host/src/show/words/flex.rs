//! What a watch of a flexed run saw, in sentences.

mod finding;
mod headline;
mod marks;
mod names;
mod news;
mod next_step;
mod notes;
mod numbers;
#[cfg(feature = "screen")]
mod screen;
mod steps;

pub(crate) use finding::finding;
pub(crate) use headline::headline;
pub(crate) use marks::marks;
pub(crate) use names::Names;
pub(crate) use news::{happened, still};
pub(crate) use next_step::next_step;
pub(crate) use notes::notes;
pub(crate) use numbers::{duration, ohms, rise};
#[cfg(feature = "screen")]
pub(crate) use screen::*;
pub(crate) use steps::steps;

use runproof_interpret::judgement::{FlexFinding, FlexFindingKind, FlexJudgement};

/// Whoever flexes must know it is dead.
pub(crate) const CAUTION: &str = super::CAUTION;

/// The jig let go of the run.
pub(crate) const HAZARD: &str = "voltage came onto the run while it was watched: do not touch it, keep others off. Whoever is licensed \
    finds and isolates its source, and proves the run dead with a rated meter; only then do the clips come off.";

/// How sure durations are.
pub(crate) const PRECISION: &str = "durations are within ± 20 µs or 5 %, whichever is more; at the far end of 150 m a break \
    reads up to 15 µs short, a touch up to 15 µs long.";

/// How it is at rest forbids it.
pub(crate) fn not_watched(at_rest: &str) -> String {
    format!("the run was not watched: {at_rest}")
}

/// Whether a lane that broke or touched was never otherwise.
fn from_beginning(one: &FlexFinding, judgement: &FlexJudgement) -> bool {
    let is_such =
        |other: &FlexFinding| other.kind == FlexFindingKind::NeverGood && other.lane == one.lane;
    matches!(one.kind, FlexFindingKind::Breaks | FlexFindingKind::Touches)
        && judgement.findings.iter().any(is_such)
}

/// What was found, each once.
pub(crate) fn found(judgement: &FlexJudgement) -> impl Iterator<Item = &FlexFinding> {
    told(judgement).filter(|one| !from_beginning(one, judgement))
}

/// What was found; of a run that was not watched nothing follows from that.
fn told(judgement: &FlexJudgement) -> impl Iterator<Item = &FlexFinding> {
    use FlexFindingKind::{Hum, NeverGood, NotWatched};
    let was_watched = !judgement.found(NotWatched);
    let follows = |one: &&FlexFinding| matches!(one.kind, NeverGood | Hum);
    judgement.findings.iter().filter(move |one| was_watched || !follows(one))
}

/// The jig went away, and may come back.
pub(crate) const LOST: &str = "the jig is gone: it is looked for, for 10 s …";
pub(crate) const FOUND_AGAIN: &str = "the jig is there again, and watches on.";

/// Of a build without the screen.
#[cfg(not(feature = "screen"))]
pub(crate) const NO_SCREEN: &str = "this build tells what happens line by line; the screen with a lane for each conductor is in the \
    build of `cargo build --release --all-features`.";

/// How to mark and end, where lines are typed.
pub(crate) const HOW_TO_END: &str =
    "type what you do, such as `at the elbow`, and Enter: a mark. Enter alone ends it.";

/// An earlier watch that did not come to its end.
pub(crate) fn left_over(path: &str) -> String {
    format!(
        "an earlier watch was cut off. What it saw until its last minute is kept in {path}: `runproof records import` takes it in."
    )
}
