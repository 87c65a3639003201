//! Reads a limit sheet. A key that is not known is an error: a limit misspelt must not be a limit
//! left out.

mod arrangement;
mod checked;
mod live;

use runproof_protocol::Post;
use toml::Spanned;

use self::checked::Checked;
use super::{BYTES_MAX, ConductorLimits, LimitSheet, LimitUnit, SheetError, text};

pub(super) fn read(text: &str) -> Result<LimitSheet, SheetError> {
    if text.len() > BYTES_MAX {
        return Err(SheetError::whole(format!("more than {BYTES_MAX} bytes")));
    }
    let sheet: text::Sheet =
        toml::from_str(text).map_err(|error| SheetError::parsing(text, &error))?;
    let checked = Checked(text);
    arrangement::check(checked, &sheet)?;
    let limit = |read: Option<Spanned<text::Limit>>, unit| {
        read.map(|limit| checked.limit(limit.into_inner(), unit)).transpose()
    };
    Ok(LimitSheet {
        name: checked.words(sheet.name, "a name")?,
        version: checked.words(sheet.version, "a version")?,
        about: sheet.about,
        arrangement: sheet.arrangement.into_inner(),
        decision_rule: sheet.decision_rule,
        contact_mohm: checked.value(
            sheet.contact_mohm,
            "two numbers, 0 ≤ first ≤ second",
            |c| 0.0 <= c[0] && c[0] <= c[1] && c[1].is_finite(),
        )?,
        sibling_spread: checked.value(
            sheet.sibling_spread,
            "a fraction from 0 to 0.5",
            |spread| (0.0..=0.5).contains(spread),
        )?,
        conductors: conductors(checked, sheet.conductor)?,
        beyond_wire: limit(sheet.beyond_wire, LimitUnit::Ohm)?,
        loop_resistance: limit(sheet.loop_resistance, LimitUnit::Ohm)?,
        loop_of_calculated: limit(sheet.loop_of_calculated, LimitUnit::Percent)?,
        sibling_difference: sheet
            .sibling_difference
            .map(|difference| checked.sibling_difference(difference.into_inner()))
            .transpose()?,
        leakage: checked.leakage(sheet.leakage)?,
        maximum_length: sheet
            .maximum_length
            .map(|length| checked.limit(length, LimitUnit::Metre))
            .transpose()?,
        capacitance: sheet
            .capacitance
            .map(|bounds| checked.bounds_above_0(bounds, LimitUnit::PicofaradPerMetre))
            .transpose()?,
        live: live::ranges(
            checked,
            live::Read {
                supply: sheet.supply,
                supply_noted: sheet.supply_noted,
                data_idle: sheet.data_idle,
                data_undecided: sheet.data_undecided,
                data_to_common: sheet.data_to_common,
                data_alternating: sheet.data_alternating,
                control_current: sheet.control_current,
            },
        )?,
    })
}

fn conductors(
    checked: Checked<'_>,
    read: Vec<Spanned<text::Conductor>>,
) -> Result<Vec<ConductorLimits>, SheetError> {
    let mut found: Vec<ConductorLimits> = Vec::new();
    for conductor in read {
        let conductor = conductor.into_inner();
        let (name_at, post_at) = (conductor.name.span(), conductor.post.span());
        let name = conductor.name.into_inner();
        let Some(post) = Post::from_number(conductor.post.into_inner()) else {
            return Err(checked.wrong(post_at, "must be a post, 1 to 4"));
        };
        if found.iter().any(|other| other.post == post) {
            return Err(checked.wrong(post_at, "another conductor is on this post"));
        }
        if found.iter().any(|other| other.name == name) {
            return Err(checked.wrong(name_at, "this conductor is there twice"));
        }
        let resistance = conductor
            .resistance
            .map(|limit| checked.limit(limit.into_inner(), LimitUnit::Ohm))
            .transpose()?;
        found.push(ConductorLimits { name, terminal: post, post, resistance });
    }
    found.sort_by_key(|conductor| conductor.post);
    Ok(found)
}
