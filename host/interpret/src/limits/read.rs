//! Reads a limit sheet. A key that is not known is an error: a limit misspelt must not be a limit
//! left out.

use runproof_protocol::Post;
use serde::Deserialize;
use toml::Spanned;

use super::{BYTES_MAX, ConductorLimits, ConductorName, LimitSheet, ResistanceLimit, SheetError};
use crate::judgement::{ExplainsComplaint, Severity};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Sheet {
    name: String,
    version: String,
    about: String,
    contact_mohm: Spanned<[f64; 2]>,
    sibling_spread: Spanned<f64>,
    conductor: Vec<Conductor>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Conductor {
    name: Spanned<ConductorName>,
    post: Spanned<u8>,
    resistance: Resistance,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Resistance {
    value: Spanned<f64>,
    unit: Spanned<String>,
    severity: Spanned<Severity>,
    explains_complaint: ExplainsComplaint,
    source: Spanned<String>,
}

pub(super) fn read(text: &str) -> Result<LimitSheet, SheetError> {
    if text.len() > BYTES_MAX {
        return Err(SheetError::whole(format!("more than {BYTES_MAX} bytes")));
    }
    let sheet: Sheet = toml::from_str(text).map_err(|error| match error.span() {
        Some(span) => SheetError::at(text, span.start, error.message()),
        None => SheetError::whole(error.message()),
    })?;
    let contact_mohm =
        checked(text, sheet.contact_mohm, "two numbers, 0 ≤ first ≤ second", |c| {
            0.0 <= c[0] && c[0] <= c[1] && c[1].is_finite()
        })?;
    let sibling_spread =
        checked(text, sheet.sibling_spread, "a fraction from 0 to 0.5", |spread| {
            (0.0..=0.5).contains(spread)
        })?;
    Ok(LimitSheet {
        name: sheet.name,
        version: sheet.version,
        about: sheet.about,
        contact_mohm,
        sibling_spread,
        leakage: super::Leakage {
            note_below: super::Limit {
                value: 1e6,
                severity: Severity::Note,
                explains_complaint: ExplainsComplaint::Unlikely,
            },
            fail_below: super::Limit {
                value: 1e5,
                severity: Severity::Fail,
                explains_complaint: ExplainsComplaint::Possibly,
            },
        },
        conductors: conductors(text, sheet.conductor)?,
    })
}

fn conductors(text: &str, read: Vec<Conductor>) -> Result<[ConductorLimits; 4], SheetError> {
    let mut found: Vec<ConductorLimits> = Vec::new();
    for conductor in read {
        let (name_at, post_at) = (conductor.name.span().start, conductor.post.span().start);
        let name = conductor.name.into_inner();
        let Some(post) = Post::from_number(conductor.post.into_inner()) else {
            return Err(SheetError::at(text, post_at, "must be a post, 1 to 4"));
        };
        if found.iter().any(|other| other.post == post) {
            return Err(SheetError::at(text, post_at, "another conductor is on this post"));
        }
        if found.iter().any(|other| other.name == name) {
            return Err(SheetError::at(text, name_at, "this conductor is there twice"));
        }
        found.push(ConductorLimits { name, post, resistance: limit(text, conductor.resistance)? });
    }
    found.sort_by_key(|conductor| conductor.post);
    found.try_into().map_err(|found: Vec<_>| {
        SheetError::whole(format!("has {} conductors; needs one on each of posts 1–4", found.len()))
    })
}

fn limit(text: &str, read: Resistance) -> Result<ResistanceLimit, SheetError> {
    checked(text, read.unit, "\"ohm\"", |unit| unit == "ohm")?;
    Ok(ResistanceLimit {
        value_ohm: checked(text, read.value, "a number above 0", |value| {
            *value > 0.0 && value.is_finite()
        })?,
        severity: checked(text, read.severity, "\"fail\" or \"note\"", |severity| {
            *severity != Severity::CannotTell
        })?,
        explains_complaint: read.explains_complaint,
        source: checked(text, read.source, "where the limit comes from", |source| {
            !source.trim().is_empty()
        })?,
    })
}

/// The value, if it is what it must be.
fn checked<T>(
    text: &str,
    value: Spanned<T>,
    must_be: &str,
    is: impl FnOnce(&T) -> bool,
) -> Result<T, SheetError> {
    if !is(value.get_ref()) {
        return Err(SheetError::at(text, value.span().start, format!("must be {must_be}")));
    }
    Ok(value.into_inner())
}
