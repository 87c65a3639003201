//! Which guesses explain the readings, the best first.

use nalgebra::DMatrix;

use super::{Expected, Fitted, Suspect, hypothesis};
use crate::map::Map;
use crate::resistances::PairResistances;

/// A guess whose score is not above the best one's by more than this is a rival. [judgement]
pub(crate) const RIVAL_WITHIN: f64 = 9.0;

/// A χ² above this is not noise, by degrees of freedom: 1, 2 … 5. By chance, one in seventy million
/// (45 with 5 degrees of freedom [judgement], the others at the same tail of their distribution).
const EXPLAINED_MAX: [f64; 5] = [32.12, 36.10, 39.37, 42.29, 45.0];

/// More suspects than these are not named: of six readings too few would be left to prove them.
const NAMED_MAX: usize = 2;

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

/// Tries every map: alone, with a suspect, and with two where four posts are connected.
///
/// A bypass is not named yet, but it must not be taken for joints: where the map alone does not do
/// and a bypass explains the readings with no more suspects, best or nearly as well as joints do,
/// nothing is found. Three joints at once are not named either, but a straight run with three may be
/// what looks like crossed conductors with fewer.
pub(crate) fn rank(expected: &Expected, measured: &PairResistances) -> Ranking {
    let mut maps = guesses(expected, measured);
    maps.sort_by(|a, b| a[0].score.total_cmp(&b[0].score));
    let Some(guesses) = maps.first() else {
        return Ranking::Unexplained(None);
    };
    let best = &guesses[0];
    let near = |guess: &&Fitted| guess.score - best.score <= RIVAL_WITHIN;
    let plain = guesses.iter().find(|guess| guess.is_plain()).filter(near);
    let as_simple = |guess: &Fitted| guess.suspects() <= best.suspects();
    let bypassed = plain.is_none()
        && guesses.iter().filter(near).any(|one| one.bypass.is_some() && as_simple(one));
    let found = plain.filter(|_| best.bypass.is_some()).unwrap_or(best);
    if bypassed || found.suspects() > NAMED_MAX || !explained(found) {
        return Ranking::Unexplained(Some(best.clone()));
    }
    let rivals: Vec<Fitted> =
        maps.iter().map(|guesses| &guesses[0]).filter(near).cloned().collect();
    if rivals.len() > 1 { Ranking::Ambiguous(rivals) } else { Ranking::Found(found.clone()) }
}

/// The guesses of each map, the best first. Those whose penalty alone keeps them from being rivals are
/// not fitted.
fn guesses(expected: &Expected, measured: &PairResistances) -> Vec<Vec<Fitted>> {
    let mut least = f64::INFINITY;
    let unfitted = |map| (map, expected.covariance(map, measured), vec![]);
    let mut maps: Vec<(Map, DMatrix<f64>, Vec<Fitted>)> = Map::all().map(unfitted).collect();
    for suspects in suspects(measured) {
        for (map, fixed, guesses) in &mut maps {
            let straight_only = suspects.len() > NAMED_MAX;
            if straight_only && map.moved().next().is_some()
                || hypothesis::penalty(*map, suspects.len()) > least + RIVAL_WITHIN
            {
                continue;
            }
            if let Some(guess) = hypothesis::fit(expected, measured, *map, fixed, &suspects) {
                least = least.min(guess.score);
                guesses.push(guess);
            }
        }
    }
    let mut maps: Vec<Vec<Fitted>> = maps.into_iter().map(|(_, _, guesses)| guesses).collect();
    maps.retain(|guesses| !guesses.is_empty());
    for guesses in &mut maps {
        guesses.sort_by(|a, b| a.score.total_cmp(&b.score));
    }
    maps
}

fn explained(guess: &Fitted) -> bool {
    let most = guess.degrees_of_freedom.checked_sub(1).and_then(|k| EXPLAINED_MAX.get(k));
    most.is_some_and(|most| guess.chi_squared <= *most)
}

/// What may be wrong, the simplest first.
fn suspects(measured: &PairResistances) -> Vec<Vec<Suspect>> {
    let mut all = vec![vec![]];
    all.extend(measured.posts.iter().map(|post| vec![Suspect::Joint(*post)]));
    if measured.posts.len() == 4 {
        all.extend(measured.posts.iter().map(|sound| {
            let others = measured.posts.iter().filter(|post| *post != sound);
            others.map(|post| Suspect::Joint(*post)).collect()
        }));
        for (a, b) in &measured.pairs {
            all.push(vec![Suspect::Joint(*a), Suspect::Joint(*b)]);
            all.push(vec![Suspect::Bypass(*a, *b)]);
            all.extend(
                measured
                    .posts
                    .iter()
                    .map(|post| vec![Suspect::Joint(*post), Suspect::Bypass(*a, *b)]),
            );
        }
    }
    if measured.nothing_between {
        all.retain(|some| some.iter().all(|one| matches!(one, Suspect::Joint(_))));
    }
    all.sort_by_key(Vec::len);
    all
}

/// The density of χ², integrated from each limit on (Simpson's rule).
#[test]
fn the_limits_have_one_tail_in_common() {
    let root_pi = std::f64::consts::PI.sqrt();
    let gamma_of_half = [root_pi, 1.0, root_pi / 2.0, 1.0, root_pi * 3.0 / 4.0];
    for (index, (limit, gamma)) in EXPLAINED_MAX.into_iter().zip(gamma_of_half).enumerate() {
        let half = (index + 1) as f64 / 2.0;
        let density = |x: f64| x.powf(half - 1.0) * (-x / 2.0).exp() / (2.0_f64.powf(half) * gamma);
        let step = 0.05;
        let weighted = (0..=2000).map(|n| {
            let weight = if n == 0 || n == 2000 { 1.0 } else { 2.0 + 2.0 * f64::from(n % 2) };
            weight * density(limit + step * f64::from(n))
        });
        let tail = weighted.sum::<f64>() * step / 3.0;
        assert!((tail / 1.4509e-8 - 1.0).abs() < 0.02, "{}: {tail}", index + 1);
    }
}
