//! A single sampling plan, and what a sample says about its lot.

use serde::Serialize;

/// So many units are tested; what is found decides about the lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
pub struct Plan {
    sample_size: u32,
    acceptance_number: u32,
    rejection_number: u32,
}

/// Not a plan: none is tested, or the rejection number is not above the acceptance number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "a plan tests at least one unit, and its rejection number is above its acceptance number: not \
     {sample_size} units, {acceptance_number} and {rejection_number}"
)]
pub struct NotAPlan {
    /// Units to test.
    pub sample_size: u32,
    /// Ac.
    pub acceptance_number: u32,
    /// Re.
    pub rejection_number: u32,
}

/// What a sample says about its lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// No more than the acceptance number.
    Accepted,
    /// Between the two numbers, on reduced inspection by MIL-STD-105E: this lot is accepted, the next one is inspected
    /// normally.
    AcceptedBackToNormal,
    /// The rejection number or more.
    Rejected,
}

impl Plan {
    /// A plan of one's own.
    ///
    /// # Errors
    ///
    /// [`NotAPlan`].
    pub fn new(
        sample_size: u32,
        acceptance_number: u32,
        rejection_number: u32,
    ) -> Result<Self, NotAPlan> {
        if sample_size == 0 || rejection_number <= acceptance_number {
            return Err(NotAPlan { sample_size, acceptance_number, rejection_number });
        }
        Ok(Self { sample_size, acceptance_number, rejection_number })
    }

    pub(super) const fn of_table(
        sample_size: u32,
        acceptance_number: u32,
        rejection_number: u32,
    ) -> Self {
        Self { sample_size, acceptance_number, rejection_number }
    }

    /// Units to test, n.
    #[must_use]
    pub const fn sample_size(self) -> u32 {
        self.sample_size
    }

    /// Ac: with so many nonconforming units or fewer the lot is accepted.
    #[must_use]
    pub const fn acceptance_number(self) -> u32 {
        self.acceptance_number
    }

    /// Re: with so many nonconforming units or more the lot is rejected.
    #[must_use]
    pub const fn rejection_number(self) -> u32 {
        self.rejection_number
    }

    /// What follows when `nonconforming` units were found in the sample.
    #[must_use]
    pub const fn decide(self, nonconforming: u32) -> Outcome {
        if nonconforming <= self.acceptance_number {
            Outcome::Accepted
        } else if nonconforming < self.rejection_number {
            Outcome::AcceptedBackToNormal
        } else {
            Outcome::Rejected
        }
    }

    /// The most that may be found in a lot that is accepted, be it that the next one is inspected normally.
    pub(super) const fn most_accepted(self) -> u32 {
        self.rejection_number - 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_the_two_numbers_a_lot_is_accepted_and_trust_is_lost() {
        let reduced = Plan::new(32, 1, 4).unwrap();
        let outcomes = [0, 1, 2, 3, 4, u32::MAX].map(|found| reduced.decide(found));
        use Outcome::{Accepted, AcceptedBackToNormal as Back, Rejected};
        assert_eq!(outcomes, [Accepted, Accepted, Back, Back, Rejected, Rejected]);
    }

    #[test]
    fn what_is_no_plan_is_refused() {
        assert!(Plan::new(0, 0, 1).is_err());
        assert!(Plan::new(5, 1, 1).is_err());
        assert!(Plan::new(5, 0, 1).is_ok());
    }
}
