//! How a lot is decided, and which units are tested for it.

use serde::{Deserialize, Serialize};

use super::Declared;
use crate::sampling::variables::{NoVariables, Risks, VariablesPlan};
use crate::sampling::{
    Aql, Inspection, Level, NoInspection, NoZeroAcceptance, Plan, Severity, draw, zero_acceptance,
};
use crate::{Chance, Fraction};

/// How a lot is decided.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "by", rename_all = "kebab-case")]
pub enum Acceptance {
    /// By attributes, from the tables of MIL-STD-105E.
    Attributes {
        /// The inspection level.
        level: Level,
        /// The acceptance quality limit.
        aql: Aql,
        /// How severely.
        severity: Severity,
    },
    /// One that fails rejects the lot; the sample is as large as a lot of the limiting quality asks for.
    ZeroAcceptance {
        /// The fraction that a lot is to be rejected with.
        limit: Fraction,
        /// The chance that such a lot is accepted all the same, at most.
        risk: Chance,
    },
    /// By variables: mean and standard deviation of what the sample has of its limit. A unit with any other fault rejects.
    Variables(Risks),
    /// Every unit is tested; those that fail are taken out.
    EveryUnit,
}

/// More are no lot that anybody looks at one by one.
pub const UNITS_MAX: u32 = 1_000_000;

/// The units to test, and the plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Drawn {
    /// What decides; none where every unit is tested and sorted.
    pub plan: Option<Plan>,
    /// What decides a lot by variables; of faults other than resistance the plan beside has none accepted.
    pub variables: Option<VariablesPlan>,
    /// Where it comes from, if from the tables.
    pub inspection: Option<Inspection>,
    /// The units to test, in ascending order.
    pub sample: Vec<u32>,
}

/// Why there is no such lot.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NotDeclared {
    /// No unit, or too many.
    #[error("a lot has 1 to {UNITS_MAX} units, not {units}")]
    Units {
        /// So many.
        units: u32,
    },
    /// The tables have no plan.
    #[error(transparent)]
    NoInspection(#[from] NoInspection),
    /// Above 10 an AQL counts faults, and units are tested here.
    #[error(
        "an AQL of {percent} counts faults per hundred units; units that fail are limited by one of 10 or less"
    )]
    NotOfUnits {
        /// The AQL.
        percent: f64,
    },
    /// There is no such plan.
    #[error(transparent)]
    NoVariables(#[from] NoVariables),
    /// By variables, it would measure more units than there are.
    #[error(
        "a plan by resistance with these risks measures {needed} units, and the lot has {units}: test every unit"
    )]
    SampleOfLot {
        /// Those of the plan.
        needed: u32,
        /// Those of the lot.
        units: u32,
    },
    /// There is no such plan.
    #[error(transparent)]
    NoZeroAcceptance(#[from] NoZeroAcceptance),
}

impl Declared {
    /// The units to test.
    ///
    /// # Errors
    ///
    /// [`NotDeclared`].
    pub fn drawn(&self) -> Result<Drawn, NotDeclared> {
        if self.units == 0 || self.units > UNITS_MAX {
            return Err(NotDeclared::Units { units: self.units });
        }
        let mut variables = None;
        let (plan, inspection) = match self.acceptance {
            Acceptance::Attributes { aql, .. } if !aql.may_be_of_units() => {
                return Err(NotDeclared::NotOfUnits { percent: aql.percent() });
            }
            Acceptance::Attributes { level, aql, severity } => {
                let inspection = Inspection::of(self.units, level, aql, severity)?;
                (Some(inspection.plan), Some(inspection))
            }
            Acceptance::ZeroAcceptance { limit, risk } => {
                (Some(zero_acceptance(self.units, limit, risk)?.plan), None)
            }
            Acceptance::Variables(risks) => {
                let found = VariablesPlan::one_limit(&risks)?;
                let needed = found.sample_size;
                if needed > self.units {
                    return Err(NotDeclared::SampleOfLot { needed, units: self.units });
                }
                variables = Some(found);
                (Plan::new(needed, 0, 1).ok(), None)
            }
            Acceptance::EveryUnit => (None, None),
        };
        let size = plan.map_or(self.units, |plan| plan.sample_size().min(self.units));
        let mut sample = draw(self.units, size, self.seed).unwrap_or_default();
        sample.sort_unstable();
        Ok(Drawn { plan, variables, inspection, sample })
    }
}
