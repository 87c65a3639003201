//! `jig`: who a jig is and what it keeps; stores there what belongs to it, for whatever computer it is on.

use runproof_interpret::capture::{Head, JigConstants, Plug, head_from};
use runproof_protocol::records::{self, KeptPlug, Name};
use runproof_protocol::{Identity, JigParts, Key, Record};
use serde::Serialize;

use super::check::begin;
use crate::arguments;
use crate::error::{Error, KeptError};
use crate::exit::Exit;
use crate::jig::{Conversation, JigError};
use crate::show::jig::{self as show, Shown};

/// What is known of resistors that were measured well. (judgement)
const TOLERANCE_PERCENT: f64 = 0.1;

/// Of resistors in series with fuses, which are of copper alloy and drift: by a bench meter. (judgement)
const PARTS_TOLERANCE_PERCENT: f64 = 0.5;

pub(super) fn run(arguments: arguments::Jig) -> Result<Exit, Error> {
    let is_simulated = arguments.jig.simulate.is_some();
    let name = arguments.name.as_deref().map(name).transpose()?;
    let parts = parts(&arguments)?;
    let mut jig = begin(arguments.jig)?;
    let identity = jig.identify()?;
    for what in arguments.forget {
        jig.keep(what.into(), Record::new())?;
    }
    if let Some(name) = name {
        keep(&jig, Key::Name, &name)?;
    }
    if let Some(ring_ohm) = arguments.plug_values {
        let percent = arguments.plug_tolerance.unwrap_or(TOLERANCE_PERCENT);
        let plug = Plug { id: arguments.plug_name, ring_ohm, tolerance: percent / 100.0 };
        keep(&jig, Key::Plug, &checked(&identity, plug)?)?;
    }
    if let Some(parts) = parts {
        keep(&jig, Key::Parts, &parts)?;
    }
    let identity = jig.identify()?;
    let shown = Shown::of(&jig, identity, is_simulated, super::now_unix_s())?;
    let text = if arguments.output.json {
        show::json(&shown)
    } else {
        show::words(&shown, arguments.output.in_units.units)
    };
    super::print(&text)?;
    Ok(Exit::Pass)
}

fn keep<T: Serialize>(jig: &Conversation, key: Key, value: &T) -> Result<(), Error> {
    Ok(jig.keep(key, records::written(value).ok_or(JigError::TooLong)?)?)
}

fn name(text: &str) -> Result<Name, Error> {
    text.parse().map_err(|_| Error::Kept(KeptError::LongName))
}

/// The jig's parts as they were told, if they can be a jig's.
fn parts(told: &arguments::Jig) -> Result<Option<JigParts>, Error> {
    let Some(series_ohm) = told.parts else { return Ok(None) };
    let cannot_be = |part| Error::Kept(KeptError::NotParts { part });
    let nominal = head_from(&runproof_firmware::identity("", ""), "").map_err(cannot_be)?;
    let percent = told.parts_tolerance.unwrap_or(PARTS_TOLERANCE_PERCENT);
    let jig = JigConstants {
        series_ohm,
        series_tolerance: percent / 100.0,
        pull_ohm: told.parts_pull.unwrap_or(nominal.jig.pull_ohm),
        divider_ohm: told.parts_divider.unwrap_or(nominal.jig.divider_ohm),
        sense_ohm: told.parts_sense.unwrap_or(nominal.jig.sense_ohm),
        ..nominal.jig
    };
    let head = Head { jig, ..nominal };
    head.plausible().map_err(cannot_be)?;
    Ok(Some(head.jig.to_keep()))
}

/// With a name that fits and values that a plug can have. That the jig's own values are not those of a jig is
/// another matter.
fn checked(identity: &Identity, plug: Plug) -> Result<KeptPlug, Error> {
    let kept = plug.to_keep().ok_or(JigError::TooLong)?;
    let nominal = runproof_firmware::identity("", "");
    let parts = nominal.parts;
    let identity = Identity { parts, plug: nominal.plug, ..identity.clone() };
    let head = head_from(&identity, "").map_err(|part| KeptError::NotAPlug { part })?;
    Head { plug, ..head }.plausible().map_err(|part| KeptError::NotAPlug { part })?;
    Ok(kept)
}
