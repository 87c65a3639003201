//! Whether what is wrong says so.

use super::{Row, row};
use crate::Outcome;
use crate::bars::Bar;
use crate::class::Class;

/// Of answers that are wrong or not told, how many say so; and of all, how many are wrong and do not.
pub(crate) fn flags(all: &[Outcome]) -> Vec<Row> {
    let not_right = all
        .iter()
        .filter(|one| one.drawn.class != Class::StrongHum && one.answer.is_wrong_or_not_told());
    let untrue = all.iter().filter(|one| !one.answer.untrue.is_empty());
    vec![
        row(
            "wrong or not told: flagged",
            Bar::AtLeast(0.9995),
            not_right.map(|one| !one.answer.is_wrong_unflagged()),
        ),
        row(
            "something untrue is said: flagged",
            Bar::Unset,
            untrue.map(|one| one.answer.flagged.is_some()),
        ),
        row(
            "wrong and not flagged, of all runs",
            Bar::Unset,
            all.iter().map(|one| one.answer.is_wrong_unflagged()),
        ),
        row(
            "remark on a conductor without a joint",
            Bar::Unset,
            all.iter().map(|one| one.answer.spurious_remark),
        ),
    ]
}
