//! A jig and a plug are believed within the bounds of what can be built, and not a step beyond them:
//! as a jig says them, and as a text does.

use runproof_interpret::capture::{Capture, Implausible, Reason, head_from};
use runproof_protocol::{Identity, JigParts, Milliohms, Plug};

fn usual() -> Identity {
    Identity {
        serial: Default::default(),
        board: Default::default(),
        firmware: Default::default(),
        parts: JigParts {
            series: [Milliohms(346_000); 4],
            series_tolerance_ppm: 15_000,
            pull: Milliohms(100_000_000),
            divider: Milliohms(4_522_000_000),
            sense: Milliohms(3_197_279),
        },
        plug: Plug { ring: [33_200, 47_500, 68_100, 150_000].map(Milliohms), tolerance_ppm: 1000 },
        supply_load: Milliohms(180_000),
    }
}

/// A part's key; how a jig says it, in thousandths of an ohm or parts per million; its least and most.
type Part = (&'static str, fn(&mut Identity, u32), u32, u32);

const PARTS: [Part; 8] = [
    ("jig.series_ohm", |jig, told| jig.parts.series[2] = mohm(told), 100_000, 1_000_000),
    ("jig.series_tolerance", |jig, told| jig.parts.series_tolerance_ppm = told, 0, 50_000),
    ("jig.sense_ohm", |jig, told| jig.parts.sense = mohm(told), 1_000_000, 10_000_000),
    ("jig.pull_ohm", |jig, told| jig.parts.pull = mohm(told), 20_000_000, 1_000_000_000),
    ("jig.divider_ohm", |jig, told| jig.parts.divider = kohm(told), 1_000, 20_000),
    ("jig.supply_load_ohm", |jig, told| jig.supply_load = mohm(told), 50_000, 2_000_000),
    ("plug.ring_ohm", |jig, told| jig.plug.ring[3] = mohm(told), 10_000, 1_000_000),
    ("plug.tolerance", |jig, told| jig.plug.tolerance_ppm = told, 0, 10_000),
];

fn mohm(told: u32) -> Milliohms {
    Milliohms(told.into())
}

fn kohm(told: u32) -> Milliohms {
    Milliohms(u64::from(told) * 1_000_000)
}

/// What the judge says to this part of a jig, and to the same in a text.
fn said(set: fn(&mut Identity, u32), told: u32) -> [Option<Implausible>; 2] {
    let mut jig = usual();
    set(&mut jig, told);
    let head = match head_from(&jig, "test") {
        Ok(head) => head,
        Err(part) => return [Some(part), read(&text_with(part))],
    };
    [None, read(&Capture::new(head).write())]
}

/// The text of a capture with this in place of the usual value.
fn text_with(part: Implausible) -> String {
    let mut head = head_from(&usual(), "test").expect("plausible");
    match part.key {
        "jig.supply_load_ohm" => head.jig.supply_load_ohm = Some(part.value),
        "jig.series_ohm" => head.jig.series_ohm[1] = part.value,
        "jig.series_tolerance" => head.jig.series_tolerance = part.value,
        "jig.sense_ohm" => head.jig.sense_ohm = part.value,
        "jig.pull_ohm" => head.jig.pull_ohm = part.value,
        "jig.divider_ohm" => head.jig.divider_ohm = part.value,
        "plug.ring_ohm" => head.plug.ring_ohm[0] = part.value,
        "plug.tolerance" => head.plug.tolerance = part.value,
        key => panic!("{key} is no part"),
    }
    Capture::new(head).write()
}

fn read(text: &str) -> Option<Implausible> {
    let error = Capture::read(text).err()?;
    let Reason::Implausible(part) = error.reason else { panic!("{error}") };
    assert_eq!((error.line, error.key.as_deref()), (1, Some(part.key)));
    Some(part)
}

#[test]
fn parts_are_believed_within_their_bounds_and_not_beyond() {
    for (key, set, least, most) in PARTS {
        assert_eq!(said(set, least), [None; 2], "{key}: {least}");
        assert_eq!(said(set, most), [None; 2], "{key}: {most}");
        for beyond in [least.checked_sub(1), most.checked_add(1)].into_iter().flatten() {
            let [by_wire, by_text] = said(set, beyond);
            assert_eq!(by_wire.map(|part| part.key), Some(key), "{beyond}");
            assert_eq!(by_text, by_wire, "{beyond}");
        }
    }
}

#[test]
fn the_error_names_line_key_value_and_range() {
    let pull = Implausible { key: "jig.pull_ohm", value: 10.0, least: 2e4, most: 1e6 };
    let error = Capture::read(&text_with(pull)).expect_err("implausible");
    assert_eq!(error.to_string(), "line 1: `jig.pull_ohm` is 10; it can be 20000 to 1000000");
}

#[test]
fn a_tolerance_below_nothing_is_refused() {
    let less = |key| Implausible { key, value: -1e-6, least: 0.0, most: 0.0 };
    for key in ["jig.series_tolerance", "plug.tolerance"] {
        assert_eq!(read(&text_with(less(key))).map(|part| part.key), Some(key));
    }
}
