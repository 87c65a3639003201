//! What a jig keeps, at the program: shown, stored, forgotten; and jigs that cannot, or keep nonsense.

use runproof_firmware::identity;
use runproof_protocol::records::{self, KeptPlug, KeptZero};
use runproof_protocol::{
    Capabilities, Command, Event, Key, Microohms, Milliohms, Nanoohms, NotKept, Plug, Record,
    VERSION,
};

use crate::far_end::{NOTHING, Then, against, framed, jig};
use crate::program::{Ran, runproof};

const SIMULATED: [&str; 3] = ["jig", "--simulate", "good-run"];

fn simulated(arguments: &[&str]) -> Ran {
    runproof(&[&SIMULATED[..], arguments].concat())
}

#[test]
fn a_new_jig_keeps_nothing() {
    let ran = simulated(&[]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    for told in [
        "JIG seed-1",
        "none; take one with `runproof zero`",
        "begins empty",
        "33.2, 47.5, 68.1, 150 Ω",
    ] {
        assert!(ran.out.contains(told), "{told}: {}", ran.out);
    }
}

#[test]
fn a_name_and_a_plug_are_stored_and_shown() {
    let stored =
        ["--name", "Bench 3", "--plug-values", "33.21,47.49,68.1,150", "--plug-name", "red"];
    let shown = simulated(&[&stored[..], &["--plug-tolerance", "0.05", "--json"]].concat()).json();
    assert_eq!(shown["jig"]["name"], "Bench 3");
    assert_eq!(shown["plug"]["name"], "red");
    assert_eq!(shown["plug"]["stored"], true);
    assert_eq!(shown["plug"]["ring_ohm"], serde_json::json!([33.21, 47.49, 68.1, 150.0]));
    assert_eq!(shown["plug"]["tolerance"], 0.0005);
    assert_eq!(shown["capabilities"]["stores"], true);
}

/// What is stored is what later checks are judged by.
#[test]
fn parts_are_stored_and_shown() {
    let stored = ["--parts", "345.7,346.2,345.9,346.45", "--parts-pull", "100200"];
    let shown = simulated(&[&stored[..], &["--parts-sense", "3190.5", "--json"]].concat()).json();
    let jig = &shown["jig"];
    assert_eq!(jig["own_parts"], true);
    assert_eq!(jig["series_ohm"], serde_json::json!([345.7, 346.2, 345.9, 346.45]));
    assert_eq!(jig["series_tolerance"], 0.005);
    assert_eq!(
        (&jig["pull_ohm"], &jig["divider_ohm"], &jig["sense_ohm"]),
        (&100_200.0.into(), &4_522_000.0.into(), &3_190.5.into())
    );
    let told = simulated(&["--parts", "345.7,346.2,345.9,346.45", "--parts-tolerance", "0.1"]).out;
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("345.7, 346.2, 345.9, 346.45 Ω of posts 1 to 4, ± 0.1 %"), "{told}");
    let forgotten = simulated(&["--forget", "parts", "--json"]).json();
    assert_eq!(
        (&forgotten["jig"]["own_parts"], &forgotten["jig"]["series_ohm"][3]),
        (&false.into(), &346.0.into())
    );
}

#[test]
fn what_no_jig_can_be_is_not_stored() {
    const GOOD: &str = "346,346,346,346";
    for (arguments, told) in [
        (&["--parts", "346,346,346,99"][..], "`jig.series_ohm` is 99; it can be 100 to 1000"),
        (&["--parts", "346,346,346"], "four resistances in ohms"),
        (&["--parts", "346,inf,346,346"], "`jig.series_ohm` is inf"),
        (&["--parts", GOOD, "--parts-tolerance", "6"], "`jig.series_tolerance` is 0.06"),
        (&["--parts", GOOD, "--parts-tolerance=-1"], "`jig.series_tolerance` is -0.01"),
        (&["--parts", GOOD, "--parts-pull", "100"], "`jig.pull_ohm` is 100"),
        (&["--parts", GOOD, "--parts-divider", "NaN"], "`jig.divider_ohm` is NaN"),
        (&["--parts", GOOD, "--parts-sense", "4.7"], "`jig.sense_ohm` is 4.7"),
        (&["--parts-sense", "3197"], "--parts"),
    ] {
        let ran = simulated(arguments);
        assert_eq!(ran.status, 64, "{arguments:?}: {}", ran.err);
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
    }
}

#[test]
fn what_no_plug_or_name_can_be_is_not_stored() {
    for (arguments, told) in [
        (
            &["--plug-values", "33.2,47.5,68.1,1500"][..],
            "`plug.ring_ohm` is 1500; it can be 10 to 1000",
        ),
        (&["--plug-values", "33.2,47.5,68.1"], "four resistances in ohms"),
        (&["--plug-values", "33.2,47.5,68.1,NaN"], "`plug.ring_ohm` is NaN"),
        (&["--plug-values", "33,47,68,150", "--plug-tolerance", "5"], "`plug.tolerance` is 0.05"),
        (
            &["--plug-values", "33,47,68,150", "--plug-name", "a name of seventeen"],
            "at most 16 letters",
        ),
        (&["--plug-name", "B"], "--plug-values"),
        (&["--name", "this is more than twenty-four"], "at most 24 letters"),
        (&["--forget", "everything"], "possible values: zero, plug, name, parts"),
    ] {
        let ran = simulated(arguments);
        assert_eq!(ran.status, 64, "{arguments:?}: {}", ran.err);
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
    }
}

#[test]
fn a_jig_of_before_keeps_nothing() {
    let ran = against(jig(|| NOTHING), |port| runproof(&["jig", "--port", port]));
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.out.contains("keeps none; each computer keeps its own"), "{}", ran.out);
    let name = |port: &str| runproof(&["jig", "--port", port, "--name", "Bench 3"]);
    let ran = against(jig(|| NOTHING), name);
    assert_eq!(ran.status, 6, "{}", ran.err);
    assert!(ran.err.contains("firmware keeps nothing"), "{}", ran.err);
    assert!(ran.err.contains("put the firmware"), "{}", ran.err);
}

/// A jig that answers what it is asked to keep and to tell as `memory` says.
fn remembering(mut memory: impl FnMut(Command) -> Option<Event>) -> impl FnMut(Command) -> Then {
    let mut rest = jig(|| NOTHING);
    let capabilities = Capabilities {
        open_phase: true,
        plug_phase: true,
        stores: true,
        live: false,
        far_lights: false,
        supply_load: false,
        ..Capabilities::default()
    };
    move |command| match command {
        Command::Hello { nonce, .. } => {
            Then::Say(framed(&Event::Hello { version: VERSION, nonce, capabilities }))
        }
        command => match memory(command.clone()) {
            Some(event) => Then::Say(framed(&event)),
            None => rest(command),
        },
    }
}

fn refusing(reason: NotKept, command: Command) -> Option<Event> {
    match command {
        Command::Keep { key, .. } => Some(Event::NotKept { key, reason }),
        Command::Recall { key } => Some(Event::Recalled { key, record: Record::new() }),
        _ => None,
    }
}

#[test]
fn a_jig_that_refuses_says_why() {
    let name = |port: &str| runproof(&["jig", "--port", port, "--name", "Bench 3"]);
    let refusals = [
        (NotKept::Measuring, "is measuring", "wait until"),
        (NotKept::HazardLatched, "not re-armed", "--rearm"),
        (NotKept::Fault, "does not work", "worn out"),
    ];
    for (reason, what, next) in refusals {
        let ran = against(remembering(move |command| refusing(reason, command)), name);
        assert_eq!(ran.status, 6, "{}", ran.err);
        assert!(ran.err.contains(what) && ran.err.contains(next), "{}", ran.err);
    }
}

fn telling(key: Key, bytes: &[u8], command: &Command) -> Option<Event> {
    let Command::Recall { key: asked } = *command else { return None };
    let record =
        if asked == key { Record::from_slice(bytes).expect("fits") } else { Record::new() };
    Some(Event::Recalled { key: asked, record })
}

/// Not told, not used, and in nobody's way.
#[test]
fn nonsense_on_a_jig_is_passed_over() {
    fn absurd_zero() -> Record {
        let Plug { ring, tolerance_ppm } = identity("", "").plug;
        let zero = KeptZero {
            ohm: [Microohms(7); 6],
            u: [Nanoohms(u32::MAX); 6],
            jig: None,
            taken_unix_s: u64::MAX,
            series: identity("", "").parts.series,
            plug: KeptPlug { name: Default::default(), plug: Plug { ring, tolerance_ppm } },
        };
        records::written(&zero).expect("fits")
    }
    let memories: [fn(Command) -> Option<Event>; 4] = [
        |command| telling(Key::Zero, &[0xFF; 128], &command),
        |command| telling(Key::Zero, &absurd_zero(), &command),
        |command| telling(Key::Name, &[2, 0xFF, 0xFF], &command),
        |command| telling(Key::Plug, &[99], &command),
    ];
    for memory in memories {
        let shown = |port: &str| runproof(&["jig", "--port", port, "--json"]);
        let ran = against(remembering(memory), shown);
        assert_eq!(ran.status, 0, "{}", ran.err);
        let shown = ran.json();
        assert!(shown["zero"].is_null() && shown["jig"]["name"].is_null(), "{shown}");
        assert_eq!(shown["plug"]["ring_ohm"][3], 150.0);
    }
}

/// It cannot be measured with; what was stored can still be seen, and forgotten.
#[test]
fn a_plug_that_cannot_be_is_told_and_can_be_forgotten() {
    fn absurd(command: Command) -> Option<Event> {
        match command {
            Command::Identify => {
                let mut identity = identity("test", "stand-in");
                identity.plug.ring[2] = Milliohms(1);
                Some(Event::Identity(identity))
            }
            Command::Keep { key, record } if record.is_empty() => Some(Event::Kept { key }),
            Command::Recall { key } => Some(Event::Recalled { key, record: Record::new() }),
            _ => None,
        }
    }
    let check = |port: &str| runproof(&["check", "--port", port, "--yes"]);
    let ran = against(remembering(absurd), check);
    assert_eq!(ran.status, 3, "{}", ran.err);
    assert!(ran.err.contains("`plug.ring_ohm` is 0.001"), "{}", ran.err);
    assert!(ran.err.contains("runproof jig --forget plug"), "{}", ran.err);
    let forget = |port: &str| runproof(&["jig", "--port", port, "--forget", "plug"]);
    let ran = against(remembering(absurd), forget);
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.out.contains("its values cannot be a jig's"), "{}", ran.out);
}
