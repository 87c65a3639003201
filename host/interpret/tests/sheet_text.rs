//! A limit sheet that says something else than it means is refused, with the line and the key.

use runproof_interpret::LimitSheet;
use runproof_interpret::limits::BUILT_IN;

const FOUR: &str = include_str!("../src/sheets/acceptance-24vac.toml");
const TWO: &str = include_str!("../src/sheets/two-wire-bus.toml");
const LEAD: &str = include_str!("../src/sheets/made-up-lead.toml");

fn error(sheet: &str, from: &str, to: &str) -> String {
    assert!(sheet.contains(from), "{from}");
    LimitSheet::read(&sheet.replacen(from, to, 1)).map_or_else(|e| e.to_string(), |_| "read".into())
}

fn without<'a>(sheet: &'a str, from: &str, to: &str) -> String {
    let (before, rest) = sheet.split_once(from).expect("in the sheet");
    let after = rest.find(to).map_or("", |at| &rest[at..]);
    format!("{before}{after}")
}

#[test]
fn an_error_names_line_key_and_reason() {
    let errors = [
        error(FOUR, "post = 2", "post = 1"),
        error(FOUR, "post = 2", "post = 5"),
        error(FOUR, "post = 2", "pots = 2"),
        error(FOUR, "post = 2\n", ""),
        error(FOUR, "\"data-\"", "\"data\""),
        error(FOUR, "\"data-\"", "\"data+\""),
        error(FOUR, "value = 50", "value = -1"),
        error(FOUR, "value = 50", "value = nan"),
        error(FOUR, "value = 50", "value = inf"),
        error(FOUR, "value = 50", "value = \"50\""),
        error(FOUR, "\"ohm\"", "\"kohm\""),
        error(FOUR, "\"ohm\"", "\"volt\""),
        error(FOUR, "\"fail\"", "\"cannot-tell\""),
        error(FOUR, "source = \"common practice", "source = \"\" # \"common practice"),
        error(FOUR, "[0, 100]", "[100, 0]"),
        error(FOUR, "spread = 0.02", "spread = 2"),
        error(FOUR, "or_percent = 10", "or_percent = -10"),
        error(FOUR, "name = \"acceptance-24vac\"", "name = "),
        error(FOUR, "name = \"acceptance-24vac\"", "name = \" \""),
        error(FOUR, "version = \"1\"\n", ""),
        error(FOUR, "\"four-conductor\"", "\"star\""),
        error(FOUR, "[sibling_difference]", "[sibling_differance]"),
    ];
    insta::assert_snapshot!(errors.join("\n"), @"");
}

#[test]
fn limits_that_contradict_each_other_are_refused() {
    let errors = [
        error(FOUR, "least = 20", "least = 31"),
        error(FOUR, "least = 20", "least = nan"),
        error(FOUR, "value = 1000000", "value = 999999"),
        error(FOUR, "severity = \"note\"", "severity = \"fail\""),
        LimitSheet::read(&FOUR.replace("[leakage.fail_below]", "[leakage.fail_under]"))
            .map_or_else(|e| e.to_string(), |_| "read".into()),
    ];
    insta::assert_snapshot!(errors.join("\n"), @"");
}

#[test]
fn a_sheet_has_the_conductors_and_limits_of_its_arrangement_and_no_others() {
    let beyond_wire = LEAD.split_once("[beyond_wire]").map_or("", |(_, rest)| rest);
    let limit = beyond_wire.split_once("\n[").map_or("", |(limit, _)| limit);
    let with = |sheet: &str, table: &str| {
        let text = format!("{sheet}\n[{table}]{limit}");
        LimitSheet::read(&text).map_or_else(|e| e.to_string(), |_| "read".into())
    };
    let read =
        |text: String| LimitSheet::read(&text).map_or_else(|e| e.to_string(), |_| "read".into());
    let errors = [
        error(FOUR, "\"four-conductor\"", "\"two-wire\""),
        error(FOUR, "\"four-conductor\"", "\"lead\""),
        error(FOUR, "\"data-\"", "\"wire-2\""),
        with(FOUR, "beyond_wire"),
        read(without(FOUR, "[conductor.resistance]", "[[conductor]]")),
        error(TWO, "post = 2", "post = 3"),
        error(TWO, "\"wire-2\"", "\"data-\""),
        error(TWO, "\"two-wire\"", "\"four-conductor\""),
        with(TWO, "beyond_wire"),
        read(without(TWO, "[loop_resistance]", "[maximum_length]")),
        read(TWO.replacen("post = 2", &format!("post = 2\n[conductor.resistance]{limit}"), 1)),
        read(without(LEAD, "[beyond_wire]", "[leakage.note_below]")),
        error(LEAD, "\"lead\"", "\"four-conductor\""),
    ];
    insta::assert_snapshot!(errors.join("\n"), @"");
}

/// What stands in a sheet is what is read from it, whatever the order of its conductors.
#[test]
fn conductors_are_in_the_order_of_their_posts() {
    let turned = TWO.replacen("post = 1", "post = 9", 1).replacen("post = 2", "post = 1", 1);
    let sheet = LimitSheet::read(&turned.replacen("post = 9", "post = 2", 1)).expect("a sheet");
    let posts: Vec<u8> = sheet.conductors.iter().map(|one| one.post.number()).collect();
    assert_eq!(posts, [1, 2]);
}

/// A line that is lost from a built-in sheet never goes unnoticed, unless it is blank, a remark, or
/// names nothing but a table's end.
#[test]
fn every_line_of_a_built_in_sheet_counts() {
    for (name, text) in BUILT_IN {
        let whole = LimitSheet::read(text).expect("built in");
        let lines: Vec<&str> = text.lines().collect();
        for lost in 0..lines.len() {
            if lines[lost].is_empty() || lines[lost].starts_with('#') {
                continue;
            }
            let rest = [&lines[..lost], &lines[lost + 1..]].concat().join("\n");
            assert_ne!(LimitSheet::read(&rest).as_ref(), Ok(&whole), "{name}: {}", lines[lost]);
        }
    }
}
