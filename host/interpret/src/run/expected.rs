//! What a straight run, or any other map, must be expected to read; and how well that is known.

use nalgebra::{DMatrix, DVector};
use runproof_protocol::Post;

use super::Ring;
use super::contacts::Contacts;
use super::model::model_variance_ohm2;
use super::parts::{Five, Parts, SCALE};
use crate::capture::{Head, Zero};
use crate::limits::LimitSheet;
use crate::map::Map;
use crate::resistances::PairResistances;

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
    /// As the zero has it, if there is one.
    pub(crate) ring: Ring,
    pub(crate) contacts: Contacts,
    /// Standard deviation of conductors from their mean, as a fraction of it, by the sheet.
    pub(crate) sibling_spread: f64,
    /// Of the series resistors and of their mean: they may come from one reel, so that it is known no
    /// better than each.
    series_tolerance: f64,
    parts: Parts,
}

impl Expected {
    /// `warmth`: how warm the jig is, and whether the end plug lies beside it.
    pub(crate) fn of(
        head: &Head,
        sheet: &LimitSheet,
        zero: Option<&Zero>,
        warmth: (Option<f64>, bool),
    ) -> Self {
        let contacts = Contacts::of(sheet);
        let parts = Parts::of(head, &contacts, zero, warmth);
        let off = [0, 1, 2, 3].map(|n| parts.off[n]);
        Self {
            ring: Ring::of(&head.plug).off_by(off),
            contacts,
            sibling_spread: sheet.sibling_spread,
            series_tolerance: head.jig.series_tolerance,
            parts,
        }
    }

    /// The jig's nominal ohm in its own, as the zero has it: what readings have to be divided by.
    pub(crate) fn scale(&self) -> f64 {
        1.0 + self.parts.off[SCALE]
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

    /// How the pair resistances change with the parts.
    fn design(&self, map: Map, measured: &PairResistances) -> DMatrix<f64> {
        DMatrix::from_fn(measured.pairs.len(), SCALE + 1, |row, column| {
            let (a, b) = measured.pairs[row];
            match column {
                SCALE => measured.ohm[row],
                n => self.ring.sensitivity_ohm(map.reaches(a), map.reaches(b))[n],
            }
        })
    }

    /// Of the pair resistances, whatever the conductors are.
    pub(crate) fn covariance(&self, map: Map, measured: &PairResistances) -> DMatrix<f64> {
        let ohm = &measured.ohm;
        let design = self.design(map, measured);
        let mut parts = self.parts.covariance();
        parts[(SCALE, SCALE)] += measured.common_u.powi(2);
        let mut covariance = &design * parts * design.transpose() + &measured.covariance_ohm2;
        for n in 0..ohm.len() {
            covariance[(n, n)] += model_variance_ohm2(ohm[n]);
        }
        covariance
    }

    /// The same by cause.
    pub(crate) fn causes(&self, map: Map, measured: &PairResistances) -> Causes {
        let ohm = &measured.ohm;
        let design = self.design(map, measured);
        let of_parts = |cause: &Five| &design * cause * design.transpose();
        let model = ohm.map(model_variance_ohm2);
        let common = ohm * ohm.transpose() * measured.common_u.powi(2);
        let scale = self.parts.covariance().column(SCALE).into_owned();
        Causes {
            instrument: measured.covariance_ohm2.clone(),
            scale: of_parts(&self.parts.scale) + &common,
            plug: of_parts(&self.parts.plug),
            temperature: of_parts(&self.parts.temperature),
            zeroing: of_parts(&self.parts.zeroing),
            model: DMatrix::from_diagonal(&model),
            with_scale: &design * scale + ohm * measured.common_u.powi(2),
            scale_variance: self.parts.covariance()[(SCALE, SCALE)] + measured.common_u.powi(2),
        }
    }
}

/// Covariance of the pair resistances, in Ω², by cause.
pub(crate) struct Causes {
    pub(super) instrument: DMatrix<f64>,
    pub(super) scale: DMatrix<f64>,
    pub(super) plug: DMatrix<f64>,
    pub(super) temperature: DMatrix<f64>,
    pub(super) zeroing: DMatrix<f64>,
    pub(super) model: DMatrix<f64>,
    /// Of the pair resistances with the scale, and the scale's own variance.
    pub(super) with_scale: DVector<f64>,
    pub(super) scale_variance: f64,
}

/// Which conductors each pair has in series: 1 for each of the two.
pub(super) fn conductors_of(measured: &PairResistances) -> DMatrix<f64> {
    DMatrix::from_fn(measured.pairs.len(), measured.posts.len(), |row, column| {
        let (post, (a, b)) = (measured.posts[column], measured.pairs[row]);
        f64::from(u8::from(post == a || post == b))
    })
}
