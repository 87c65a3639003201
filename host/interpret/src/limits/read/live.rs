//! The ranges of a powered run: each by itself, and none that contradicts another.

use super::checked::Checked;
use crate::limits::{Bounds, LimitUnit, LiveRanges, SheetError, text};

pub(super) struct Read {
    pub(super) supply: Option<text::Supply>,
    pub(super) supply_noted: Option<text::Bounds>,
    pub(super) data_idle: Option<text::Bounds>,
    pub(super) data_undecided: Option<text::Bounds>,
    pub(super) data_to_common: Option<text::Bounds>,
    pub(super) data_alternating: Option<text::Bounds>,
    pub(super) control_current: Option<text::Quantity>,
}

pub(super) fn ranges(checked: Checked<'_>, read: Read) -> Result<LiveRanges, SheetError> {
    let volts = |bounds: Option<text::Bounds>| {
        bounds.map(|bounds| checked.bounds(bounds, LimitUnit::Volt)).transpose()
    };
    let (supply_kind, supply) = match read.supply {
        None => (None, None),
        Some(text::Supply { kind, least, most, unit, source }) => {
            (kind, Some(text::Bounds { least, most, unit, source }))
        }
    };
    let supply = volts(supply)?;
    let noted_at = read.supply_noted.as_ref().map(|bounds| bounds.least.span());
    let supply_noted = volts(read.supply_noted)?;
    if let (Some(noted), Some(at)) = (&supply_noted, noted_at) {
        let within = |wide: &Bounds| wide.least <= noted.least && noted.most <= wide.most;
        if !supply.as_ref().is_some_and(within) {
            return Err(checked.wrong(at, "must lie within `supply`"));
        }
    }
    let undecided_at = read.data_undecided.as_ref().map(|bounds| bounds.least.span());
    let data_undecided = volts(read.data_undecided)?;
    if let (Some(undecided), Some(at)) = (&data_undecided, undecided_at)
        && !(undecided.least < 0.0 && undecided.most > 0.0)
    {
        return Err(checked.wrong(at, "must be below 0, and `most` above it"));
    }
    let alternating_at = read.data_alternating.as_ref().map(|bounds| bounds.least.span());
    let data_alternating = volts(read.data_alternating)?;
    if let (Some(alternating), Some(at)) = (&data_alternating, alternating_at)
        && alternating.least != 0.0
    {
        return Err(checked.wrong(at, "must be 0: nothing need alternate"));
    }
    Ok(LiveRanges {
        supply_kind,
        supply,
        supply_noted,
        data_idle: volts(read.data_idle)?,
        data_undecided,
        data_to_common: volts(read.data_to_common)?,
        data_alternating,
        control_current: read
            .control_current
            .map(|current| checked.quantity(current, LimitUnit::Ampere))
            .transpose()?,
    })
}
