//! A voltage held against a range, by the sheet's decision rule (JCGM 106:2012, 8.2 and 8.3, as resistances are).

use crate::judgement::{LiveReason, Measured, Verdict};
use crate::limits::{Bounds, DecisionRule};

/// Within, below, above, or too close to tell.
pub(super) fn by_range(rule: DecisionRule, measured: Measured, range: &Bounds) -> LiveReason {
    let guard = match rule {
        DecisionRule::Guarded => measured.u,
        DecisionRule::Simple if measured.u.is_finite() => 0.0,
        DecisionRule::Simple => f64::NAN,
    };
    let value = measured.value;
    if value - guard >= range.least && value + guard <= range.most {
        LiveReason::WithinLimits
    } else if value + guard < range.least {
        LiveReason::BelowLimit
    } else if value - guard > range.most {
        LiveReason::AboveLimit
    } else {
        LiveReason::TooCloseToLimit
    }
}

/// What a reason comes to.
pub(super) fn verdict(reason: LiveReason) -> Verdict {
    use LiveReason as R;
    match reason {
        R::WithinLimits => Verdict::Pass,
        R::BelowLimit
        | R::AboveLimit
        | R::OtherKind
        | R::Nothing
        | R::CouplesIn
        | R::Floats
        | R::Reversed
        | R::BeyondRange => Verdict::Fail,
        R::TooCloseToLimit | R::LimitUnknown | R::Undecided | R::Busy | R::NotMeasured => {
            Verdict::CannotTell
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::limits::LimitUnit;

    #[test]
    fn the_guard_band_belongs_to_neither_side() {
        let range =
            Bounds { least: 20.0, most: 30.0, unit: LimitUnit::Volt, source: String::new() };
        let by = |rule, value, u| by_range(rule, Measured { value, u }, &range);
        for (value, guarded, simple) in [
            (20.3, LiveReason::WithinLimits, LiveReason::WithinLimits),
            (20.1, LiveReason::TooCloseToLimit, LiveReason::WithinLimits),
            (19.9, LiveReason::TooCloseToLimit, LiveReason::BelowLimit),
            (19.7, LiveReason::BelowLimit, LiveReason::BelowLimit),
            (30.1, LiveReason::TooCloseToLimit, LiveReason::AboveLimit),
            (30.3, LiveReason::AboveLimit, LiveReason::AboveLimit),
            (f64::NAN, LiveReason::TooCloseToLimit, LiveReason::TooCloseToLimit),
        ] {
            assert_eq!(by(DecisionRule::Guarded, value, 0.2), guarded, "{value}");
            assert_eq!(by(DecisionRule::Simple, value, 0.2), simple, "{value}");
        }
        let unknown = by(DecisionRule::Simple, 25.0, f64::NAN);
        assert_eq!(unknown, LiveReason::TooCloseToLimit);
        assert_eq!(verdict(unknown), Verdict::CannotTell);
    }
}
