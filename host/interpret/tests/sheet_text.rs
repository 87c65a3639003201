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

/// The sheet without what stands from one text to the next.
fn without(sheet: &str, from: &str, to: &str) -> String {
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
    insta::assert_snapshot!(errors.join("\n"), @r#"
    line 26: `post`: another conductor is on this post
    line 26: `post`: must be a post, 1 to 4
    line 26: `pots`: unknown field `pots`, expected one of `name`, `post`, `resistance`
    line 24: `post`: is missing here
    line 25: `name`: unknown variant `data`, expected one of `data+`, `data-`, `common`, `supply`, `wire-1`, `wire-2`
    line 25: `name`: this conductor is there twice
    line 18: `value`: must be a number above 0
    line 18: `value`: must be a number above 0
    line 18: `value`: must be a number above 0
    line 18: `value`: invalid type: string "50", expected f64
    line 19: `unit`: unknown variant `kohm`, expected one of `ohm`, `percent`, `metre`, `volt`, `picofarad-per-metre`, `ampere`
    line 19: `unit`: must be "ohm"
    line 20: `severity`: must be "fail" or "note"
    line 22: `source`: must be where the limit comes from
    line 9: `contact_mohm`: must be two numbers, 0 ≤ first ≤ second
    line 12: `sibling_spread`: must be a fraction from 0 to 0.5
    line 58: `or_percent`: must be a percentage from 0 to 1000
    line 1: `name`: string values must be quoted, expected literal string
    line 1: `name`: must be a name
    `version`: is missing
    line 4: `arrangement`: unknown variant `star`, expected one of `four-conductor`, `two-wire`, `lead`
    line 55: `sibling_differance`: unknown field `sibling_differance`, expected one of `name`, `version`, `about`, `arrangement`, `decision_rule`, `contact_mohm`, `sibling_spread`, `conductor`, `beyond_wire`, `loop_resistance`, `loop_of_calculated`, `sibling_difference`, `leakage`, `capacitance`, `maximum_length`, `supply`, `supply_noted`, `data_idle`, `data_undecided`, `data_to_common`, `data_alternating`, `control_current`
    "#);
}

#[test]
fn limits_that_contradict_each_other_are_refused() {
    let errors = [
        error(FOUR, "least = 20", "least = 31"),
        error(FOUR, "least = 20", "least = nan"),
        error(FOUR, "least = 70", "least = 0"),
        error(FOUR, "least = 70", "least = 170"),
        error(FOUR, "least = 22", "least = 19"),
        error(FOUR, "least = -0.2", "least = 0.1"),
        error(FOUR, "least = 0\n", "least = 0.5\n"),
        error(FOUR, "value = 0.15", "value = 0"),
        error(FOUR, "unit = \"ampere\"", "unit = \"volt\""),
        error(FOUR, "value = 1000000", "value = 999999"),
        error(FOUR, "severity = \"note\"", "severity = \"fail\""),
        LimitSheet::read(&FOUR.replace("[leakage.fail_below]", "[leakage.fail_under]"))
            .map_or_else(|e| e.to_string(), |_| "read".into()),
    ];
    insta::assert_snapshot!(errors.join("\n"), @r#"
    line 89: `most`: must not be below `least`
    line 88: `least`: must be a number
    line 133: `least`: must be above 0
    line 134: `most`: must not be below `least`
    line 94: `least`: must lie within `supply`
    line 113: `least`: must be below 0, and `most` above it
    line 126: `least`: must be 0: nothing need alternate
    line 101: `value`: must be a number above 0
    line 102: `unit`: must be "ampere"
    line 79: `value`: must not be above `leakage.note_below`
    line 74: `severity`: must be "note" here
    line 78: `leakage.fail_under`: unknown field `fail_under`, expected `note_below` or `fail_below`
    "#);
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
    insta::assert_snapshot!(errors.join("\n"), @r#"
    line 4: `arrangement`: needs 2 conductors, one a post from 1 on; there are 4
    line 4: `arrangement`: needs `beyond_wire`: a lead is held against its wire
    line 25: `name`: must be data+, data-, common or supply: "wire-1" and "wire-2" are for the arrangement "two-wire"
    line 138: `beyond_wire`: is for the arrangement "lead" alone
    line 14: `resistance`: is missing here
    line 20: `post`: must be 1 or 2 for two wires
    line 19: `name`: must be "wire-1" or "wire-2": two wires may be exchanged
    line 4: `arrangement`: needs 4 conductors, one a post from 1 on; there are 2
    line 58: `beyond_wire`: two wires are not told apart: only their loop can be limited
    line 4: `arrangement`: needs `loop_resistance`: nothing else is measured on two wires
    line 21: `conductor.resistance`: two wires have no limit of their own, only their loop has
    line 4: `arrangement`: needs `beyond_wire`: a lead is held against its wire
    line 31: `beyond_wire`: is for the arrangement "lead" alone
    "#);
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

/// One byte lost or changed gives a sheet whose limits can be met, or an error that has a reason.
#[test]
fn a_damaged_sheet_is_an_error_or_still_a_sheet() {
    for (name, text) in BUILT_IN {
        for at in (0..text.len()).filter(|at| text.is_char_boundary(*at)) {
            let rest = text[at..].chars().next().map_or("", |c| &text[at + c.len_utf8()..]);
            for put in ["", "-", "9", "\"", "[", "\n"] {
                match LimitSheet::read(&format!("{}{put}{rest}", &text[..at])) {
                    Ok(sheet) => {
                        let limits =
                            sheet.conductors.iter().filter_map(|one| one.resistance.as_ref());
                        let all = limits.chain(&sheet.loop_resistance).chain(&sheet.beyond_wire);
                        let leakage = [&sheet.leakage.note_below, &sheet.leakage.fail_below];
                        for limit in all.chain(leakage) {
                            assert!(
                                limit.value > 0.0 && limit.value.is_finite(),
                                "{name} {at} {put}"
                            );
                            assert!(!limit.source.trim().is_empty(), "{name} {at} {put}");
                        }
                    }
                    Err(error) => assert!(!error.reason.is_empty(), "{name} {at} {put}"),
                }
            }
        }
    }
}

/// A sheet of before, without the ranges of a powered run, still reads; a supply of no kind is no limit of one.
#[test]
fn a_sheet_of_before_still_reads() {
    let before = without(FOUR, "[supply_noted]", "[data_idle]");
    let before = without(&before, "# What a receiver does not", "# Of one conductor to the other");
    let before = before.replacen("kind = \"alternating\"\n", "", 1);
    let sheet = LimitSheet::read(&before).expect("reads");
    assert_eq!((sheet.live.supply_kind, sheet.live.data_undecided), (None, None));
    assert!(sheet.live.supply.is_some() && sheet.live.data_idle.is_some());
}
