//! Which guesses explain the readings, the best first.

use super::{Expected, Fitted, Map, hypothesis};
use crate::resistances::PairResistances;

/// A guess whose score is not above the best one's by more than this is a rival. [judgement]
const RIVAL_WITHIN: f64 = 9.0;

/// A χ² above this is not noise: by chance, one in tens of millions (5 degrees of freedom).
const EXPLAINED_MAX: f64 = 45.0;

/// What the guesses come to.
#[derive(Clone, Debug)]
pub(crate) enum Ranking {
    /// One map explains the readings.
    Found(Fitted),
    /// Several do; the best guess of each, the best first.
    Ambiguous(Vec<Fitted>),
    /// None does; the best guess of all, if any could be fitted.
    Unexplained(Option<Fitted>),
}

/// Tries every map, each without joints and with joints on one and on two conductors. Three
/// resistances could be explained by any map and joints, so among three there are none.
pub(crate) fn rank(expected: &Expected, measured: &PairResistances) -> Ranking {
    let posts = if measured.posts.len() == 4 { measured.posts.as_slice() } else { &[] };
    let mut joints = vec![vec![]];
    for (index, post) in posts.iter().enumerate() {
        joints.push(vec![*post]);
        joints.extend(posts[index + 1..].iter().map(|other| vec![*post, *other]));
    }
    let mut guesses: Vec<Fitted> = Map::all()
        .filter_map(|map| {
            let fits =
                joints.iter().filter_map(|joints| hypothesis::fit(expected, measured, map, joints));
            fits.min_by(|a, b| a.score.total_cmp(&b.score))
        })
        .collect();
    guesses.sort_by(|a, b| a.score.total_cmp(&b.score));
    let Some(best) = guesses.first().cloned() else {
        return Ranking::Unexplained(None);
    };
    if !(best.chi_squared <= EXPLAINED_MAX) {
        return Ranking::Unexplained(Some(best));
    }
    guesses.retain(|guess| guess.score - best.score <= RIVAL_WITHIN);
    if guesses.len() > 1 { Ranking::Ambiguous(guesses) } else { Ranking::Found(best) }
}
