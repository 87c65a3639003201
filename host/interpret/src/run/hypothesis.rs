//! One guess of what the run is: a map, and conductors that have a bad joint. How well does it fit?

use nalgebra::{DMatrix, DVector};
use runproof_protocol::Post;

use super::expected::{Expected, conductors_of};
use super::{Map, least_squares};
use crate::resistances::PairResistances;

/// A guess, fitted.
#[derive(Clone, Debug)]
pub(crate) struct Fitted {
    pub(crate) map: Map,
    /// Conductors with more resistance than their siblings, and how much more.
    pub(crate) joints_ohm: Vec<(Post, f64)>,
    /// Weighted sum of squares that is left over.
    pub(crate) chi_squared: f64,
    /// Pair resistances less what was fitted.
    pub(crate) degrees_of_freedom: usize,
    /// χ² and what the guess must pay for being unlikely.
    pub(crate) score: f64,
}

/// What a guess pays. [judgement]
const PENALTY_SWAP: f64 = 4.0;
const PENALTY_OTHER_MAP: f64 = 6.0;
const PENALTY_JOINT: f64 = 8.0;

/// r settles to far below its uncertainty.
const PASSES: usize = 3;

/// Fits a run of like conductors, and joints on some, under a map. The conductors have r in common,
/// and each its own deviation, of which the sheet says how large it may be. `None` if the readings
/// want a joint to be negative: the guess without it says that better.
pub(super) fn fit(
    expected: &Expected,
    measured: &PairResistances,
    map: Map,
    joints: &[Post],
) -> Option<Fitted> {
    let conductors = conductors_of(measured);
    let fixed = expected.causes(map, measured).together();
    let contacts = DVector::repeat(measured.posts.len(), expected.contacts_ohm);
    let observed = &measured.ohm - expected.plug_ohm(map, &measured.pairs) - &conductors * contacts;
    let place = |post: &Post| measured.posts.iter().position(|other| other == post);
    let mut design = DMatrix::from_element(measured.pairs.len(), 1, 2.0);
    for place in joints.iter().filter_map(place) {
        let last = design.ncols();
        design = design.insert_column(last, 0.0);
        design.set_column(last, &conductors.column(place));
    }

    // The deviations that are allowed depend on r: it is found without them first.
    let mut like_ohm = 0.0;
    let mut fit = None;
    for _ in 0..PASSES {
        let deviation_ohm = f64::hypot(expected.contacts_u_ohm, expected.sibling_spread * like_ohm);
        let covariance = &fixed + &conductors * conductors.transpose() * deviation_ohm.powi(2);
        let free = least_squares::fit(&design, &covariance, &observed)?;
        like_ohm = free.estimate[0].max(0.0);
        let short_run = free.estimate[0] < 0.0;
        fit = Some(if short_run {
            least_squares::fit(&design.clone().remove_column(0), &covariance, &observed)?
        } else {
            free
        });
    }
    let fit = fit?;
    let joints_ohm = fit.estimate.iter().skip(fit.estimate.len() - joints.len()).copied();
    let joints_ohm: Vec<(Post, f64)> = joints.iter().copied().zip(joints_ohm).collect();
    if joints_ohm.iter().any(|(_, joint_ohm)| *joint_ohm < 0.0) {
        return None;
    }
    let chi_squared = fit.chi_squared;
    Some(Fitted {
        map,
        joints_ohm,
        chi_squared,
        degrees_of_freedom: measured.pairs.len().saturating_sub(1 + joints.len()),
        score: chi_squared + penalty(map, joints.len()),
    })
}

fn penalty(map: Map, joints: usize) -> f64 {
    let map = match map.moved().count() {
        0 => 0.0,
        2 => PENALTY_SWAP,
        _ => PENALTY_OTHER_MAP,
    };
    map + PENALTY_JOINT * joints as f64
}
