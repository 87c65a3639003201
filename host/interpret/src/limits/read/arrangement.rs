//! A sheet has the conductors and the limits that its arrangement needs, and no others.

use super::checked::Checked;
use crate::limits::ConductorName::{Wire1, Wire2};
use crate::limits::{Arrangement, SheetError, text};

pub(super) fn check(checked: Checked<'_>, sheet: &text::Sheet) -> Result<(), SheetError> {
    let needed = match sheet.arrangement.get_ref() {
        Arrangement::TwoWire => 2,
        Arrangement::FourConductor | Arrangement::Lead => 4,
    };
    if sheet.conductor.len() != needed {
        let count = sheet.conductor.len();
        let reason = format!("needs {needed} conductors, one a post from 1 on; there are {count}");
        return Err(checked.wrong(sheet.arrangement.span(), reason));
    }
    match sheet.arrangement.get_ref() {
        Arrangement::TwoWire => two_wire(checked, sheet),
        Arrangement::FourConductor => by_own_limits(checked, sheet),
        Arrangement::Lead => by_wire(checked, sheet),
    }
}

fn two_wire(checked: Checked<'_>, sheet: &text::Sheet) -> Result<(), SheetError> {
    for conductor in sheet.conductor.iter().map(|conductor| conductor.get_ref()) {
        if !matches!(conductor.name.get_ref(), Wire1 | Wire2) {
            let reason = "must be \"wire-1\" or \"wire-2\": two wires may be exchanged";
            return Err(checked.wrong(conductor.name.span(), reason));
        }
        if !matches!(conductor.post.get_ref(), 1 | 2) {
            return Err(checked.wrong(conductor.post.span(), "must be 1 or 2 for two wires"));
        }
        if let Some(limit) = &conductor.resistance {
            let reason = "two wires have no limit of their own, only their loop has";
            return Err(checked.wrong(limit.span(), reason));
        }
    }
    let of_four = sheet.sibling_difference.as_ref().map(toml::Spanned::span);
    if let Some(at) = of_four.or(sheet.beyond_wire.as_ref().map(toml::Spanned::span)) {
        let reason = "two wires are not told apart: only their loop can be limited";
        return Err(checked.wrong(at, reason));
    }
    if sheet.loop_resistance.is_none() {
        let reason = "needs `loop_resistance`: nothing else is measured on two wires";
        return Err(checked.wrong(sheet.arrangement.span(), reason));
    }
    Ok(())
}

fn by_own_limits(checked: Checked<'_>, sheet: &text::Sheet) -> Result<(), SheetError> {
    named(checked, sheet)?;
    if let Some(limit) = &sheet.beyond_wire {
        return Err(checked.wrong(limit.span(), "is for the arrangement \"lead\" alone"));
    }
    let without = sheet.conductor.iter().find(|one| one.get_ref().resistance.is_none());
    match without {
        Some(one) => Err(SheetError::missing(checked.0, one.span().start, "resistance")),
        None => Ok(()),
    }
}

fn by_wire(checked: Checked<'_>, sheet: &text::Sheet) -> Result<(), SheetError> {
    named(checked, sheet)?;
    if sheet.beyond_wire.is_none() {
        let reason = "needs `beyond_wire`: a lead is held against its wire";
        return Err(checked.wrong(sheet.arrangement.span(), reason));
    }
    let own = sheet.conductor.iter().find_map(|one| one.get_ref().resistance.as_ref());
    own.map_or(Ok(()), |limit| {
        let reason = "a lead's conductors are limited by `beyond_wire`";
        Err(checked.wrong(limit.span(), reason))
    })
}

/// Four conductors have the names of four.
fn named(checked: Checked<'_>, sheet: &text::Sheet) -> Result<(), SheetError> {
    let mut names = sheet.conductor.iter().map(|one| &one.get_ref().name);
    names.find(|name| matches!(name.get_ref(), Wire1 | Wire2)).map_or(Ok(()), |name| {
        let reason = "must be data+, data-, common or supply: \"wire-1\" and \"wire-2\" are for \
                      the arrangement \"two-wire\"";
        Err(checked.wrong(name.span(), reason))
    })
}
