//! From a lot to its plan.

use serde::Serialize;

use super::{Aql, CodeLetter, Level, Outcome, Plan, Severity, tables};

/// How a lot is inspected, by MIL-STD-105E's single sampling plans. Normal and tightened ones are ISO 2859-1:1999's as
/// well, reduced ones not: there ISO has other numbers, which were not to be had, and the rejection number is always the
/// acceptance number and one (from memory).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Inspection {
    /// Units in the lot, N.
    pub lot_size: u32,
    /// The level asked for.
    pub level: Level,
    /// The limit asked for.
    pub aql: Aql,
    /// The severity asked for.
    pub severity: Severity,
    /// What table I gives for the lot.
    pub letter_of_lot: CodeLetter,
    /// Whose plan it is: another letter where the table has an arrow.
    pub letter_used: CodeLetter,
    /// Sample size and numbers, as the table has them. The sample may be larger than the lot: see
    /// [`Inspection::units_to_test`].
    pub plan: Plan,
}

/// Why there is no plan.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoInspection {
    /// The tables begin at two units.
    #[error("there is no plan for a lot of {lot_size}; a single unit is tested itself")]
    LotTooSmall {
        /// Units in the lot.
        lot_size: u32,
    },
    /// The tables do not have this limit.
    #[error(
        "{percent} % is not an AQL of the tables, which have 0.010, 0.015, 0.025, 0.040, 0.065, 0.10, \
         0.15, 0.25, 0.40, 0.65, 1.0, 1.5, 2.5, 4.0, 6.5, 10, 15, 25, 40, 65, 100, 150, 250, 400, 650 and \
         1000; take the next smaller one"
    )]
    NotAnAql {
        /// What was asked for.
        percent: f64,
        /// The next smaller one of the tables, in percent.
        below: Option<f64>,
        /// The next larger one of the tables, in percent.
        above: Option<f64>,
    },
    /// Not the name of a level.
    #[error("an inspection level is S-1, S-2, S-3, S-4, I, II or III")]
    NoLevel,
}

impl Inspection {
    /// The single sampling plan for a lot of `lot_size` units.
    ///
    /// # Errors
    ///
    /// [`NoInspection::LotTooSmall`] below two units.
    pub fn of(
        lot_size: u32,
        level: Level,
        aql: Aql,
        severity: Severity,
    ) -> Result<Self, NoInspection> {
        let letter_of_lot = CodeLetter::of(lot_size, level)?;
        let (letter_used, plan) = tables::plan(severity, letter_of_lot, aql);
        Ok(Self { lot_size, level, aql, severity, letter_of_lot, letter_used, plan })
    }

    /// Whether every unit is tested: the sample would be as large as the lot, or larger.
    #[must_use]
    pub fn tests_every_unit(&self) -> bool {
        self.plan.sample_size() >= self.lot_size
    }

    /// How many units are tested: the sample, or the lot where that is smaller.
    #[must_use]
    pub fn units_to_test(&self) -> u32 {
        self.plan.sample_size().min(self.lot_size)
    }

    /// The acceptance number of the same letter one AQL stricter, which the switching score asks for; `None` where
    /// another sample would be tested there.
    #[must_use]
    pub fn acceptance_number_one_step_tighter(&self) -> Option<u32> {
        let (letter, plan) =
            tables::plan(self.severity, self.letter_used, self.aql.one_step_tighter()?);
        (letter == self.letter_used).then(|| plan.acceptance_number())
    }

    /// What follows when `nonconforming` units were found among those tested.
    #[must_use]
    pub fn decide(&self, nonconforming: u32) -> Outcome {
        self.plan.decide(nonconforming)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inspection(lot_size: u32, percent: f64, severity: Severity) -> Inspection {
        Inspection::of(lot_size, Level::II, Aql::from_percent(percent).unwrap(), severity).unwrap()
    }

    #[test]
    fn an_arrow_changes_the_letter_and_the_sample() {
        let found = inspection(40, 1.0, Severity::Normal);
        assert_eq!((found.letter_of_lot.letter(), found.letter_used.letter()), ('D', 'E'));
        assert_eq!((found.plan.sample_size(), found.units_to_test()), (13, 13));
    }

    #[test]
    fn a_sample_as_large_as_the_lot_is_the_lot() {
        let found = inspection(20, 0.40, Severity::Normal);
        assert_eq!((found.plan.sample_size(), found.units_to_test()), (32, 20));
        assert!(found.tests_every_unit());
        assert!(inspection(13, 1.0, Severity::Normal).tests_every_unit());
        assert!(!inspection(14, 1.0, Severity::Normal).tests_every_unit());
    }

    /// The score's question has an answer wherever it is asked.
    #[test]
    fn from_an_acceptance_number_of_two_on_the_sample_is_the_same_one_step_tighter() {
        for lot_size in [2, 9, 16, 26, 51, 91, 151, 281, 501, 1201, 3201, 10_001, 35_001, 150_001] {
            for aql in Aql::all() {
                let found = Inspection::of(lot_size, Level::II, aql, Severity::Normal).unwrap();
                if found.plan.acceptance_number() >= 2 {
                    let tighter = found.acceptance_number_one_step_tighter();
                    assert!(
                        tighter.is_some_and(|tighter| tighter < found.plan.acceptance_number()),
                        "{found:?}"
                    );
                }
            }
        }
    }
}
