//! One guess of what the run is: a map, and what may be wrong beside it. How well does it fit?

use nalgebra::{DMatrix, DVector};
use runproof_protocol::Post;

use super::expected::{Expected, conductors_of};
use super::least_squares;
use crate::map::Map;
use crate::resistances::PairResistances;

/// What may be wrong with a run beside its map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Suspect {
    /// This conductor has more resistance than its siblings.
    Joint(Post),
    /// Current passes between these two without going through the plug.
    Bypass(Post, Post),
}

/// A guess, fitted.
#[derive(Clone, Debug)]
pub(crate) struct Fitted {
    pub(crate) map: Map,
    /// Conductors with more resistance than their siblings, and how much more.
    pub(crate) joints_ohm: Vec<(Post, f64)>,
    /// Weighted sum of squares that is left over.
    pub(crate) chi_squared: f64,
    /// It holds that current passes between two conductors.
    pub(crate) bypass: Option<(Post, Post)>,
    /// Pair resistances less what was fitted.
    pub(crate) degrees_of_freedom: usize,
    /// χ² and what the guess must pay for being unlikely.
    pub(crate) score: f64,
}

impl Fitted {
    /// A map, and nothing wrong beside it.
    pub(super) fn is_plain(&self) -> bool {
        self.suspects() == 0
    }

    /// How much is wrong beside the map.
    pub(super) fn suspects(&self) -> usize {
        self.joints_ohm.len() + usize::from(self.bypass.is_some())
    }
}

/// For being unlikely. [judgement]
const PENALTY_SWAP: f64 = 4.0;
const PENALTY_OTHER_MAP: f64 = 6.0;
const PENALTY_SUSPECT: f64 = 8.0;

/// How many times the sheet's sibling spread is no joint yet: it was found on few cables. [judgement]
const SIBLING_ALLOWANCE: f64 = 1.25;

/// r settles to far below its uncertainty.
const PASSES: usize = 3;

/// Fits a run of like conductors, and suspects, under a map. The conductors have r in common, and
/// each its own deviation, of which the sheet says how large it may be; `fixed` is what else is uncertain under this
/// map. `None` if the readings want
/// a suspect to be negative: the guess without it says that better.
pub(super) fn fit(
    expected: &Expected,
    measured: &PairResistances,
    map: Map,
    fixed: &DMatrix<f64>,
    suspects: &[Suspect],
) -> Option<Fitted> {
    let conductors = conductors_of(measured);
    let contacts = DVector::repeat(measured.posts.len(), expected.contacts.ohm());
    let observed = &measured.ohm - expected.plug_ohm(map, &measured.pairs) - &conductors * contacts;
    let mut design = DMatrix::from_element(measured.pairs.len(), 1, 2.0);
    for suspect in suspects {
        let last = design.ncols();
        design = design.insert_column(last, 0.0);
        design.set_column(last, &column(*suspect, measured)?);
    }

    // The deviations that are allowed depend on r: it is found without them first.
    let allowed_spread = SIBLING_ALLOWANCE * expected.sibling_spread;
    let mut like_ohm = 0.0;
    let mut fit = None;
    for _ in 0..PASSES {
        let deviation_ohm = f64::hypot(expected.contacts.u_ohm(), allowed_spread * like_ohm);
        let covariance = fixed + &conductors * conductors.transpose() * deviation_ohm.powi(2);
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
    let sizes = fit.estimate.iter().skip(fit.estimate.len() - suspects.len()).copied();
    let sized: Vec<(Suspect, f64)> = suspects.iter().copied().zip(sizes).collect();
    if sized.iter().any(|(_, size)| *size < 0.0) {
        return None;
    }
    let joint = |(suspect, ohm): &(Suspect, f64)| match suspect {
        Suspect::Joint(post) => Some((*post, *ohm)),
        Suspect::Bypass(..) => None,
    };
    let bypass = suspects.iter().find_map(|suspect| match suspect {
        Suspect::Joint(_) => None,
        Suspect::Bypass(a, b) => Some((*a, *b)),
    });
    let chi_squared = fit.chi_squared;
    Some(Fitted {
        map,
        joints_ohm: sized.iter().filter_map(joint).collect(),
        bypass,
        chi_squared,
        degrees_of_freedom: measured.pairs.len().saturating_sub(1 + suspects.len()),
        score: chi_squared + penalty(map, suspects.len()),
    })
}

/// How the pair resistances change with the suspect.
///
/// A conductance g between a and b takes γ T² from the resistance between i and j, where T is the
/// voltage between a and b that one ampere from i to j makes, and γ = g/(1 − g R_ab) in terms of
/// what is measured with g in place (superposition; exact for a bypass at the jig's end).
fn column(suspect: Suspect, measured: &PairResistances) -> Option<DVector<f64>> {
    match suspect {
        Suspect::Joint(post) => {
            let place = measured.posts.iter().position(|other| *other == post)?;
            Some(conductors_of(measured).column(place).into_owned())
        }
        Suspect::Bypass(a, b) => {
            let column = measured.pairs.iter().map(|(i, j)| {
                let transfer_ohm = (measured.between_ohm(*i, b)? + measured.between_ohm(*j, a)?
                    - measured.between_ohm(*i, a)?
                    - measured.between_ohm(*j, b)?)
                    / 2.0;
                Some(-transfer_ohm.powi(2))
            });
            Some(DVector::from_vec(column.collect::<Option<_>>()?))
        }
    }
}

/// What a guess pays: no score is below that.
pub(crate) fn penalty(map: Map, suspects: usize) -> f64 {
    let map = match map.moved().count() {
        0 => 0.0,
        2 => PENALTY_SWAP,
        _ => PENALTY_OTHER_MAP,
    };
    map + PENALTY_SUSPECT * suspects as f64
}
