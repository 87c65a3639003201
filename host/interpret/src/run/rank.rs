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
    let suspects = suspects(measured);
    // The guesses of each map, the best first; the map with the best guess first.
    let mut maps: Vec<Vec<Fitted>> = Map::all()
        .map(|map| {
            let fits = suspects.iter().map(|some| hypothesis::fit(expected, measured, map, some));
            let mut guesses: Vec<Fitted> = fits.flatten().collect();
            guesses.sort_by(|a, b| a.score.total_cmp(&b.score));
            guesses
        })
        .filter(|guesses| !guesses.is_empty())
        .collect();
    maps.sort_by(|a, b| a[0].score.total_cmp(&b[0].score));
    let Some(guesses) = maps.first() else {
        return Ranking::Unexplained(None);
    };
    let best = &guesses[0];
    let near = |guess: &&Fitted| guess.score - best.score <= RIVAL_WITHIN;
    let plain = guesses.iter().find(|guess| guess.is_plain()).filter(near);
    let bypassed = plain.is_none() && guesses.iter().filter(near).any(|one| one.bypass.is_some());
    if bypassed || !(best.chi_squared <= EXPLAINED_MAX) {
        return Ranking::Unexplained(Some(best.clone()));
    }
    let found = plain.filter(|_| best.bypass.is_some()).unwrap_or(best);
    let rivals: Vec<Fitted> =
        maps.iter().map(|guesses| &guesses[0]).filter(near).cloned().collect();
    if rivals.len() > 1 { Ranking::Ambiguous(rivals) } else { Ranking::Found(found.clone()) }
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
