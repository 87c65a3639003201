//! Two posts that meet, the other two open: one resistance.

use nalgebra::{DMatrix, DVector};
use runproof_protocol::Post;

use super::least_squares::relative_variance;
use super::swing::Swing;
use super::{PairResistances, floating_reference};
use crate::capture::JigConstants;
use crate::observations::Observations;
use crate::obstacle::Obstacle;

/// Between these two, post 4 being open.
pub(crate) fn among_two(
    observations: &Observations,
    jig: &JigConstants,
    posts: [Post; 2],
) -> Result<PairResistances, Obstacle> {
    let (unloaded, common_u) = floating_reference::unloaded(observations, jig);
    let swings = super::swings(&unloaded, jig)?;
    let joined: Vec<&Swing> =
        swings.iter().filter(|swing| [swing.posts.0, swing.posts.1] == posts).collect();
    let ohm = joined.iter().map(|swing| swing.across_v() / swing.through_a());
    let variance = joined.iter().map(|swing| {
        let (i, j) = (posts[0].index(), posts[1].index());
        let volts = (swing.variance_v2[i] + swing.variance_v2[j]) / swing.through_a().powi(2);
        volts + relative_variance(swing) * (swing.across_v() / swing.through_a()).powi(2)
    });
    Ok(PairResistances {
        posts: posts.to_vec(),
        pairs: vec![(posts[0], posts[1])],
        ohm: DVector::from_iterator(1, ohm),
        covariance_ohm2: DMatrix::from_iterator(1, 1, variance),
        common_u,
        nothing_between: false,
    })
}
