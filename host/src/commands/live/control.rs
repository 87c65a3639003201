//! What is known of the supply of a powered run: what a control takes, and what lies between.

use std::path::Path;

use runproof_interpret::judgement::{LiveFindingKind, LiveJudgement, Measured, SupplyKind};
use runproof_interpret::limits::{ConductorName, LimitUnit, Quantity};
use runproof_interpret::{LimitSheet, LiveKnowledge, RunKnowledge, judge};
use runproof_protocol::Post;

use crate::arguments::Control;
use crate::captures;
use crate::error::{Error, LiveError};

pub(in crate::commands) fn known(
    control: &Control,
    sheet: &LimitSheet,
) -> Result<LiveKnowledge, Error> {
    let source = "as told".to_owned();
    let control_current =
        control.control_current.map(|value| Quantity { value, unit: LimitUnit::Ampere, source });
    let run_ohm = control.run.as_deref().map(|path| run_ohm(path, sheet)).transpose()?;
    Ok(LiveKnowledge { control_current, run_ohm })
}

/// What supply and common have together, by a check of the run.
fn run_ohm(path: &Path, sheet: &LimitSheet) -> Result<Measured, Error> {
    let capture = captures::read(path)?;
    let judgement = judge(&capture, sheet, &RunKnowledge::default());
    let of = |name| {
        let conductor = judgement.conductors.iter().find(|one| one.name == name)?;
        Some((conductor.resistance_ohm?, conductor.expanded_uncertainty_ohm?))
    };
    let both = of(ConductorName::Supply).zip(of(ConductorName::Common));
    let both = both.filter(|_| !capture.is_live());
    let ((supply, u_supply), (common, u_common)) =
        both.ok_or_else(|| LiveError::NoRunResistance { path: path.into() })?;
    // Both stand on one temperature and one zero: their uncertainties add.
    Ok(Measured { value: (supply + common).max(0.0), u: u_supply + u_common })
}

/// There is a supply where the load is, on posts 3 and 4, and nothing on the run that should stay alone.
pub(super) fn may_be_loaded(judgement: &LiveJudgement, sheet: &LimitSheet) -> bool {
    let posts = [ConductorName::Common, ConductorName::Supply].map(|name| sheet.post_of(name));
    let there = posts.iter().all(|post| matches!(post, Some(Post::P3 | Post::P4)));
    let danger = judgement.found(LiveFindingKind::Hazard)
        || judgement.found(LiveFindingKind::AllMoveTogether);
    let supply = judgement.supply.as_ref().map(|supply| supply.kind);
    let is_supply =
        supply.is_some_and(|kind| !matches!(kind, SupplyKind::None | SupplyKind::Unknown));
    there && is_supply && !danger
}
