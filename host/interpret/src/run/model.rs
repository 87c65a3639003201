//! What the model of the jig leaves out.

/// For each pair: a floor, and the load of the inputs.
const MODEL_U_OHM: f64 = 2e-3;
const MODEL_U_FRACTION: f64 = 5e-5;

/// Of a pair resistance.
pub(super) fn model_variance_ohm2(ohm: f64) -> f64 {
    MODEL_U_OHM.powi(2) + (MODEL_U_FRACTION * ohm).powi(2)
}
