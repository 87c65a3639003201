//! What was said of a reel, beside what is true.

use runproof_interpret::copper::{Gauge, Size};
use runproof_interpret::judgement::{Interval, Metal, ReelJudgement, Verdict};

use crate::draw::Drawn;

/// Beside the truth.
#[derive(Clone, Debug)]
pub(crate) struct Answer {
    pub(crate) drawn: Drawn,
    pub(crate) verdict: Verdict,
    pub(crate) gauge_verdict: Verdict,
    /// Sizes of copper that were said to fit, in the declared system.
    pub(crate) fits: Vec<Size>,
    pub(crate) metal: Option<Metal>,
    pub(crate) length_m: Option<Interval>,
    /// How far off the mean resistance is, in standard uncertainties.
    pub(crate) off: Option<f64>,
    /// Whether a drift was found; absent where that was not looked for.
    pub(crate) warming: Option<bool>,
}

impl Answer {
    pub(crate) fn of(judgement: &ReelJudgement, drawn: Drawn) -> Self {
        Self {
            verdict: judgement.verdict,
            gauge_verdict: judgement.gauge.verdict,
            fits: judgement.gauge.fits.iter().map(|gauge: &Gauge| gauge.size).collect(),
            metal: judgement.material.told,
            length_m: judgement.length_m,
            off: judgement
                .resistance
                .map(|one| 1.96 * (one.ohm - drawn.ohm) / one.expanded_uncertainty_ohm),
            warming: judgement.warming.map(|warming| warming.still_warming),
            drawn,
        }
    }

    pub(crate) fn true_m(&self) -> f64 {
        self.drawn.scene.run.length_m
    }

    pub(crate) fn is_marked(&self) -> bool {
        self.drawn.declared.marks.is_some()
    }

    /// The true length lies where it was said to lie; absent where none was said.
    pub(crate) fn holds(&self) -> Option<bool> {
        let metres = self.length_m?;
        Some((metres.least..=metres.most).contains(&self.true_m()))
    }

    /// Half of the interval, in percent of the length.
    pub(crate) fn half_width_percent(&self) -> Option<f64> {
        let metres = self.length_m?;
        Some(50.0 * metres.width() / metres.value)
    }
}
