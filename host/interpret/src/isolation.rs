//! The open phase: what joins the conductors while the far end stands open.
//!
//! Good paths are read from the pairs, as voltage over current; poor ones from the leakage step. Both
//! must tell the same where both can tell: what conducts only beyond a voltage does not.

mod joined;
mod leakage;
mod paths;

use joined::Joined;
use paths::PAIRS_MAX_OHM;
pub(crate) use paths::{OHM_MAX, Path};
use runproof_protocol::{Phase, Post};

use crate::capture::{Capture, JigConstants};
use crate::glance::THROUGH_THE_PLUG_OHM;
use crate::judgement::{self, COVERAGE_FACTOR, Cause, FindingKind};
use crate::observations::Observations;
use crate::obstacle::Obstacle;
use crate::resistances;
use crate::{completeness, live};

/// What was found between the conductors.
#[derive(Clone, Debug)]
pub(crate) struct Isolation {
    /// In the order of [`Post::PAIRS`].
    pub(crate) paths: [Path; 6],
}

impl Isolation {
    pub(crate) fn of(capture: &Capture) -> Result<Self, Obstacle> {
        let isolation = Self::measured(capture, false)?;
        if isolation.looks_like_the_plug() {
            return Err(Obstacle::incomplete(Cause::PlugNotOut));
        }
        Ok(isolation)
    }

    /// Where posts may rightly be joined: what leaks to several of them is told as a whole, to each the same.
    pub(crate) fn of_joined(capture: &Capture) -> Result<Self, Obstacle> {
        Self::measured(capture, true)
    }

    fn measured(capture: &Capture, may_be_joined: bool) -> Result<Self, Obstacle> {
        if !completeness::begun(capture, Phase::Open) {
            return Err(Obstacle::incomplete(Cause::OpenNotMeasured));
        }
        completeness::check(capture, Phase::Open)?;
        live::check(capture, Phase::Open)?;
        let jig = &capture.head.jig;
        let observations = Observations::of(capture, Phase::Open)?;
        let (swings, joined) = if may_be_joined {
            let swings = resistances::joined_swings(&observations, jig, PAIRS_MAX_OHM)?;
            (swings, Joined::of(&swings))
        } else {
            (resistances::open_swings(&observations, jig)?, Joined::NONE)
        };
        let leaks = leakage::between(capture, jig, &swings, &joined)?;
        let paths = paths::of(&swings, &leaks, jig);
        check_joined(&paths, &observations, jig)?;
        Ok(Self { paths })
    }

    /// Only what is surely a short: where hum or a moving contact keeps the rest from being told. The
    /// other paths are left open, at nothing or more.
    pub(crate) fn shorts_alone(capture: &Capture) -> Option<Self> {
        completeness::check(capture, Phase::Open).ok()?;
        live::check(capture, Phase::Open).ok()?;
        let observations = Observations::of(capture, Phase::Open).ok()?;
        let swings = resistances::open_swings(&observations, &capture.head.jig).ok()?;
        let pairs = swings.iter().zip(&observations.pairs);
        let isolation = Self { paths: paths::shorts_alone(pairs) };
        let any = !isolation.shorted().is_empty() && !isolation.looks_like_the_plug();
        any.then_some(isolation)
    }

    /// Three or four posts that meet, each two of them by more than copper has: the end plug's ring.
    fn looks_like_the_plug(&self) -> bool {
        let is_ring =
            |group: &[Post]| self.among(group).all(|path| THROUGH_THE_PLUG_OHM.contains(&path.ohm));
        self.shorted().iter().any(|group| group.len() >= 3 && is_ring(group))
    }

    /// All paths between posts of this group.
    pub(crate) fn among(&self, group: &[Post]) -> impl Iterator<Item = &Path> {
        self.paths
            .iter()
            .filter(|path| group.contains(&path.posts.0) && group.contains(&path.posts.1))
    }

    /// Between two posts.
    pub(crate) fn between(&self, a: Post, b: Post) -> Option<&Path> {
        self.among(&[a, b]).next()
    }

    /// As a judgement states it.
    pub(crate) fn stated(&self) -> Vec<judgement::Isolation> {
        let stated = self.paths.iter().map(|path| judgement::Isolation {
            posts: [path.posts.0, path.posts.1],
            resistance_ohm: path.ohm,
            at_least: path.at_least,
            expanded_uncertainty_ohm: (!path.at_least).then_some(COVERAGE_FACTOR * path.u_ohm),
        });
        stated.collect()
    }

    /// Posts that are joined so well that no map can be read past it, in groups.
    pub(crate) fn shorted(&self) -> Vec<Vec<Post>> {
        let mut groups: Vec<Vec<Post>> = vec![];
        for path in self.paths.iter().filter(|path| path.is_short()) {
            let (a, b) = path.posts;
            let (with, mut without): (Vec<_>, Vec<_>) =
                groups.into_iter().partition(|group| group.contains(&a) || group.contains(&b));
            let mut group: Vec<Post> = with.into_iter().flatten().chain([a, b]).collect();
            group.sort_unstable();
            group.dedup();
            without.push(group);
            groups = without;
        }
        groups
    }
}

/// Whatever joins two conductors must be a plain resistance, steady and the same both ways.
fn check_joined(
    paths: &[Path; 6],
    observations: &Observations,
    jig: &JigConstants,
) -> Result<(), Obstacle> {
    for path in paths.iter().filter(|path| path.by_pairs) {
        let both = [path.posts.0, path.posts.1];
        resistances::check_undisturbed(observations, jig, &both)?;
        if !path.is_plain {
            return Err(Obstacle::new(FindingKind::SomethingConnected)
                .cause(Cause::NotPlain)
                .posts(both));
        }
    }
    Ok(())
}
