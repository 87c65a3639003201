//! Who a jig is and what it keeps, in words and as JSON.

use runproof_interpret::capture::{Zero, head_from};
use runproof_protocol::records::{self, KeptPlug, KeptZero, Name};
use runproof_protocol::{Capabilities, Identity, JigParts, Key};
use serde::Serialize;

use super::terminal::paragraph;
use crate::arguments::Units;
use crate::jig::{Conversation, JigError};

/// Raised only when an older reader would misunderstand it.
const VERSION: u32 = 1;

/// All there is to show.
pub(crate) struct Shown {
    identity: Identity,
    capabilities: Capabilities,
    restarted: Option<String>,
    name: Option<Name>,
    plug: Option<KeptPlug>,
    has_own_parts: bool,
    zero: Option<ShownZero>,
    /// Why its values cannot be a jig's.
    cannot_be: Option<String>,
    is_simulated: bool,
}

#[derive(Serialize)]
struct ShownZero {
    taken_unix_s: u64,
    age_days: f64,
    jig_c: Option<f64>,
    ohm: [f64; 6],
    plug: String,
    /// Whether it was taken with the parts and the plug that the jig has now.
    fits: bool,
}

impl Shown {
    pub(crate) fn of(
        jig: &Conversation,
        identity: Identity,
        is_simulated: bool,
        now_unix_s: u64,
    ) -> Result<Self, JigError> {
        let plug: Option<KeptPlug> = records::read(&jig.recall(Key::Plug)?);
        let (head, cannot_be) = match head_from(&identity, "") {
            Ok(mut head) => {
                head.plug.id = plug.as_ref().map_or_else(String::new, |plug| plug.name.to_string());
                (Some(head), None)
            }
            Err(part) => (None, Some(format!("`{}` {part}", part.key))),
        };
        let zero = records::read::<KeptZero>(&jig.recall(Key::Zero)?);
        let zero = zero.and_then(|kept| {
            let zero = Zero::kept(&kept)?;
            Some(ShownZero {
                taken_unix_s: zero.taken_unix_s,
                age_days: (now_unix_s as f64 - zero.taken_unix_s as f64) / 86_400.0,
                jig_c: zero.jig_c,
                ohm: zero.ohm,
                plug: kept.plug.name.to_string(),
                fits: head.is_some_and(|head| head.is_of(&kept)),
            })
        });
        Ok(Self {
            name: records::read(&jig.recall(Key::Name)?),
            has_own_parts: !jig.recall(Key::Parts)?.is_empty(),
            capabilities: jig.capabilities,
            restarted: jig.restart.as_ref().map(ToString::to_string),
            identity,
            plug,
            zero,
            cannot_be,
            is_simulated,
        })
    }
}

#[derive(Serialize)]
struct Printed<'a> {
    runproof_jig: u32,
    jig: PrintedJig<'a>,
    capabilities: Capabilities,
    restarted: Option<&'a str>,
    plug: PrintedPlug<'a>,
    zero: Option<&'a ShownZero>,
    cannot_be: Option<&'a str>,
    simulated: bool,
}

#[derive(Serialize)]
struct PrintedJig<'a> {
    serial: &'a str,
    board: &'a str,
    firmware: &'a str,
    name: Option<&'a str>,
    own_parts: bool,
    series_ohm: [f64; 4],
    series_tolerance: f64,
    pull_ohm: f64,
    divider_ohm: f64,
    sense_ohm: f64,
    /// What it can put across posts 3 and 4 of a live run; null where it has no such load.
    supply_load_ohm: Option<f64>,
}

#[derive(Serialize)]
struct PrintedPlug<'a> {
    name: Option<&'a str>,
    ring_ohm: [f64; 4],
    tolerance: f64,
    /// They were stored; else they are what every plug of this design has.
    stored: bool,
}

pub(crate) fn json(shown: &Shown) -> String {
    let Identity { serial, board, firmware, parts, plug, supply_load } = &shown.identity;
    let printed = Printed {
        runproof_jig: VERSION,
        jig: PrintedJig {
            serial,
            board,
            firmware,
            name: shown.name.as_deref(),
            own_parts: shown.has_own_parts,
            series_ohm: parts.series.map(|part| part.ohms()),
            series_tolerance: f64::from(parts.series_tolerance_ppm) / 1e6,
            pull_ohm: parts.pull.ohms(),
            divider_ohm: parts.divider.ohms(),
            sense_ohm: parts.sense.ohms(),
            supply_load_ohm: (supply_load.0 > 0).then(|| supply_load.ohms()),
        },
        capabilities: shown.capabilities,
        restarted: shown.restarted.as_deref(),
        plug: PrintedPlug {
            name: shown.plug.as_ref().map(|plug| plug.name.as_str()),
            ring_ohm: plug.ring.map(|part| part.ohms()),
            tolerance: f64::from(plug.tolerance_ppm) / 1e6,
            stored: shown.plug.is_some(),
        },
        zero: shown.zero.as_ref(),
        cannot_be: shown.cannot_be.as_deref(),
        simulated: shown.is_simulated,
    };
    let text = serde_json::to_string_pretty(&printed);
    format!("{}\n", text.unwrap_or_else(|error| unreachable!("its keys are text: {error}")))
}

pub(crate) fn words(shown: &Shown, units: Units) -> String {
    let Identity { serial, board, firmware, plug, parts, supply_load } = &shown.identity;
    let name = shown.name.as_deref().filter(|name| !name.is_empty());
    let mut lines = vec![format!("JIG {}", name.unwrap_or(serial)), String::new()];
    let or_none = |text: &str| if text.is_empty() { "none".into() } else { text.to_owned() };
    paragraph(&mut lines, "serial", &format!("{}; {board}, firmware {firmware}.", or_none(serial)));
    if let Some(why) = &shown.cannot_be {
        let told = format!(
            "its values cannot be a jig's: {why}. `runproof jig --forget plug --forget parts` goes back to \
             what it was built with."
        );
        paragraph(&mut lines, "CAUTION", &told);
    }
    let ring = plug.ring.map(|part| part.ohms().to_string()).join(", ");
    let percent = f64::from(plug.tolerance_ppm) / 1e4;
    let whose = match &shown.plug {
        Some(KeptPlug { name, .. }) if !name.is_empty() => format!("{name}: "),
        Some(_) => "as stored: ".into(),
        None => "as every one of this design: ".into(),
    };
    let told = format!("{whose}{ring} Ω from post 1 to 3, 3 to 4, 4 to 2, 2 to 1, ± {percent} %.");
    paragraph(&mut lines, "end plug", &told);
    if shown.has_own_parts {
        paragraph(&mut lines, "parts", &own_parts(parts));
    }
    if supply_load.0 > 0 {
        let told = format!("for the supply of a live run: {} Ω.", supply_load.ohms());
        paragraph(&mut lines, "load", &told);
    }
    paragraph(&mut lines, "zero", &zero(shown, units));
    if let Some(why) = &shown.restarted {
        paragraph(&mut lines, "restarted", &format!("by itself: {why}."));
    }
    paragraph(&mut lines, "can", &can(&shown.capabilities));
    if shown.is_simulated {
        paragraph(&mut lines, "simulated", "its memory begins empty, and ends with this.");
    }
    lines.push(String::new());
    lines.join("\n").replace(|c: char| c.is_control() && c != '\n', "?")
}

fn own_parts(parts: &JigParts) -> String {
    let JigParts { series, series_tolerance_ppm, pull, divider, sense } = parts;
    let series = series.map(|part| part.ohms().to_string()).join(", ");
    format!(
        "its own, as they were measured and stored: {series} Ω of posts 1 to 4, ± {} %; pulls {} kΩ, divider {} MΩ, \
         sense {} Ω.",
        f64::from(*series_tolerance_ppm) / 1e4,
        pull.ohms() / 1e3,
        divider.ohms() / 1e6,
        sense.ohms(),
    )
}

fn zero(shown: &Shown, units: Units) -> String {
    let Some(zero) = &shown.zero else {
        return match shown.capabilities.stores {
            true => "none; take one with `runproof zero`.".into(),
            false => "this jig's firmware keeps none; each computer keeps its own.".into(),
        };
    };
    let age = match zero.age_days {
        days if days < 0.0 => "taken in this computer's future".into(),
        days if days < 1.0 => "less than a day old".into(),
        days if days < 2.0 => "1 day old".into(),
        days => format!("{days:.0} days old"),
    };
    let warm = match (zero.jig_c, units) {
        (None, _) => "how warm the jig was is not known".into(),
        (Some(celsius), Units::Us) => format!("the jig at {:.0} °F", 32.0 + 1.8 * celsius),
        (Some(celsius), Units::Metric) => format!("the jig at {celsius:.0} °C"),
    };
    let of =
        if zero.plug.is_empty() { String::new() } else { format!(" of end plug {}", zero.plug) };
    let rest = match zero.fits {
        true => ".",
        false => "; of other parts or another end plug than the jig has now, so it is not used.",
    };
    format!("{age}{of}, {warm}{rest}")
}

fn can(capabilities: &Capabilities) -> String {
    let Capabilities {
        open_phase,
        plug_phase,
        glance,
        rise,
        alone,
        stores,
        live,
        far_lights,
        supply_load,
        fixture,
        flex,
    } = *capabilities;
    let all = [
        (open_phase, "measure an open run"),
        (plug_phase, "measure it with the end plug"),
        (glance, "see when it is ready"),
        (rise, "time how posts rise"),
        (alone, "check without a computer"),
        (stores, "keep zero, plug and name"),
        (live, "read a live run"),
        (far_lights, "light the lights at the far end"),
        (supply_load, "load the supply of a live run"),
        (fixture, "work at a fixture for leads"),
        (flex, "watch a run that is flexed"),
    ];
    let able: Vec<_> = all.into_iter().filter_map(|(able, what)| able.then_some(what)).collect();
    if able.is_empty() {
        "nothing that this program knows.".into()
    } else {
        format!("{}.", able.join("; "))
    }
}
