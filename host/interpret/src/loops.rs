//! Two conductors in series: the loop of a two-wire bus, and the two loops of a four-conductor run.

use runproof_protocol::Post;

use crate::held::Held;
use crate::judgement::{COVERAGE_FACTOR, Loop, Reason, Verdict};
use crate::limits::ConductorName::{Common, DataMinus, DataPlus, Supply};
use crate::limits::{Arrangement, LimitSheet};
use crate::survey::Survey;

/// One row a loop that the sheet limits; none where it limits none, or by a wire not told.
pub(crate) fn loops(sheet: &LimitSheet, held: Option<Held>, survey: &Survey) -> Vec<Loop> {
    let Some(held) = held else {
        return vec![];
    };
    let row = |posts| row(posts, between(posts, survey), held);
    if sheet.arrangement == Arrangement::TwoWire {
        return vec![row([Post::P1, Post::P2])];
    }
    let pairs = [[DataPlus, DataMinus], [Common, Supply]];
    let posts = pairs.map(|[a, b]| Some([sheet.post_of(a)?, sheet.post_of(b)?]));
    posts.into_iter().flatten().map(row).collect()
}

fn row(posts: [Post; 2], measured: Option<(f64, f64)>, held: Held) -> Loop {
    let reason = measured.map_or(Reason::NotMeasured, |(ohm, u_ohm)| held.decide(ohm, u_ohm));
    Loop {
        posts,
        verdict: measured.map_or(Verdict::CannotTell, |_| held.verdict(reason)),
        reason,
        resistance_ohm: measured.map(|(ohm, _)| ohm),
        expanded_uncertainty_ohm: measured.map(|(_, u_ohm)| COVERAGE_FACTOR * u_ohm),
        limit_ohm: held.ohm,
        limit_expanded_uncertainty_ohm: COVERAGE_FACTOR * held.u_ohm,
    }
}

/// Resistance and its standard uncertainty. Two conductors' errors may be of one mind: at the most
/// they add up.
fn between(posts: [Post; 2], survey: &Survey) -> Option<(f64, f64)> {
    if let Some(whole) = &survey.whole_loop {
        return Some((whole.ohm, whole.budget.combined_ohm()));
    }
    let leg = |post| survey.legs.iter().find(|leg| leg.post == post);
    let (a, b) = (leg(posts[0])?, leg(posts[1])?);
    Some((a.ohm + b.ohm, a.budget.combined_ohm() + b.budget.combined_ohm()))
}
