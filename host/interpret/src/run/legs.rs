//! The resistance of each conductor under the map that was found, and how uncertain it is.

use nalgebra::{DMatrix, DVector};
use runproof_protocol::Post;

use super::expected::{Expected, Scale, conductors_of};
use super::least_squares;
use crate::judgement::Budget;
use crate::map::Map;
use crate::resistances::PairResistances;

/// A wrong map makes a conductor less than nothing by ohms, good contacts on a short run by tens of
/// milliohms. [judgement]
const NEGATIVE_SIGMAS: f64 = 3.0;

/// One conductor, from post to plug.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Leg {
    pub(crate) post: Post,
    /// Contacts taken off.
    pub(crate) ohm: f64,
    pub(crate) budget: Budget,
}

impl Leg {
    /// Below zero by more than its uncertainty can be: no conductor is, so the map is not that of the run.
    pub(crate) fn is_negative(&self) -> bool {
        !(self.ohm >= -NEGATIVE_SIGMAS * self.budget.combined_ohm())
    }
}

/// The conductors, and the scale that they are measured with.
#[derive(Clone, Debug)]
pub(crate) struct Legs {
    pub(crate) legs: Vec<Leg>,
    pub(crate) together: Together,
    pub(crate) scale: Scale,
    /// The series resistors' tolerance allows for the scale.
    pub(crate) plausible: bool,
}

/// How uncertain conductors are together: all but their contacts, which bite each as it likes.
#[derive(Clone, Debug)]
pub(crate) struct Together {
    posts: Vec<Post>,
    /// Covariance of the conductors, in Ω².
    covariance_ohm2: DMatrix<f64>,
}

impl Together {
    /// Standard uncertainty of the mean of these.
    pub(crate) fn mean_u_ohm(&self, of: &[Post]) -> f64 {
        let share = |post: &Post| if of.contains(post) { 1.0 / of.len() as f64 } else { 0.0 };
        let share = DVector::from_iterator(self.posts.len(), self.posts.iter().map(share));
        (share.transpose() * &self.covariance_ohm2 * &share)[0].max(0.0).sqrt()
    }
}

/// Each conductor by itself, none supposed to be like another. `None` if the readings do not
/// determine them.
pub(crate) fn legs(expected: &Expected, measured: &PairResistances, map: Map) -> Option<Legs> {
    let causes = expected.causes(map, measured);
    let observed = &measured.ohm - expected.plug_ohm(map, &measured.pairs);
    let (design, covariance) = (conductors_of(measured), expected.covariance(map, measured));
    let fit = least_squares::fit(&design, &covariance, &observed)?;
    // GUM 5.2.2: each cause, carried over to the conductors by the same gain.
    let mut covariance_ohm2 = DMatrix::zeros(measured.posts.len(), measured.posts.len());
    let mut carried = |cause: &DMatrix<f64>| -> DVector<f64> {
        let covariance = &fit.gain * cause * fit.gain.transpose();
        covariance_ohm2 += &covariance;
        covariance.diagonal().map(|variance| variance.max(0.0).sqrt())
    };
    let [instrument, scale, plug, temperature, zeroing, model] = [
        &causes.instrument,
        &causes.scale,
        &causes.plug,
        &causes.temperature,
        &causes.zeroing,
        &causes.model,
    ]
    .map(&mut carried);
    let legs = measured.posts.iter().enumerate().map(|(k, post)| Leg {
        post: *post,
        ohm: fit.estimate[k] - expected.contacts.ohm(),
        budget: Budget {
            instrument_ohm: instrument[k],
            scale_ohm: scale[k],
            plug_ohm: plug[k],
            temperature_ohm: temperature[k],
            zeroing_ohm: zeroing[k],
            near_contacts_ohm: expected.contacts.near_u_ohm,
            far_contact_ohm: expected.contacts.far_u_ohm,
            model_ohm: model[k],
        },
    });
    // What is left over is in part the scale's: its share by its prior variance, which is less by as
    // much as the readings tell of it.
    let off = causes.with_scale.dot(&fit.weighted_rest);
    let told = least_squares::fit(&design, &covariance, &causes.with_scale)?.chi_squared;
    let scale = Scale {
        value: (1.0 - off) / expected.scale(),
        u: (causes.scale_variance - told).max(0.0).sqrt(),
    };
    let plausible = expected.scale_is_plausible(&scale);
    let together = Together { posts: measured.posts.clone(), covariance_ohm2 };
    Some(Legs { legs: legs.collect(), together, scale, plausible })
}
