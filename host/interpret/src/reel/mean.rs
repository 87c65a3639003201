//! The mean resistance of a reel's cores, and how well it is known.

use runproof_protocol::Post;

use super::Halves;
use super::interval::half_width;
use crate::copper::CelsiusRange;
use crate::isolation::Isolation;
use crate::judgement::ReelResistance;
use crate::judgement::budget::coverage::NORMAL;
use crate::limits::LimitSheet;
use crate::run::Leg;
use crate::survey::{Survey, survey};

/// A mean of fewer says nothing of the others. [judgement]
const CORES_MIN: usize = 2;

/// Of cores without a joint.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mean {
    pub(super) ohm: f64,
    /// Standard uncertainty.
    pub(super) u_ohm: f64,
}

/// Of each reading; the second may be missing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Both {
    pub(super) legs: [Option<Leg>; 4],
    pub(super) first: Mean,
    pub(super) second: Option<Mean>,
}

impl Mean {
    /// Absent where the first reading tells no conductors.
    pub(super) fn of_both(halves: &Halves, sheet: &LimitSheet) -> Option<Both> {
        let isolation = Isolation::of(&halves.first).ok();
        let first = survey(&halves.first, sheet, isolation.as_ref());
        let second = halves.second.as_ref();
        let second = second.map(|half| survey(half, sheet, isolation.as_ref()));
        let mut legs = [None; 4];
        for leg in &first.legs {
            legs[leg.post.index()] = Some(*leg);
        }
        Some(Both {
            legs,
            first: Self::of(&first)?,
            second: second.filter(|second| second.map == first.map).and_then(|one| Self::of(&one)),
        })
    }

    /// Each clip bites as it likes, so that contacts become less in a mean; of all else the conductors are known together.
    fn of(survey: &Survey) -> Option<Self> {
        let has_joint = |post| survey.joints_ohm.iter().any(|(joint, _)| *joint == post);
        let sound: Vec<&Leg> = survey.legs.iter().filter(|leg| !has_joint(leg.post)).collect();
        if sound.len() < CORES_MIN {
            return None;
        }
        let posts: Vec<Post> = sound.iter().map(|leg| leg.post).collect();
        let count = sound.len() as f64;
        let contacts =
            |leg: &&Leg| leg.budget.near_contacts_ohm.powi(2) + leg.budget.far_contact_ohm.powi(2);
        let contacts_ohm2 = sound.iter().map(contacts).sum::<f64>() / count.powi(2);
        let together_u_ohm = survey.together.as_ref()?.mean_u_ohm(&posts);
        Some(Self {
            ohm: sound.iter().map(|leg| leg.ohm).sum::<f64>() / count,
            u_ohm: (contacts_ohm2 + together_u_ohm.powi(2)).sqrt(),
        })
    }

    pub(super) fn at_20_c(&self, warmth: CelsiusRange) -> At20C {
        let (factor, half_width) = factor(warmth);
        At20C { ohm: self.ohm / factor, u: self.u_ohm / self.ohm.abs(), warmth: half_width }
    }

    pub(super) fn stated(&self, at_20_c: Option<At20C>) -> ReelResistance {
        ReelResistance {
            ohm: self.ohm,
            expanded_uncertainty_ohm: NORMAL * self.u_ohm,
            ohm_at_20_c: at_20_c.map(|one| one.ohm),
            expanded_uncertainty_ohm_at_20_c: at_20_c.map(|one| one.expanded_ohm()),
        }
    }
}

impl Both {
    /// Of both, where there are two.
    pub(super) fn mean(&self) -> Mean {
        let Some(second) = self.second else { return self.first };
        Mean { ohm: f64::midpoint(self.first.ohm, second.ohm), ..self.first }
    }
}

/// How many times its resistance at 20 °C copper has at the middle, and half the width as a fraction of that.
pub(super) fn factor(warmth: CelsiusRange) -> (f64, f64) {
    let [coldest, warmest] = warmth.factors();
    let middle = f64::midpoint(coldest, warmest);
    (middle, (warmest - coldest) / 2.0 / middle)
}

/// The mean at 20 °C.
#[derive(Clone, Copy, Debug)]
pub(super) struct At20C {
    pub(super) ohm: f64,
    /// Relative standard uncertainty of the reading.
    pub(super) u: f64,
    /// Half of what the temperature allows, as a fraction.
    pub(super) warmth: f64,
}

impl At20C {
    /// 95 %.
    pub(super) fn expanded_ohm(&self) -> f64 {
        self.ohm.abs() * half_width(&[self.warmth], &[self.u])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn factor_at(celsius: f64) -> f64 {
        factor(CelsiusRange::try_from([celsius, celsius]).expect("possible")).0
    }

    /// IEC 60228, annex B: R₂₀ = R 254.5/(234.5 + t). The standard's own table of three digits is 250/(230 + t), which differs
    /// by up to 0.0014 from 5 to 40 °C: it is not what a length may follow from.
    #[test]
    fn brought_to_20_c_by_the_formula_and_not_by_the_table_of_three_digits() {
        let table = [
            (5.0, 1.064),
            (10.0, 1.042),
            (15.0, 1.02),
            (25.0, 0.98),
            (30.0, 0.962),
            (35.0, 0.943),
            (40.0, 0.926),
        ];
        let mut most_off: f64 = 0.0;
        for (celsius, printed) in table {
            let ours = 1.0 / factor_at(celsius);
            let formula = 254.5 / (234.5 + celsius);
            assert!((ours - formula).abs() < 2e-5, "{celsius}: {ours}");
            assert!((250.0_f64 / (230.0 + celsius) - printed).abs() < 6e-4, "{celsius}");
            most_off = most_off.max((ours - printed).abs());
        }
        assert!((0.001..0.0015).contains(&most_off), "{most_off}");
    }

    /// NFPA 70, chapter 9, table 8's note: R₂ = R₁ (1 + 0.00323 (T₂ − 75)), the same law seen from 75 °C.
    #[test]
    fn the_note_of_nec_table_8_is_the_same_law() {
        for celsius in [10.0, 20.0, 30.0, 50.0] {
            let note = 1.0 + 0.00323 * (celsius - 75.0);
            let ours = factor_at(celsius) / factor_at(75.0);
            assert!((note / ours - 1.0).abs() < 1e-3, "{celsius}");
        }
    }

    #[test]
    fn an_interval_of_temperature_is_half_its_width() {
        let range = CelsiusRange::try_from([18.0, 22.0]).expect("possible");
        let (middle, half_width) = factor(range);
        assert!((middle - 1.0).abs() < 1e-12 && (half_width - 0.00786).abs() < 1e-12);
    }
}
