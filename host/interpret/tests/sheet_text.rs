//! A limit sheet that says something else than it means is refused, with the line and the key.

use runproof_interpret::LimitSheet;

const SHEET: &str = include_str!("../src/sheets/service-24vac.toml");

fn error(from: &str, to: &str) -> String {
    assert!(SHEET.contains(from), "{from}");
    LimitSheet::read(&SHEET.replacen(from, to, 1)).map_or_else(|e| e.to_string(), |_| "read".into())
}

#[test]
fn an_error_names_line_key_and_reason() {
    let errors = [
        error("post = 2", "post = 1"),
        error("post = 2", "post = 5"),
        error("post = 2", "pots = 2"),
        error("post = 2\n", ""),
        error("\"data-\"", "\"data\""),
        error("\"data-\"", "\"data+\""),
        error("value = 50", "value = -1"),
        error("value = 50", "value = nan"),
        error("value = 50", "value = \"50\""),
        error("\"ohm\"", "\"kohm\""),
        error("\"fail\"", "\"cannot-tell\""),
        error("[0, 100]", "[100, 0]"),
        error("spread = 0.02", "spread = 2"),
        error("name = \"service-24vac\"", "name = "),
    ];
    insta::assert_snapshot!(errors.join("\n"), @r#"
    line 24: `post`: another conductor is on this post
    line 24: `post`: must be a post, 1 to 4
    line 24: `pots`: unknown field `pots`, expected one of `name`, `post`, `resistance`
    line 22: missing field `post`
    line 23: `name`: unknown variant `data`, expected one of `data+`, `data-`, `common`, `supply`
    line 23: `name`: this conductor is there twice
    line 16: `value`: must be a number above 0
    line 16: `value`: must be a number above 0
    line 16: `value`: invalid type: string "50", expected f64
    line 17: `unit`: must be "ohm"
    line 18: `severity`: must be "fail" or "note"
    line 7: `contact_mohm`: must be two numbers, 0 ≤ first ≤ second
    line 10: `sibling_spread`: must be a fraction from 0 to 0.5
    line 1: `name`: string values must be quoted, expected literal string
    "#);
}

#[test]
fn a_sheet_needs_all_four_posts() {
    let three = SHEET.rsplit_once("[[conductor]]").map_or("", |(three, _)| three);
    let error = LimitSheet::read(three).map_err(|error| error.to_string());
    assert_eq!(error.err().as_deref(), Some("has 3 conductors; needs one on each of posts 1–4"));
}
