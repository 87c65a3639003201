//! From observations to the resistance between each two posts, with its covariance.

mod connected;
mod currents;
mod disturbance;
mod floating_reference;
mod kirchhoff;
mod least_squares;
mod swing;
mod without_leaks;

pub(crate) use connected::{Connected, connected};
pub(crate) use least_squares::among_all;
use nalgebra::{DMatrix, DVector};
use runproof_protocol::Post;

use crate::capture::JigConstants;
use crate::observations::Observations;
use crate::obstacle::Obstacle;
pub(crate) use swing::Swing;
pub(crate) use without_leaks::without_leaks;

/// A pair that is joined by more has nothing between: one of its conductors is open.
pub(crate) const OPEN_OHM: f64 = 10_000.0;

/// Resistances between posts, in ohms of the jig.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PairResistances {
    /// The posts that are connected with each other.
    pub(crate) posts: Vec<Post>,
    /// All pairs of these.
    pub(crate) pairs: Vec<(Post, Post)>,
    /// By pair.
    pub(crate) ohm: DVector<f64>,
    /// Of the noise that the readings have.
    pub(crate) covariance_ohm2: DMatrix<f64>,
    /// Standard uncertainty that all have in common, as a fraction, beyond the jig's scale.
    pub(crate) common_u: f64,
    /// The open phase has shown that nothing joins the conductors but the end plug.
    pub(crate) nothing_between: bool,
}

impl PairResistances {
    /// By another ohm, so many of which are one of the jig's.
    pub(crate) fn divided_by(self, scale: f64) -> Self {
        Self {
            ohm: self.ohm / scale,
            covariance_ohm2: self.covariance_ohm2 / scale.powi(2),
            ..self
        }
    }

    /// Between two of the posts; none between a post and itself.
    pub(crate) fn between_ohm(&self, a: Post, b: Post) -> Option<f64> {
        if a == b {
            return Some(0.0);
        }
        let index = self.pairs.iter().position(|pair| *pair == (a, b) || *pair == (b, a))?;
        Some(self.ohm[index])
    }
}

/// The six pairs as voltage and current, calibrated and without offset.
pub(crate) fn swings(
    observations: &Observations,
    jig: &JigConstants,
) -> Result<[Swing; 6], Obstacle> {
    swings_below(observations, jig, OPEN_OHM)
}

fn swings_below(
    observations: &Observations,
    jig: &JigConstants,
    below_ohm: f64,
) -> Result<[Swing; 6], Obstacle> {
    let swings = swing::all(observations, jig);
    kirchhoff::check(&swings, jig, below_ohm)?;
    Ok(kirchhoff::calibrated(swings, jig, below_ohm))
}

/// The swings of the open phase, in which post 4 floats under every pair that it is not of.
pub(crate) fn open_swings(
    observations: &Observations,
    jig: &JigConstants,
) -> Result<[Swing; 6], Obstacle> {
    swings(&floating_reference::typically_unloaded(observations, jig), jig)
}

/// The same, of which currents count only between posts that meet below so many ohms: what a post draws
/// through the pulls that is joined to another is taken for lost beside a poor path.
pub(crate) fn joined_swings(
    observations: &Observations,
    jig: &JigConstants,
    below_ohm: f64,
) -> Result<[Swing; 6], Obstacle> {
    swings_below(&floating_reference::typically_unloaded(observations, jig), jig, below_ohm)
}

/// Among three posts, one open: each pair by itself.
pub(crate) fn among_three(
    swings: &[Swing; 6],
    observations: &Observations,
    jig: &JigConstants,
    open: Post,
) -> Result<PairResistances, Obstacle> {
    let posts: Vec<Post> = Post::ALL.into_iter().filter(|post| *post != open).collect();
    if open != Post::P4 {
        return Ok(least_squares::each(swings, &posts));
    }
    without_post_4(observations, jig, &posts)
}

/// Between posts of which 4 is none, and floats.
pub(crate) fn without_post_4(
    observations: &Observations,
    jig: &JigConstants,
    posts: &[Post],
) -> Result<PairResistances, Obstacle> {
    let (unloaded, common_u) = floating_reference::unloaded(observations, jig);
    let measured = least_squares::each(&swings(&unloaded, jig)?, posts);
    Ok(PairResistances { common_u, ..measured })
}

/// Nothing but a run between these posts: steady, and the same in both polarities.
pub(crate) fn check_undisturbed(
    observations: &Observations,
    jig: &JigConstants,
    posts: &[Post],
) -> Result<(), Obstacle> {
    disturbance::check(observations, jig, posts)
}
