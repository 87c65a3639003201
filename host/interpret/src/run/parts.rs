//! How far the end plug's resistors and the jig's ohm are from their nominal values, as fractions: what
//! tolerance and temperature allow, and what a zero tells of them.

use nalgebra::{SMatrix, SVector};
use runproof_protocol::Post;

use super::Ring;
use super::contacts::Contacts;
use super::model::model_variance_ohm2;
use crate::capture::{Head, Zero};
use crate::judgement::budget::coverage::rectangular;

/// The ring's four, and the jig's scale.
pub(crate) type Five = SMatrix<f64, 5, 5>;
type SixByFive = SMatrix<f64, 6, 5>;
pub(crate) const SCALE: usize = 4;

/// A resistor's change with temperature is anywhere within ± this, of its value a kelvin: what the
/// jig's parts list asks for.
const PER_KELVIN: f64 = 25e-6;

/// At which a part's tolerance holds, in °C.
const NOMINAL_C: f64 = 25.0;

/// The end plug may be anywhere outdoors, −20 to 70 °C; a jig that does not tell, 0 to 50 °C.
const PLUG_HALF_WIDTH_K: f64 = 45.0;
const JIG_HALF_WIDTH_K: f64 = 25.0;

/// The most likely values, and what makes them uncertain: independent causes, as covariances.
#[derive(Clone, Debug)]
pub(crate) struct Parts {
    /// Expected, as fractions.
    pub(crate) off: SVector<f64, 5>,
    pub(crate) plug: Five,
    pub(crate) scale: Five,
    pub(crate) temperature: Five,
    pub(crate) zeroing: Five,
}

impl Parts {
    /// With how warm the jig is, and whether the plug lies beside it.
    pub(crate) fn of(
        head: &Head,
        contacts: &Contacts,
        zero: Option<&Zero>,
        (jig_c, beside): (Option<f64>, bool),
    ) -> Self {
        let ring_u2 = rectangular(head.plug.tolerance).powi(2);
        let series_u2 = rectangular(head.jig.series_tolerance).powi(2);
        let plug = diagonal([ring_u2, ring_u2, ring_u2, ring_u2, 0.0]);
        let scale = diagonal([0.0, 0.0, 0.0, 0.0, series_u2]);
        let of_jig = Kelvin::of_jig(jig_c);
        let now = [if beside { of_jig } else { Kelvin::anywhere(PLUG_HALF_WIDTH_K) }, of_jig];
        let drift = |[of_plug, of_jig]: [f64; 2]| {
            let u2 = rectangular(PER_KELVIN).powi(2);
            diagonal([of_plug, of_plug, of_plug, of_plug, of_jig]) * u2
        };
        let temperature = drift(now.map(|now| now.mean_square));
        let nominal =
            Self { off: SVector::zeros(), plug, scale, temperature, zeroing: Five::zeros() };
        let Some(zero) = zero else { return nominal };
        // At the zero the plug lay beside the jig.
        let then = [Kelvin::of_jig(zero.jig_c); 2];
        let shared = drift([0, 1].map(|n| now[n].mean * then[n].mean));
        let at_zero = drift(then.map(|then| then.mean_square));
        nominal.zeroed(head, contacts, zero, [shared, at_zero]).unwrap_or(nominal)
    }

    /// Conditioned on what the zero read, by the linear law of normal distributions (any textbook):
    /// off = K (read − expected), K = Cov(now, then) Hᵀ (H Var(then) Hᵀ + R)⁻¹.
    fn zeroed(
        &self,
        head: &Head,
        contacts: &Contacts,
        zero: &Zero,
        [shared, at_zero]: [Five; 2],
    ) -> Option<Self> {
        let ring = Ring::of(&head.plug);
        let mut design = SixByFive::zeros();
        let mut legs = SMatrix::<f64, 6, 4>::zeros();
        let mut rest = SVector::<f64, 6>::zeros();
        for (row, (a, b)) in Post::PAIRS.into_iter().enumerate() {
            let expected_ohm = ring.between_ohm(a, b) + 2.0 * contacts.ohm();
            rest[row] = zero.ohm[row] - expected_ohm;
            for (n, ohm) in ring.sensitivity_ohm(a, b).into_iter().enumerate() {
                design[(row, n)] = ohm;
            }
            design[(row, SCALE)] = expected_ohm;
            legs[(row, a.index())] = 1.0;
            legs[(row, b.index())] = 1.0;
        }
        let noise = SVector::<f64, 6>::from_fn(|row, _| {
            zero.u_ohm[row].powi(2) + model_variance_ohm2(zero.ohm[row])
        });
        let read =
            legs * legs.transpose() * contacts.u_ohm().powi(2) + SMatrix::from_diagonal(&noise);
        let tolerance = self.plug + self.scale;
        let then = design * (tolerance + at_zero) * design.transpose() + read;
        let gain = (tolerance + shared) * design.transpose() * then.try_inverse()?;
        let told = gain * design;
        let left = Five::identity() - told;
        let drift = self.temperature - shared * told.transpose() - told * shared
            + told * at_zero * told.transpose();
        Some(Self {
            off: gain * rest,
            plug: left * self.plug * left.transpose(),
            scale: left * self.scale * left.transpose(),
            temperature: drift,
            zeroing: gain * read * gain.transpose(),
        })
    }

    /// All causes together.
    pub(crate) fn covariance(&self) -> Five {
        self.plug + self.scale + self.temperature + self.zeroing
    }
}

/// A temperature, in kelvins above the nominal one: its mean, and the mean of its square.
#[derive(Clone, Copy)]
struct Kelvin {
    mean: f64,
    mean_square: f64,
}

impl Kelvin {
    fn anywhere(half_width_k: f64) -> Self {
        Self { mean: 0.0, mean_square: rectangular(half_width_k).powi(2) }
    }

    fn of_jig(jig_c: Option<f64>) -> Self {
        let known = |celsius: f64| celsius - NOMINAL_C;
        jig_c.map(known).map_or(Self::anywhere(JIG_HALF_WIDTH_K), |mean| Self {
            mean,
            mean_square: mean.powi(2),
        })
    }
}

fn diagonal(of: [f64; 5]) -> Five {
    Five::from_diagonal(&SVector::from(of))
}
