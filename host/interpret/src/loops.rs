//! Two conductors in series: the loop of a two-wire bus, and the two loops of a four-conductor run.

use runproof_protocol::Post;

use crate::copper::Calculated;
use crate::held::Held;
use crate::judgement::{COVERAGE_FACTOR, Loop, Reason, Verdict};
use crate::limits::ConductorName::{Common, DataMinus, DataPlus, Supply};
use crate::limits::{Arrangement, LimitSheet};
use crate::survey::Survey;

/// One row a loop and limit, with the limit; none where the sheet has none, or only by a wire that
/// was not told.
pub(crate) fn loops(
    sheet: &LimitSheet,
    wire: Option<Calculated>,
    survey: &Survey,
) -> Vec<(Loop, Held)> {
    let held = Held::around(sheet, wire);
    let each = pairs(sheet).into_iter().flat_map(|posts| {
        let measured = between(posts, survey);
        held.iter().map(move |held| (row(posts, measured, *held), *held))
    });
    each.collect()
}

fn pairs(sheet: &LimitSheet) -> Vec<[Post; 2]> {
    if sheet.arrangement == Arrangement::TwoWire {
        return vec![[Post::P1, Post::P2]];
    }
    let pairs = [[DataPlus, DataMinus], [Common, Supply]];
    let posts = pairs.map(|[a, b]| Some([sheet.post_of(a)?, sheet.post_of(b)?]));
    posts.into_iter().flatten().collect()
}

fn row(posts: [Post; 2], measured: Option<(f64, f64)>, held: Held) -> Loop {
    let reason = measured
        .map_or(Reason::NotMeasured, |(ohm, u_ohm)| held.decide(ohm, COVERAGE_FACTOR * u_ohm));
    Loop {
        posts,
        verdict: measured.map_or(Verdict::CannotTell, |_| held.verdict(reason)),
        reason,
        resistance_ohm: measured.map(|(ohm, _)| ohm),
        expanded_uncertainty_ohm: measured.map(|(_, u_ohm)| COVERAGE_FACTOR * u_ohm),
        limit_ohm: held.ohm,
        limit_expanded_uncertainty_ohm: COVERAGE_FACTOR * held.u_ohm,
        conformance: measured.and_then(|(ohm, u_ohm)| held.conformance(ohm, u_ohm)),
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
