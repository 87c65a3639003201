//! A label, drawn: the code on the left, what a person reads on the right. Lengths are millimetres.

use maud::{Markup, html};

use super::Label;
use super::size::Size;
use crate::show::document::{QUIET, modules};
use crate::show::words;

/// The smallest label; on a larger one all grows with it.
const LEAST: Size = Size { width_mm: 30.0, height_mm: 15.0 };
const MARGIN_MM: f64 = 0.8;
/// Sizes of letters: capitals are 0.73 of that high, so that these are 1.5 mm at least.
const WORD_MM: f64 = 2.7;
const NAME_MM: f64 = 2.1;
/// Of what is read when that is known.
const TAG_MM: f64 = 1.55;
const SMALL_MM: f64 = 1.55;
const LEADING: f64 = 1.14;
/// From a bar's end to its letters.
const IN_MM: f64 = 0.4;
/// About the width of a letter, by its size: none that is usual is wider on the average of a line.
const LETTER: f64 = 0.56;
const CAPITAL: f64 = 0.7;
const NAME_LINES: usize = 2;

/// One line of it.
struct Line {
    text: String,
    size_mm: f64,
    bold: bool,
    /// White on black.
    inverse: bool,
}

/// A drawing of its own.
pub(crate) fn alone(label: &Label, size: Size) -> String {
    let Size { width_mm, height_mm } = size;
    let drawn = html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(format!("{width_mm}mm")) height=(format!("{height_mm}mm"))
            viewBox=(format!("0 0 {width_mm} {height_mm}")) {
            (on_white(label, size))
        }
    };
    words::printable(&drawn.into_string())
}

pub(super) fn on_white(label: &Label, size: Size) -> Markup {
    let scale = (size.width_mm / LEAST.width_mm).min(size.height_mm / LEAST.height_mm);
    let side_mm = (LEAST.height_mm - 2.0 * MARGIN_MM) * scale;
    let margin_mm = MARGIN_MM * scale;
    // White around the code is a margin already.
    let x_mm = margin_mm + side_mm;
    let room_mm = size.width_mm - x_mm - margin_mm;
    html! {
        rect width=(size.width_mm) height=(size.height_mm) fill="#fff" {}
        g font-family="\"DejaVu Sans Condensed\", \"DejaVu Sans\", sans-serif" fill="#000" {
            (code(label, margin_mm, (size.height_mm - side_mm) / 2.0, side_mm))
            (text(&lines(label, room_mm / scale), x_mm, room_mm, scale, size.height_mm))
        }
    }
}

/// Nothing where it does not fit, which no code of ours is long enough for.
fn code(label: &Label, x_mm: f64, y_mm: f64, side_mm: f64) -> Markup {
    let Some((side, squares)) = modules(&label.code) else { return html! {} };
    let scale = side_mm / (side + 2 * QUIET) as f64;
    html! { path transform=(format!("translate({x_mm:.3} {y_mm:.3}) scale({scale:.5})")) d=(squares) shape-rendering="crispEdges" {} }
}

fn lines(label: &Label, room_mm: f64) -> Vec<Line> {
    let line =
        |text: &str, size_mm, bold, inverse| Line { text: text.into(), size_mm, bold, inverse };
    let mut all = vec![line(label.word, WORD_MM, true, false)];
    all.extend(label.tags.iter().map(|tag| line(tag, TAG_MM, true, true)));
    let letters = (room_mm / (LETTER * NAME_MM)) as usize;
    all.extend(parted(&label.name, letters).iter().map(|part| line(part, NAME_MM, true, false)));
    all.extend(label.length.iter().map(|length| line(length, SMALL_MM, false, false)));
    all.push(line(&label.day, SMALL_MM, false, false));
    all
}

fn text(lines: &[Line], x_mm: f64, room_mm: f64, scale: f64, height_mm: f64) -> Markup {
    let natural: f64 = lines.iter().map(|line| line.size_mm * LEADING * scale).sum();
    // Where there is much to say, the lines come closer.
    let tight = ((height_mm - 2.0 * MARGIN_MM * scale) / natural).min(1.0);
    let tops = lines.iter().scan((height_mm - natural * tight) / 2.0, |y_mm, line| {
        let top_mm = *y_mm;
        *y_mm += line.size_mm * LEADING * scale * tight;
        Some(top_mm)
    });
    html! { @for (line, top_mm) in lines.iter().zip(tops) { (line.set(x_mm, top_mm, room_mm, scale)) } }
}

impl Line {
    fn set(&self, x_mm: f64, top_mm: f64, room_mm: f64, scale: f64) -> Markup {
        let size_mm = self.size_mm * scale;
        let bar_mm = room_mm;
        let in_mm = if self.inverse { IN_MM * scale } else { 0.0 };
        let (x_mm, room_mm) = (x_mm + in_mm, room_mm - 2.0 * in_mm);
        let wide = if self.bold { CAPITAL } else { LETTER };
        let about_mm = self.text.chars().count() as f64 * wide * size_mm;
        // Whatever the typeface is: no line runs out of the label.
        let at_most = (about_mm > room_mm).then(|| format!("{room_mm:.2}"));
        let adjust = at_most.is_some().then_some("spacingAndGlyphs");
        let weight = self.bold.then_some("bold");
        let fill = self.inverse.then_some("#fff");
        let y_mm = top_mm + size_mm * 0.88;
        html! {
            @if self.inverse {
                rect x=(format!("{:.2}", x_mm - in_mm)) y=(format!("{top_mm:.2}")) width=(format!("{bar_mm:.2}"))
                    height=(format!("{:.2}", size_mm * 1.08)) {}
            }
            text x=(format!("{x_mm:.2}")) y=(format!("{y_mm:.2}")) font-size=(format!("{size_mm:.2}")) font-weight=[weight]
                fill=[fill] textLength=[at_most] lengthAdjust=[adjust] { (self.text) }
        }
    }
}

/// On as many lines as there may be; of what is longer, its beginning and its end, which tell it from others.
fn parted(name: &str, letters: usize) -> Vec<String> {
    let all: Vec<char> = name.split_whitespace().collect::<Vec<_>>().join(" ").chars().collect();
    let most = letters * NAME_LINES;
    let kept: Vec<char> = match all.len() > most {
        false => all,
        true => {
            let head = most / 2;
            let tail = all.len() - (most - head - 1);
            [&all[..head], &['…'], &all[tail..]].concat()
        }
    };
    if kept.len() <= letters {
        return vec![kept.iter().collect()];
    }
    // At a space, where the second line takes the rest then.
    let may = kept.len() - letters..=letters;
    let space = may.rev().find(|at| kept.get(*at) == Some(&' '));
    let (first, second) = kept.split_at(space.unwrap_or(letters));
    let line = |part: &[char]| part.iter().collect::<String>().trim().to_owned();
    vec![line(first), line(second)]
}

#[test]
fn a_name_stays_what_tells_it_from_others() {
    assert_eq!(parted("R-17 unit 23", 13), ["R-17 unit 23"]);
    assert_eq!(parted("north mill R-17 unit 23", 13), ["north mill", "R-17 unit 23"]);
    let long = parted(&format!("{} unit 23", "reel".repeat(900)), 13);
    assert_eq!(long.len(), 2);
    assert!(long[1].ends_with("unit 23") && long.iter().all(|line| line.chars().count() <= 13));
    assert_eq!(parted("0123456789abcdef", 13), ["0123456789abc", "def"]);
}
