//! What a straight run, or any other map, must be expected to read; and how well that is known.

use nalgebra::{DMatrix, DVector};
use runproof_protocol::Post;

use super::Ring;
use crate::capture::Head;
use crate::limits::LimitSheet;
use crate::map::Map;
use crate::resistances::PairResistances;

/// What the model of the jig leaves out, for each pair: a floor, and the load of the inputs.
const MODEL_U_OHM: f64 = 2e-3;
const MODEL_U_FRACTION: f64 = 1e-4;

/// How many times the sheet's sibling spread is allowed: it was found on few cables. [judgement]
const SIBLING_ALLOWANCE: f64 = 1.25;

/// The sense node sees this part of what falls in the relay's contact and the driving jaw: 4.7 kΩ
/// to the sensing jaw, 10 kΩ to the jig's side of the relay.
const NEAR_SHARE: f64 = 4.7 / (4.7 + 10.0);

/// A relay's contact. [judgement]
const RELAY_CONTACT_MOHM: [f64; 2] = [30.0, 100.0];

/// How many standard uncertainties the scale may be beyond the resistors' tolerance. [judgement]
const SCALE_SIGMAS: f64 = 3.0;

/// The jig's ohm in ohms of the plug.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Scale {
    pub(crate) value: f64,
    /// Its standard uncertainty.
    pub(super) u: f64,
}

/// What is known before anything is fitted.
#[derive(Clone, Debug)]
pub(crate) struct Expected {
    pub(crate) ring: Ring,
    /// Mean of what the contacts at the jig add to a conductor, and its standard uncertainty.
    pub(crate) near_ohm: f64,
    pub(crate) near_u_ohm: f64,
    /// Of the contact at the plug.
    pub(crate) far_ohm: f64,
    pub(crate) far_u_ohm: f64,
    /// Standard deviation of conductors from their mean, as a fraction of it.
    pub(crate) sibling_spread: f64,
    /// Of the series resistors and of their mean: they may come from one reel, so that it is known no
    /// better than each.
    series_tolerance: f64,
    /// Standard uncertainty of each of the plug's resistors, as a fraction.
    plug_u: f64,
}

impl Expected {
    pub(crate) fn of(head: &Head, sheet: &LimitSheet) -> Self {
        let (clip_ohm, clip_u_ohm) = anywhere(sheet.contact_mohm);
        let (relay_ohm, relay_u_ohm) = anywhere(RELAY_CONTACT_MOHM);
        Self {
            ring: Ring::of(&head.plug),
            near_ohm: NEAR_SHARE * (clip_ohm + relay_ohm),
            near_u_ohm: NEAR_SHARE * clip_u_ohm.hypot(relay_u_ohm),
            far_ohm: clip_ohm,
            far_u_ohm: clip_u_ohm,
            sibling_spread: sheet.sibling_spread * SIBLING_ALLOWANCE,
            series_tolerance: head.jig.series_tolerance,
            plug_u: rectangular(head.plug.tolerance),
        }
    }

    /// What the contacts at both ends add to a conductor.
    pub(crate) fn contacts_ohm(&self) -> f64 {
        self.near_ohm + self.far_ohm
    }

    /// Its standard uncertainty.
    pub(crate) fn contacts_u_ohm(&self) -> f64 {
        self.near_u_ohm.hypot(self.far_u_ohm)
    }

    /// Standard uncertainty of the scale, as a fraction.
    pub(super) fn scale_u(&self, measured: &PairResistances) -> f64 {
        f64::hypot(rectangular(self.series_tolerance), measured.common_u)
    }

    /// No jig with parts within their tolerance is further off, whatever its readings' noise.
    pub(super) fn scale_is_plausible(&self, scale: &Scale) -> bool {
        (scale.value - 1.0).abs() <= self.series_tolerance + SCALE_SIGMAS * scale.u
    }

    /// The plug alone, as each pair of posts would see it.
    pub(super) fn plug_ohm(&self, map: Map, pairs: &[(Post, Post)]) -> DVector<f64> {
        let ohm =
            pairs.iter().map(|(a, b)| self.ring.between_ohm(map.reaches(*a), map.reaches(*b)));
        DVector::from_iterator(pairs.len(), ohm)
    }

    /// What makes a pair resistance uncertain, whatever the conductors are.
    pub(crate) fn causes(&self, map: Map, measured: &PairResistances) -> Causes {
        let pairs = &measured.pairs;
        let ohm = &measured.ohm;
        let plug = DMatrix::from_fn(pairs.len(), 4, |row, n| {
            let (a, b) = pairs[row];
            self.ring.sensitivity_ohm(map.reaches(a), map.reaches(b))[n] * self.plug_u
        });
        let model = ohm.map(|ohm| MODEL_U_OHM.powi(2) + (MODEL_U_FRACTION * ohm).powi(2));
        Causes {
            instrument: measured.covariance_ohm2.clone(),
            scale: ohm * ohm.transpose() * self.scale_u(measured).powi(2),
            plug: &plug * plug.transpose(),
            model: DMatrix::from_diagonal(&model),
        }
    }
}

/// Covariance of the pair resistances, in Ω², by cause.
pub(crate) struct Causes {
    pub(super) instrument: DMatrix<f64>,
    pub(super) scale: DMatrix<f64>,
    pub(super) plug: DMatrix<f64>,
    pub(super) model: DMatrix<f64>,
}

impl Causes {
    pub(crate) fn together(&self) -> DMatrix<f64> {
        &self.instrument + &self.scale + &self.plug + &self.model
    }
}

/// Which conductors each pair has in series: 1 for each of the two.
pub(super) fn conductors_of(measured: &PairResistances) -> DMatrix<f64> {
    DMatrix::from_fn(measured.pairs.len(), measured.posts.len(), |row, column| {
        let (post, (a, b)) = (measured.posts[column], measured.pairs[row]);
        f64::from(u8::from(post == a || post == b))
    })
}

/// Mean and standard uncertainty, in ohms, of a contact that may have any value between two.
fn anywhere([least_mohm, most_mohm]: [f64; 2]) -> (f64, f64) {
    let half_width_mohm = (most_mohm - least_mohm) / 2.0;
    ((least_mohm + most_mohm) / 2e3, rectangular(half_width_mohm / 1e3))
}

/// Standard uncertainty of what may lie anywhere within ± this (JCGM 100:2008, 4.3.7).
fn rectangular(half_width: f64) -> f64 {
    half_width / 3.0_f64.sqrt()
}
