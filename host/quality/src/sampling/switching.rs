//! Lot after lot: when inspection is tightened, reduced, normal again, or ends.
//!
//! | switch | when | source |
//! |---|---|---|
//! | normal → tightened | 2 of 5 or fewer consecutive lots are rejected | both editions; two sources |
//! | tightened → normal | 5 consecutive lots are accepted | both editions |
//! | normal → reduced | the switching score is 30 or more, production is steady, the authority agrees | ISO 2859-1:1999 9.3.3 |
//! | | 10 lots are accepted with no more nonconforming than table VIII's limit number, production is steady | MIL-STD-105E, from memory; table VIII was not to be had, so the limit number is given |
//! | reduced → normal | a lot is rejected, or accepted between the two numbers; production is irregular; other conditions | from memory |
//! | tightened → discontinued | 5 lots in all are rejected while it lasts | ISO 2859-1:1999 9.4, Z1.4-2003 8.4 |
//! | | 10 consecutive lots stay on it | MIL-STD-105E, one source |
//!
//! The switching score: +3 when the acceptance number is 2 or more and the lot would be accepted one AQL stricter; +2 when
//! it is 0 or 1 and the lot is accepted; else back to nought (ISO 2859-1:1999 9.3.3).

#[cfg(test)]
mod tests;

use std::collections::VecDeque;

use serde::{Deserialize, Serialize};

use super::{Inspection, Outcome, Severity};

/// Whose rules.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Edition {
    /// MIL-STD-105E (1989).
    MilStd105E,
    /// ISO 2859-1:1999.
    #[default]
    Iso2859,
}

/// Where a series of lots stands. Lots count on their original inspection only: one that is submitted again does not.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Switching {
    edition: Edition,
    may_reduce: bool,
    at: At,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case", tag = "severity")]
enum At {
    Normal { recent: VecDeque<Counted>, score: u32 },
    Tightened { lots: u32, accepted_in_a_row: u32, rejected: u32 },
    Reduced,
    Discontinued,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
struct Counted {
    accepted: bool,
    units: u32,
    nonconforming: u32,
}

/// What a lot changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Switched {
    /// What follows for the lot.
    pub outcome: Outcome,
    /// What follows for the next lots.
    pub switch: Option<Switch>,
    /// Whether inspection might be reduced.
    pub reduction: Reduction,
    /// Where the series stands now.
    pub next: Switching,
}

/// A change, with its reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Switch {
    /// Two of the last five lots, or fewer, were rejected.
    ToTightened,
    /// Five in a row were accepted on tightened inspection.
    ToNormal,
    /// The switching score is reached.
    ToReduced,
    /// A lot was rejected on reduced inspection.
    ToNormalAfterRejection,
    /// A lot was accepted on reduced inspection, with more than the acceptance number.
    ToNormalAfterGap,
    /// Inspection ends until the supplier has done something; then it is tightened.
    Discontinued,
}

/// Whether inspection might be reduced.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case", tag = "reduction")]
pub enum Reduction {
    /// No.
    NotDue,
    /// By the score, as soon as production is steady and the authority agrees: [`Switching::may_reduce`].
    Due,
    /// The last ten lots were accepted, so table VIII decides: [`Switching::reduce_by_limit_number`].
    ByLimitNumber {
        /// Units tested of the ten.
        units: u64,
        /// Nonconforming ones among them.
        nonconforming: u64,
    },
}

/// Why a lot is not counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotCounted {
    /// It was inspected by another severity than is due.
    #[error("this lot was inspected on {inspected:?} inspection while {due:?} was due")]
    OtherSeverity {
        /// How it was inspected.
        inspected: Severity,
        /// How it should have been.
        due: Severity,
    },
    /// Inspection is discontinued.
    #[error("inspection is discontinued; it begins again, tightened, when the supplier has acted")]
    Discontinued,
}

/// The switching score at which inspection may be reduced (ISO 2859-1:1999 9.3.3).
const SCORE_TO_REDUCE: u32 = 30;

impl Switching {
    /// A new series, which begins with normal inspection. `may_reduce`: production is steady and the authority agrees
    /// that inspection be reduced.
    #[must_use]
    pub fn new(edition: Edition, may_reduce: bool) -> Self {
        Self { edition, may_reduce, at: At::normal() }
    }

    /// How the next lot is inspected; `None` while inspection is discontinued.
    #[must_use]
    pub fn severity(&self) -> Option<Severity> {
        match self.at {
            At::Normal { .. } => Some(Severity::Normal),
            At::Tightened { .. } => Some(Severity::Tightened),
            At::Reduced => Some(Severity::Reduced),
            At::Discontinued => None,
        }
    }

    /// The switching score, on normal inspection by ISO 2859-1.
    #[must_use]
    pub fn score(&self) -> Option<u32> {
        match self.at {
            At::Normal { score, .. } if self.edition == Edition::Iso2859 => Some(score),
            _ => None,
        }
    }

    /// Whether production is steady and the authority agrees is told anew. Without it, reduced inspection becomes normal.
    #[must_use]
    pub fn may_reduce(self, may_reduce: bool) -> Self {
        let at = match self.at {
            At::Reduced if !may_reduce => At::normal(),
            At::Normal { score, .. } if may_reduce && self.reaches(score) => At::Reduced,
            at => at,
        };
        Self { may_reduce, at, ..self }
    }

    /// Inspection is taken up again after it was discontinued, and is tightened. Else nothing changes.
    #[must_use]
    pub fn resume(self) -> Self {
        match self.at {
            At::Discontinued => Self { at: At::tightened(), ..self },
            _ => self,
        }
    }

    /// By MIL-STD-105E, ten lots being accepted: inspection is reduced when no more nonconforming units were in them than
    /// `limit_number`, which is table VIII's for the units tested and the AQL. `None` when it is not.
    #[must_use]
    pub fn reduce_by_limit_number(&self, limit_number: u32) -> Option<Self> {
        match self.reduction() {
            Reduction::ByLimitNumber { nonconforming, .. }
                if self.may_reduce && nonconforming <= u64::from(limit_number) =>
            {
                Some(Self { at: At::Reduced, ..self.clone() })
            }
            _ => None,
        }
    }

    /// Counts a lot: `nonconforming` units were found by `inspection`.
    ///
    /// # Errors
    ///
    /// [`NotCounted`].
    pub fn count(
        &self,
        inspection: &Inspection,
        nonconforming: u32,
    ) -> Result<Switched, NotCounted> {
        let due = self.severity().ok_or(NotCounted::Discontinued)?;
        let inspected = inspection.severity;
        if inspected != due {
            return Err(NotCounted::OtherSeverity { inspected, due });
        }
        let outcome = inspection.decide(nonconforming);
        let (at, switch) = self.after(inspection, nonconforming, outcome);
        let next = Self { at, ..self.clone() };
        Ok(Switched { outcome, switch, reduction: next.reduction(), next })
    }

    fn after(
        &self,
        inspection: &Inspection,
        nonconforming: u32,
        outcome: Outcome,
    ) -> (At, Option<Switch>) {
        let accepted = outcome != Outcome::Rejected;
        match &self.at {
            At::Normal { recent, score } => {
                let mut recent = recent.clone();
                let units = inspection.units_to_test();
                recent.push_front(Counted { accepted, units, nonconforming });
                recent.truncate(10);
                let score = score_after(*score, inspection, nonconforming, accepted);
                if recent.iter().take(5).filter(|lot| !lot.accepted).count() >= 2 {
                    (At::tightened(), Some(Switch::ToTightened))
                } else if self.may_reduce && self.reaches(score) {
                    (At::Reduced, Some(Switch::ToReduced))
                } else {
                    (At::Normal { recent, score }, None)
                }
            }
            At::Tightened { lots, accepted_in_a_row, rejected } => {
                let lots = lots + 1;
                let accepted_in_a_row = if accepted { accepted_in_a_row + 1 } else { 0 };
                let rejected = rejected + u32::from(!accepted);
                let ends = match self.edition {
                    Edition::MilStd105E => lots >= 10,
                    Edition::Iso2859 => rejected >= 5,
                };
                if accepted_in_a_row >= 5 {
                    (At::normal(), Some(Switch::ToNormal))
                } else if ends {
                    (At::Discontinued, Some(Switch::Discontinued))
                } else {
                    (At::Tightened { lots, accepted_in_a_row, rejected }, None)
                }
            }
            At::Reduced => match outcome {
                Outcome::Accepted => (At::Reduced, None),
                Outcome::AcceptedBackToNormal => (At::normal(), Some(Switch::ToNormalAfterGap)),
                Outcome::Rejected => (At::normal(), Some(Switch::ToNormalAfterRejection)),
            },
            At::Discontinued => (At::Discontinued, None),
        }
    }

    fn reaches(&self, score: u32) -> bool {
        self.edition == Edition::Iso2859 && score >= SCORE_TO_REDUCE
    }

    fn reduction(&self) -> Reduction {
        match &self.at {
            At::Normal { score, .. } if self.reaches(*score) => Reduction::Due,
            At::Normal { recent, .. }
                if self.edition == Edition::MilStd105E
                    && recent.len() == 10
                    && recent.iter().all(|lot| lot.accepted) =>
            {
                Reduction::ByLimitNumber {
                    units: recent.iter().map(|lot| u64::from(lot.units)).sum(),
                    nonconforming: recent.iter().map(|lot| u64::from(lot.nonconforming)).sum(),
                }
            }
            _ => Reduction::NotDue,
        }
    }
}

impl At {
    fn normal() -> Self {
        Self::Normal { recent: VecDeque::new(), score: 0 }
    }

    fn tightened() -> Self {
        Self::Tightened { lots: 0, accepted_in_a_row: 0, rejected: 0 }
    }
}

fn score_after(score: u32, inspection: &Inspection, nonconforming: u32, accepted: bool) -> u32 {
    let earned = if inspection.plan.acceptance_number() >= 2 {
        let tighter = inspection.acceptance_number_one_step_tighter();
        tighter.filter(|tighter| nonconforming <= *tighter).map(|_| 3)
    } else {
        accepted.then_some(2)
    };
    earned.map_or(0, |earned| score.saturating_add(earned))
}
