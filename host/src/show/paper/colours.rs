//! The colours of print: the page's own, as its style sheet states them.

use runproof_interpret::judgement::Verdict;

const STYLE: &str = include_str!("../document/style.css");
const PICTURE: &str = include_str!("../document/picture.css");

/// Of the words that the style sheet has for them; black for any other.
pub(super) fn of(name: &str) -> &'static str {
    named().find(|(its, _)| *its == name).map_or("#000", |(_, colour)| colour)
}

pub(super) fn of_verdict(verdict: Verdict) -> &'static str {
    of(match verdict {
        Verdict::Pass => "pass",
        Verdict::Fail => "fail",
        Verdict::CannotTell => "cannot-tell",
    })
}

/// Letters that are filled and outlined in one would eat into each other.
const NO_OUTLINE: &str = ".picture .says { stroke: none; }";

/// How pictures are drawn, for whoever knows no variables.
pub(super) fn picture_style() -> String {
    let style = named().fold(PICTURE.to_owned(), |style, (name, colour)| {
        style.replace(&format!("var(--{name})"), colour)
    });
    style + NO_OUTLINE
}

fn named() -> impl Iterator<Item = (&'static str, &'static str)> {
    let print = STYLE.split_once("@media print").and_then(|(_, print)| print.split_once(":root {"));
    let root = print.and_then(|(_, root)| root.split_once('}')).map_or("", |(root, _)| root);
    let each = root.split(';').filter_map(|one| one.trim().strip_prefix("--")?.split_once(": "));
    each.map(|(name, colour)| (name.trim(), colour.trim()))
}

#[test]
fn every_variable_has_its_colour() {
    assert_eq!(of("fail"), "#b3121d");
    assert_eq!(of("paper"), "#fff");
    assert!(!picture_style().contains("var("), "{}", picture_style());
}
