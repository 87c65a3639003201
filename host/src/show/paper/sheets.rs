//! A section on sheets: on one, as large as that can be; else on as many as it takes.

use maud::{Markup, PreEscaped, html};

use super::blocks::{Strip, stacked, strips};
use super::drawn::{moved, text};
use super::letters::{Heavy, Letters};
use super::sizes::{Sizes, line_pt};
use super::{HEIGHT_PT, MARGIN_PT, SHEET_PT, WIDTH_PT, colours, lines};
use crate::show::document::Section;
use crate::show::words;

/// So much of what comes next stands on the same sheet at least.
const NEXT_PT: f64 = 45.0;

/// Each is an SVG.
pub(super) fn of(section: &Section, letters: &Letters) -> Vec<String> {
    let fitting = |sizes| {
        let all = strips(section, letters, sizes, true);
        (height_pt(&all) <= HEIGHT_PT).then_some(all)
    };
    let Some(smallest) = fitting(Sizes::least()) else { return several(section, letters) };
    let largest = Sizes::all().find_map(fitting).unwrap_or(smallest);
    vec![sheet(&from_the_top(&largest))]
}

fn height_pt(strips: &[Strip]) -> f64 {
    let above = strips.first().map_or(0.0, |first| first.before_pt);
    strips.iter().map(|one| one.before_pt + one.height_pt).sum::<f64>() - above
}

fn several(section: &Section, letters: &Letters) -> Vec<String> {
    let sizes = Sizes::several();
    let foot_pt = 2.0 * line_pt(sizes.fine_pt);
    let mut sheets: Vec<Vec<Strip>> = vec![];
    let mut room_pt = 0.0;
    for strip in strips(section, letters, sizes, false) {
        let needs_pt = strip.before_pt + strip.height_pt;
        let next_pt = if strip.with_next { NEXT_PT } else { 0.0 };
        match sheets.last_mut().filter(|_| needs_pt + next_pt <= room_pt) {
            Some(sheet) => sheet.push(strip),
            None => {
                room_pt = HEIGHT_PT - foot_pt + strip.before_pt;
                sheets.push(vec![strip]);
            }
        }
        room_pt -= needs_pt;
    }
    let count = sheets.len();
    let name = section.heading.below.as_deref().unwrap_or(&section.heading.text);
    let each = (1..).zip(&sheets).map(|(n, strips)| {
        let foot = words::report::sheet_of(n, count, name);
        let (foot, _) = letters.spelled(&foot);
        let line = lines::broken(letters, &foot, Heavy::No, sizes.fine_pt, WIDTH_PT, 0.0);
        let line = line.first().map_or("", String::as_str);
        let colour = colours::of("soft");
        sheet(&html! {
            (from_the_top(strips))
            (text(0.0, HEIGHT_PT, sizes.fine_pt, Heavy::No, colour, line))
        })
    });
    each.collect()
}

/// Nothing is left free above the first.
fn from_the_top(strips: &[Strip]) -> Markup {
    moved(0.0, -strips.first().map_or(0.0, |first| first.before_pt), &stacked(strips))
}

fn sheet(drawn: &Markup) -> String {
    let [width, height] = SHEET_PT;
    let sheet = html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(width) height=(height) viewBox=(format!("0 0 {width} {height}")) {
            style { (PreEscaped(colours::picture_style())) }
            (moved(MARGIN_PT, MARGIN_PT, drawn))
        }
    };
    words::printable(&sheet.into_string())
}
