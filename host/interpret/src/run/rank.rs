//! Which guesses explain the readings, the best first.

use super::{Expected, Fitted, Map, Suspect, hypothesis};
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

/// Tries every map: alone, with a suspect, and with two joints where four posts are connected.
///
/// A bypass is not named yet, but it must not be taken for joints: where the map alone does not do
/// and a bypass explains the readings best, or nearly as well as joints do, nothing is found.
pub(crate) fn rank(expected: &Expected, measured: &PairResistances) -> Ranking {
    let all = suspects(measured);
    let fits =
        |map| all.iter().filter_map(move |some| hypothesis::fit(expected, measured, map, some));
    let mut guesses: Vec<Fitted> =
        Map::all().filter_map(|map| fits(map).min_by(|a, b| a.score.total_cmp(&b.score))).collect();
    guesses.sort_by(|a, b| a.score.total_cmp(&b.score));
    let Some(mut best) = guesses.first().cloned() else {
        return Ranking::Unexplained(None);
    };
    let near = |guess: &Fitted| guess.score - guesses[0].score <= RIVAL_WITHIN;
    let plain = fits(best.map).find(|guess| guess.is_plain() && near(guess));
    let bypassed = plain.is_none() && fits(best.map).any(|one| one.bypass.is_some() && near(&one));
    if bypassed || !(best.chi_squared <= EXPLAINED_MAX) {
        return Ranking::Unexplained(Some(best));
    }
    if let Some(plain) = plain.filter(|_| best.bypass.is_some()) {
        best = plain;
    }
    let rivals: Vec<Fitted> = guesses.iter().filter(|guess| near(guess)).cloned().collect();
    if rivals.len() > 1 { Ranking::Ambiguous(rivals) } else { Ranking::Found(best) }
}

fn suspects(measured: &PairResistances) -> Vec<Vec<Suspect>> {
    let mut all = vec![vec![]];
    all.extend(measured.posts.iter().map(|post| vec![Suspect::Joint(*post)]));
    if measured.posts.len() == 4 {
        for (a, b) in &measured.pairs {
            all.push(vec![Suspect::Joint(*a), Suspect::Joint(*b)]);
            all.push(vec![Suspect::Bypass(*a, *b)]);
        }
    }
    all
}
