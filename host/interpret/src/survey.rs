//! What the plug phase shows: opens, the map, the conductors' resistances, and what is in the way.

use runproof_protocol::{Phase, Post};

use crate::capture::Capture;
use crate::completeness;
use crate::judgement::{Alternative, Cause, Finding, FindingKind, Fit};
use crate::limits::LimitSheet;
use crate::observations::Observations;
use crate::obstacle::Obstacle;
use crate::resistances::{self, Connected, PairResistances};
use crate::run::{self, Expected, Fitted, Leg, Map, Ranking};

/// What was found; what is missing from it is not known.
#[derive(Clone, Debug, Default)]
pub(crate) struct Survey {
    /// Conductors that reach nothing.
    pub(crate) open: Vec<Post>,
    /// Where those that reach something arrive.
    pub(crate) map: Option<Map>,
    /// Those with more resistance than their siblings, by how many ohms.
    pub(crate) joints_ohm: Vec<(Post, f64)>,
    /// Their resistances.
    pub(crate) legs: Vec<Leg>,
    /// How well that explains the readings.
    pub(crate) fit: Option<Fit>,
    /// What could not be told.
    pub(crate) obstacles: Vec<Finding>,
}

/// The least a pair can read, as a fraction of the least between two terminals of the plug: that
/// resistance comes from the plug, then.
const PLUG_LEAST: f64 = 0.97;

pub(crate) fn survey(capture: &Capture, sheet: &LimitSheet) -> Survey {
    let mut survey = Survey::default();
    if let Err(obstacle) = survey.fill(capture, sheet) {
        survey.obstacles.push(obstacle.into());
    }
    survey
}

impl Survey {
    fn fill(&mut self, capture: &Capture, sheet: &LimitSheet) -> Result<(), Obstacle> {
        completeness::check(capture, Phase::Plug)?;
        let jig = &capture.head.jig;
        let expected = Expected::of(&capture.head, sheet);
        let observations = Observations::of(capture)?;
        let swings = resistances::swings(&observations, jig)?;
        match resistances::connected(&swings) {
            Connected::None => Err(Obstacle::new(FindingKind::NoEndPlug)),
            Connected::TwoAndTwo => Err(Obstacle::new(FindingKind::Unexplained)),
            Connected::Two(two) => {
                let least_ohm = PLUG_LEAST * expected.ring.least_ohm();
                let joined = swings.iter().find(|swing| [swing.posts.0, swing.posts.1] == two);
                if joined.is_none_or(|swing| swing.across_v() < least_ohm * swing.through_a()) {
                    return Err(Obstacle::new(FindingKind::Unexplained).posts(two));
                }
                self.open = Post::ALL.into_iter().filter(|post| !two.contains(post)).collect();
                Err(Obstacle::new(FindingKind::AmbiguousMap).cause(Cause::TwoOpen).posts(two))
            }
            Connected::AllBut(open) => {
                self.open = vec![open];
                let measured = resistances::among_three(&swings, &observations, jig, open);
                resistances::check_undisturbed(&observations, jig, &measured.posts)?;
                self.explain(&expected, &measured)
            }
            Connected::All => {
                let measured = resistances::among_all(&swings)?;
                resistances::check_undisturbed(&observations, jig, &measured.posts)?;
                self.explain(&expected, &measured)
            }
        }
    }

    fn explain(&mut self, expected: &Expected, measured: &PairResistances) -> Result<(), Obstacle> {
        let unexplained = || Obstacle::new(FindingKind::Unexplained).posts(&*measured.posts);
        let found = match run::rank(expected, measured) {
            Ranking::Found(found) => found,
            Ranking::Ambiguous(rivals) => {
                let obstacle = Obstacle::new(FindingKind::AmbiguousMap).posts(&*measured.posts);
                let mut finding = Finding::from(obstacle);
                finding.alternatives =
                    rivals.iter().map(|rival| alternative(rival, measured)).collect();
                self.obstacles.push(finding);
                return Ok(());
            }
            Ranking::Unexplained(best) => {
                self.fit = best.map(|best| fit_of(&best, None));
                return Err(unexplained());
            }
        };
        let (legs, scale) = run::legs(expected, measured, found.map).ok_or_else(unexplained)?;
        self.map = Some(found.map);
        self.fit = Some(fit_of(&found, Some(scale)));
        self.joints_ohm = found.joints_ohm;
        self.legs = legs;
        Ok(())
    }
}

fn fit_of(fitted: &Fitted, scale: Option<f64>) -> Fit {
    Fit { scale, chi_squared: fitted.chi_squared, degrees_of_freedom: fitted.degrees_of_freedom }
}

fn alternative(fitted: &Fitted, measured: &PairResistances) -> Alternative {
    Alternative {
        reaches: Post::ALL
            .map(|post| measured.posts.contains(&post).then(|| fitted.map.reaches(post))),
        high_resistance: fitted.joints_ohm.iter().map(|(post, _)| *post).collect(),
        score: fitted.score,
    }
}
