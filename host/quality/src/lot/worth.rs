//! What the plan of a lot is worth, told before anything is tested.

use serde::Serialize;

use super::{Acceptance, Declared, Drawn};
use crate::sampling::variables::VariablesPlan;
use crate::sampling::{OperatingPoint, OutgoingLimit, chance_of_finding};
use crate::{Chance, Fraction};

/// What a sampling plan is worth for one lot.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Worth {
    /// The chance that the sample has the one bad unit of a lot: n of N.
    pub finds_one: f64,
    /// The chance that a lot as good as its AQL is rejected; absent where there is none.
    pub producers_risk: Option<f64>,
    /// The fraction of bad units with which one lot in ten is accepted: LTPD, type B.
    pub one_in_ten_accepted_at: f64,
    /// The fewest bad units of this lot with which it is accepted with one chance in ten or less: type A. Absent where it
    /// always is more.
    pub bad_units_accepted_one_in_ten: Option<u32>,
    /// The worst that leaves on average, if rejected lots are tested unit by unit; not told of a lot by variables.
    pub outgoing_limit: Option<OutgoingLimit>,
    /// How likely lots of each quality are accepted.
    pub curve: Vec<OperatingPoint>,
}

const POINTS: u16 = 60;

impl Worth {
    /// Of a lot's plan; none where every unit is tested, so that nothing is left to chance.
    #[must_use]
    pub fn of(declared: &Declared, drawn: &Drawn) -> Option<Self> {
        let (plan, units) = (drawn.plan?, declared.units);
        let tested = drawn.sample.len() as u32;
        if tested >= units {
            return None;
        }
        let producers_risk = match declared.acceptance {
            Acceptance::Attributes { aql, .. } => plan.producers_risk(aql).ok(),
            _ => None,
        };
        if let Some(plan) = drawn.variables {
            return Self::by_variables(declared, plan, tested);
        }
        Some(Self {
            finds_one: chance_of_finding(units, 1, tested).ok()?,
            producers_risk,
            one_in_ten_accepted_at: plan.quality_accepted_with(Chance::ONE_IN_TEN).unwrap_or(1.0),
            bad_units_accepted_one_in_ten: plan
                .lot_quality_accepted_with(units, Chance::ONE_IN_TEN),
            outgoing_limit: Some(plan.outgoing_quality_limit(units)),
            curve: plan.operating_characteristic(POINTS),
        })
    }

    fn by_variables(declared: &Declared, plan: VariablesPlan, tested: u32) -> Option<Self> {
        let Acceptance::Variables(risks) = declared.acceptance else { return None };
        let last = 2.0 * risks.bad.value();
        let at = |n: u16| {
            let fraction = (last * f64::from(n) / f64::from(POINTS)).min(1.0);
            let chance_accepted = plan.chance_accepted(Fraction::new(fraction).ok()?);
            Some(OperatingPoint { fraction, chance_accepted })
        };
        let good = Fraction::new(risks.good.value()).ok()?;
        Some(Self {
            finds_one: chance_of_finding(declared.units, 1, tested).ok()?,
            producers_risk: Some(1.0 - plan.chance_accepted(good)),
            one_in_ten_accepted_at: risks.bad.value(),
            bad_units_accepted_one_in_ten: None,
            outgoing_limit: None,
            curve: (0..=POINTS).filter_map(at).collect(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Eight of forty: one bad one is found by one sample in five.
    #[test]
    fn eight_of_forty_find_one_bad_reel_once_in_five() {
        let limit = Fraction::new(0.25).unwrap();
        let acceptance = Acceptance::ZeroAcceptance { limit, risk: Chance::new(0.077).unwrap() };
        let declared =
            Declared { series: String::new(), units: 40, acceptance, seed: 1, again: false };
        let drawn = declared.drawn().unwrap();
        assert_eq!(drawn.sample.len(), 8);
        let worth = Worth::of(&declared, &drawn).unwrap();
        assert!((worth.finds_one - 0.2).abs() < 1e-12);
        assert_eq!(worth.producers_risk, None);
        let every = Declared { acceptance: Acceptance::EveryUnit, ..declared };
        assert_eq!(Worth::of(&every, &every.drawn().unwrap()), None);
    }
}
