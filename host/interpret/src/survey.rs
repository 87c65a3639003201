//! What the plug phase shows: opens, the map, the conductors' resistances, and what is in the way.

use runproof_protocol::{Phase, Post};

use crate::capture::{Capture, Zero};
use crate::completeness;
use crate::isolation::{Isolation, Path};
use crate::judgement::{Alternative, COVERAGE_FACTOR, Cause, Finding, FindingKind, Fit};
use crate::limits::{Arrangement, LimitSheet};
use crate::live;
use crate::map::Map;
use crate::observations::Observations;
use crate::obstacle::Obstacle;
use crate::past_short::{PastShort, past_short};
use crate::resistances::{self, Connected, PairResistances, Swing};
use crate::run::{self, Expected, Fitted, Leg, Ranking, Together, WholeLoop};

/// What was found; what is missing from it is not known.
#[derive(Clone, Debug, Default)]
pub(crate) struct Survey {
    /// Conductors that reach nothing.
    pub(crate) open: Vec<Post>,
    /// Where they all arrive at the plug, those that reach nothing by exclusion.
    pub(crate) map: Option<Map>,
    /// The terminal that each post's conductor arrives at, as far as it is known.
    pub(crate) reaches: [Option<Post>; 4],
    /// Those with more resistance than their siblings, by how many ohms.
    pub(crate) joints_ohm: Vec<(Post, f64)>,
    /// Their resistances.
    pub(crate) legs: Vec<Leg>,
    /// How uncertain these are together.
    pub(crate) together: Option<Together>,
    /// Of a two-wire bus, both in series.
    pub(crate) whole_loop: Option<WholeLoop>,
    /// What can be told past a short.
    pub(crate) past_short: Option<PastShort>,
    /// How well that explains the readings.
    pub(crate) fit: Option<Fit>,
    /// The capture's zero does not contradict the readings.
    pub(crate) zero_fits: bool,
    /// What could not be told.
    pub(crate) obstacles: Vec<Finding>,
}

/// Two posts that meet through the plug read its resistance between their terminals, within this
/// fraction, and a run in series of at most so much. With post 4 open the node that differences are
/// taken against floats, and the converter's load shows. [judgement]
const PLUG_WITHIN: f64 = 0.03;
const PLUG_WITHIN_FLOATING: f64 = 0.10;
const RUN_MAX_OHM: f64 = 6.0;
/// On two wires that alone are expected, more is still a run: with the plug's 75 Ω it stays below a
/// terminator's 120 Ω. [judgement]
const TWO_WIRES_MAX_OHM: f64 = 30.0;

/// By the capture's zero; without it, where only so the readings can be explained: it is of another
/// plug, or something has changed.
pub(crate) fn survey(
    capture: &Capture,
    sheet: &LimitSheet,
    isolation: Option<&Isolation>,
) -> Survey {
    let by = |zero| {
        let mut survey = Survey::default();
        if let Err(obstacle) = survey.fill(capture, sheet, isolation, zero) {
            survey.obstacles.push(obstacle.into());
        }
        survey
    };
    let Some(zero) = capture.zero() else { return by(None) };
    let zeroed = by(Some(zero));
    if !zeroed.explains() {
        let without = by(None);
        if without.explains() {
            return without;
        }
    }
    Survey { zero_fits: true, ..zeroed }
}

impl Survey {
    fn fill(
        &mut self,
        capture: &Capture,
        sheet: &LimitSheet,
        isolation: Option<&Isolation>,
        zero: Option<&Zero>,
    ) -> Result<(), Obstacle> {
        completeness::check(capture, Phase::Plug)?;
        live::check(capture, Phase::Plug)?;
        let jig = &capture.head.jig;
        // Both ends of a reel are on one bench.
        let beside = capture.reel().is_some();
        let expected = Expected::of(&capture.head, sheet, zero, (capture.jig_c(), beside));
        let observations = Observations::of(capture, Phase::Plug)?;
        let swings = resistances::swings(&observations, jig)?;
        let connected = resistances::connected(&swings);
        let two_wire = sheet.arrangement == Arrangement::TwoWire;
        if two_wire && !matches!(connected, Connected::None | Connected::Two([Post::P1, Post::P2]))
        {
            return Err(Obstacle::new(FindingKind::Unexplained).cause(Cause::OtherPosts));
        }
        let measured = match connected {
            Connected::None => return Err(Obstacle::new(FindingKind::NoEndPlug)),
            Connected::TwoAndTwo => return Err(Obstacle::new(FindingKind::Unexplained)),
            Connected::Two(two) => {
                // Anything else between the two, and no plug at all, would look alike.
                let plug_ohm = expected.ring.between_ohm(two[0], two[1]);
                let floating = !two.contains(&Post::P4);
                let within = if floating { PLUG_WITHIN_FLOATING } else { PLUG_WITHIN };
                let least_ohm = plug_ohm * (1.0 - within);
                let most_ohm = plug_ohm * (1.0 + within)
                    + if two_wire { TWO_WIRES_MAX_OHM } else { RUN_MAX_OHM };
                let joined = swings.iter().find(|swing| [swing.posts.0, swing.posts.1] == two);
                let ohm = joined.map_or(0.0, Swing::ohm);
                if !(least_ohm..=most_ohm).contains(&ohm) {
                    return Err(Obstacle::new(FindingKind::NoEndPlug).posts(two));
                }
                if two_wire {
                    let measured = resistances::without_post_4(&observations, jig, &two)?;
                    resistances::check_undisturbed(&observations, jig, &measured.posts)?;
                    let measured = measured.divided_by(expected.scale());
                    let found = run::whole_loop(&expected, &measured);
                    if !(found.ohm + COVERAGE_FACTOR * found.budget.combined_ohm() >= 0.0) {
                        // Less than the plug alone: a path across the two.
                        return Err(Obstacle::new(FindingKind::Unexplained).posts(two));
                    }
                    self.whole_loop = Some(found);
                    return Ok(());
                }
                self.open = Post::ALL.into_iter().filter(|post| !two.contains(post)).collect();
                let obstacle = Obstacle::new(FindingKind::AmbiguousMap).cause(Cause::TwoOpen);
                return Err(obstacle.posts(two));
            }
            Connected::AllBut(open) => {
                self.open = vec![open];
                resistances::among_three(&swings, &observations, jig, open)?
            }
            Connected::All => resistances::among_all(&swings)?,
        };
        resistances::check_undisturbed(&observations, jig, &measured.posts)?;
        let measured = measured.divided_by(expected.scale());
        match isolation {
            // Past a short, what the plug shows belongs to more than one conductor.
            Some(isolation) if !isolation.shorted().is_empty() => {
                self.past_short =
                    only(isolation).and_then(|path| past_short(&expected, &measured, path));
                self.reaches =
                    self.past_short.as_ref().map(|found| found.reaches).unwrap_or_default();
                Ok(())
            }
            Some(isolation) => {
                self.explain(&expected, &resistances::without_leaks(measured, isolation))
            }
            None => self.explain(&expected, &measured),
        }
    }

    /// The run is known as far as its readings allow.
    fn explains(&self) -> bool {
        self.map.is_some() || self.whole_loop.is_some() || self.past_short.is_some()
    }

    /// The wires that were held together at the far end show at which terminals the posts' conductors
    /// arrive, whatever the tail's clips are on.
    pub(crate) fn arrive(&mut self, far: Option<Map>) {
        if let Some(arrives) = far.map(|far| far.inverse()) {
            for post in Post::ALL {
                let reached = &mut self.reaches[post.index()];
                *reached = reached.map(|_| arrives.reaches(post));
            }
        }
    }

    /// What joins two conductors may be a device: past it nothing is told.
    pub(crate) fn look_past_nothing(&mut self) {
        if self.past_short.take().is_some() {
            self.reaches = [None; 4];
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
        let legs = run::legs(expected, measured, found.map).ok_or_else(unexplained)?;
        self.fit = Some(fit_of(&found, Some(legs.scale.value)));
        if !legs.plausible || legs.legs.iter().any(Leg::is_negative) {
            return Err(unexplained());
        }
        self.map = Some(found.map);
        let reached = |post| (!self.open.contains(&post)).then(|| found.map.reaches(post));
        self.reaches = Post::ALL.map(reached);
        self.joints_ohm = found.joints_ohm;
        self.legs = legs.legs;
        self.together = Some(legs.together);
        Ok(())
    }
}

/// The one path that there is: a third would carry current past it.
fn only(isolation: &Isolation) -> Option<&Path> {
    let mut paths = isolation.paths.iter().filter(|path| !path.at_least);
    paths.next().filter(|_| paths.next().is_none())
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
