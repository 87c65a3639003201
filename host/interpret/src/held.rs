//! The limit that a resistance is held to: as the sheet says, or by the wire that was told.

use crate::copper::Calculated;
use crate::decision;
use crate::judgement::{COVERAGE_FACTOR, ExplainsComplaint, Reason, Severity, Verdict};
use crate::limits::{ConductorLimits, DecisionRule, Limit, LimitSheet};

/// A limit in ohms, and what it means to be beyond it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Held {
    pub(crate) ohm: f64,
    /// Standard uncertainty of what was calculated; none of what stands in the sheet.
    pub(crate) u_ohm: f64,
    rule: DecisionRule,
    pub(crate) severity: Severity,
    pub(crate) explains_complaint: ExplainsComplaint,
}

impl Held {
    fn to(sheet: &LimitSheet, limit: &Limit, ohm: f64, u_ohm: f64) -> Self {
        let Limit { severity, explains_complaint, .. } = *limit;
        Self { ohm, u_ohm, rule: sheet.decision_rule, severity, explains_complaint }
    }

    /// Of one conductor; absent where it takes a wire that was not told.
    pub(crate) fn one(
        limits: &ConductorLimits,
        sheet: &LimitSheet,
        wire: Option<Calculated>,
    ) -> Option<Self> {
        if let Some(limit) = &limits.resistance {
            return Some(Self::to(sheet, limit, limit.value, 0.0));
        }
        let (limit, wire) = (sheet.beyond_wire.as_ref()?, wire?);
        Some(Self::to(sheet, limit, wire.ohm + limit.value, wire.u_ohm()))
    }

    /// Of two conductors in series: all that can be told.
    pub(crate) fn around(sheet: &LimitSheet, wire: Option<Calculated>) -> Vec<Self> {
        let fixed =
            sheet.loop_resistance.as_ref().map(|limit| Self::to(sheet, limit, limit.value, 0.0));
        let by_wire = sheet.loop_of_calculated.as_ref().zip(wire).map(|(limit, wire)| {
            let factor = 2.0 * limit.value / 100.0;
            Self::to(sheet, limit, factor * wire.ohm, factor * wire.u_ohm())
        });
        [fixed, by_wire].into_iter().flatten().collect()
    }

    /// The more one conductor may have than another of so many ohms.
    pub(crate) fn beyond_sibling(sheet: &LimitSheet, sibling_ohm: f64) -> Option<Self> {
        let difference = sheet.sibling_difference.as_ref()?;
        let ohm = difference.limit.value.max(difference.or_percent / 100.0 * sibling_ohm);
        Some(Self::to(sheet, &difference.limit, ohm, 0.0))
    }

    /// By the resistance's expanded uncertainty and the limit's own.
    pub(crate) fn decide(&self, ohm: f64, expanded_ohm: f64) -> Reason {
        let expanded_ohm = expanded_ohm.hypot(COVERAGE_FACTOR * self.u_ohm);
        decision::by_limit(self.rule, ohm, expanded_ohm, self.ohm)
    }

    /// How likely so many ohms are within the limit.
    pub(crate) fn conformance(&self, ohm: f64, u_ohm: f64) -> Option<f64> {
        decision::conformance(ohm, u_ohm.hypot(self.u_ohm), self.ohm)
    }

    /// What the run comes to by this limit alone.
    pub(crate) fn verdict(&self, reason: Reason) -> Verdict {
        match reason {
            Reason::WithinLimit => Verdict::Pass,
            Reason::BeyondLimit | Reason::TooCloseToLimit if self.severity == Severity::Note => {
                Verdict::Pass
            }
            Reason::BeyondLimit | Reason::Open | Reason::Shorted | Reason::ArrivesElsewhere => {
                Verdict::Fail
            }
            Reason::TooCloseToLimit
            | Reason::MapUnknown
            | Reason::NotMeasured
            | Reason::Disturbed
            | Reason::NotLifted
            | Reason::LimitUnknown => Verdict::CannotTell,
        }
    }

    /// How grave it is to be beyond the limit, or too close to say.
    pub(crate) fn gravity(&self, reason: Reason) -> Option<Severity> {
        match (reason, self.severity) {
            (Reason::BeyondLimit, severity) => Some(severity),
            (Reason::TooCloseToLimit, Severity::Note) => Some(Severity::Note),
            (Reason::TooCloseToLimit, _) => Some(Severity::CannotTell),
            _ => None,
        }
    }
}
