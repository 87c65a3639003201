//! What a picture is made of: boxes at both ends, lines between, marks on them. Lengths are in the drawing's own units.

use maud::{Markup, html};
use runproof_interpret::judgement::Verdict;

use crate::show::described::Table;

/// Of all drawings.
pub(super) const WIDTH: f64 = 800.0;
/// Where lines begin and end.
pub(super) const NEAR: f64 = 160.0;
pub(super) const FAR: f64 = 640.0;
const BOX: f64 = 140.0;
const HALF_BOX: f64 = 17.0;
const TOP: f64 = 46.0;
const ROW: f64 = 62.0;
/// Between these, lines change rows.
const TURN: [f64; 2] = [330.0, 470.0];
/// About the width of a letter, for what must not run into each other.
const LETTER: f64 = 6.4;

/// How far down a row is.
pub(super) fn y(row: usize) -> f64 {
    TOP + ROW * row as f64
}

/// How far along the run, from 0 to 1.
pub(super) fn x(fraction: f64) -> f64 {
    NEAR + (FAR - NEAR) * fraction.clamp(0.0, 1.0)
}

/// A drawing of so many rows.
#[derive(Default)]
pub(super) struct Drawing {
    pub(super) rows: usize,
    pub(super) near: &'static str,
    pub(super) far: &'static str,
    /// What the picture shows, in a sentence.
    pub(super) about: String,
    pub(super) parts: Vec<Part>,
}

pub(super) enum Part {
    /// At an end of a row, with what stands in it.
    End { row: usize, is_far: bool, lines: [String; 2], verdict: Option<Verdict> },
    /// From a row at the near end to one at the far end, as far as that is known.
    Line { from: usize, to: Option<usize>, until: f64, verdict: Verdict },
    /// The far piece of one that is cut.
    Stub { row: usize, from: f64 },
    /// Where a line is cut.
    Cut { row: usize, at: f64, says: String },
    /// Where a line has more resistance than it may; nobody knows where on it.
    Resistor { row: usize, says: &'static str },
    /// Between rows that should have nothing between them.
    Join { rows: Vec<usize>, at: f64, says: String, as_a: Tie },
    /// Where something may be.
    Between { row: usize, least: f64, most: f64 },
    /// Where a line ends.
    Ends { row: usize, at: f64, text: String },
    /// On a line.
    Says { row: usize, at: f64, text: String },
}

/// What is between two rows.
#[derive(Clone, Copy)]
pub(super) enum Tie {
    /// They touch.
    Short,
    /// A path of many ohms, or a device.
    Path,
    /// Nothing: a number that was read between them.
    Reading(Verdict),
}

impl Tie {
    fn class(self) -> &'static str {
        match self {
            Self::Short => "join",
            Self::Path => "join faint",
            Self::Reading(Verdict::Pass) => "reading pass",
            Self::Reading(Verdict::Fail) => "reading fail",
            Self::Reading(Verdict::CannotTell) => "reading cannot-tell",
        }
    }
}

impl Drawing {
    pub(super) fn svg(&self, id: &str, table: &Table) -> Markup {
        let height = y(self.rows.saturating_sub(1)) + 44.0;
        let (title, about) = (format!("{id}-title"), format!("{id}-about"));
        let rows = table.rows.iter().map(|cells| cells.join(", "));
        let told = format!("{} {}.", self.about, rows.collect::<Vec<_>>().join("; "));
        html! {
            svg.picture viewBox=(format!("0 0 {WIDTH} {height}")) role="img" aria-labelledby=(format!("{title} {about}"))
                xmlns="http://www.w3.org/2000/svg" {
                title id=(title) { "The run, drawn" }
                desc id=(about) { (told) }
                text.end x="20" y="18" { (self.near) }
                text.end x=(WIDTH - 20.0) y="18" text-anchor="end" { (self.far) }
                @for part in &self.parts { (part.svg()) }
            }
        }
    }
}

impl Part {
    fn svg(&self) -> Markup {
        match self {
            Self::End { row, is_far, lines, verdict } => end(*row, *is_far, lines, *verdict),
            Self::Line { from, to, until, verdict } => line(*from, *to, *until, *verdict),
            Self::Stub { row, from } => html! {
                path.stub d=(format!("M {from} {0} H {FAR}", y(*row))) {}
            },
            Self::Cut { row, at, says } => html! {
                path.cut d=(cross(*at, y(*row))) {}
                (label(at.min(FAR - 4.0), y(*row) - 13.0, anchor(*at, says), says))
            },
            Self::Resistor { row, says } => resistor(y(*row), says),
            Self::Join { rows, at, says, as_a } => join(rows, *at, says, *as_a),
            Self::Between { row, least, most } => html! {
                path.between d=(format!("M {least} {0} v 8 m 0 -4 H {most} m 0 -4 v 8", y(*row) + 8.0)) {}
            },
            Self::Ends { row, at, text } => label(*at + 10.0, y(*row) + 4.5, "start", text),
            Self::Says { row, at, text } => label(*at, y(*row) - 8.0, "start", text),
        }
    }
}

fn end(row: usize, is_far: bool, lines: &[String; 2], verdict: Option<Verdict>) -> Markup {
    let left = if is_far { FAR } else { NEAR - BOX };
    let y = y(row);
    let [first, second] = lines;
    let at = if second.is_empty() { y + 4.5 } else { y - 3.0 };
    html! {
        rect.box x=(left) y=(y - HALF_BOX) width=(BOX) height=(2.0 * HALF_BOX) rx="4" {}
        text.name x=(left + 10.0) y=(at) { (first) }
        @if !second.is_empty() { text.small x=(left + 10.0) y=(y + 11.0) { (second) } }
        @if let Some(verdict) = verdict { (mark(left + BOX - 16.0, y, verdict)) }
    }
}

/// A shape for each verdict, so that it takes no colour to tell them apart.
fn mark(x: f64, y: f64, verdict: Verdict) -> Markup {
    html! {
        @match verdict {
            Verdict::Pass => path.mark.pass d=(format!("M {} {y} l 5 5 l 9 -11", x - 7.0)) {},
            Verdict::Fail => path.mark.fail d=(cross(x, y)) {},
            Verdict::CannotTell => {
                circle.ring.cannot-tell cx=(x) cy=(y) r="9" {}
                text.ask.cannot-tell x=(x) y=(y + 4.5) text-anchor="middle" { "?" }
            }
        }
    }
}

fn cross(x: f64, y: f64) -> String {
    format!("M {} {} l 12 12 m 0 -12 l -12 12", x - 6.0, y - 6.0)
}

fn class(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "wire pass",
        Verdict::Fail => "wire fail",
        Verdict::CannotTell => "wire cannot-tell",
    }
}

fn line(from: usize, to: Option<usize>, until: f64, verdict: Verdict) -> Markup {
    let (begin, [turn, back]) = (y(from), TURN);
    let middle = f64::midpoint(turn, back);
    let way = match to {
        Some(to) if to != from => {
            let end = y(to);
            format!(
                "M {NEAR} {begin} H {turn} C {middle} {begin} {middle} {end} {back} {end} H {until}"
            )
        }
        _ => format!("M {NEAR} {begin} H {until}"),
    };
    html! {
        // A gap around each line where it goes over another.
        path.under d=(way) {}
        path class=(class(verdict)) d=(way) {}
    }
}

/// Before lines change rows.
fn resistor(y: f64, says: &str) -> Markup {
    let [middle, _] = TURN;
    html! {
        rect.resistor x=(middle - 44.0) y=(y - 6.0) width="30" height="12" {}
        (label(middle, y + 19.0, "end", says))
    }
}

fn join(rows: &[usize], at: f64, says: &str, as_a: Tie) -> Markup {
    let [Some(first), Some(last)] = [rows.iter().min(), rows.iter().max()] else { return html! {} };
    let (top, bottom) = (y(*first), y(*last));
    // Beside the bar, between two rows, where no line goes.
    let between = y(*first) + ROW / 2.0 + 4.0;
    let is_wide = at + 8.0 + LETTER * says.chars().count() as f64 > FAR;
    let (x, anchor) = if is_wide { (at - 8.0, "end") } else { (at + 8.0, "start") };
    html! {
        path class=(as_a.class()) d=(format!("M {at} {top} V {bottom}")) {}
        @for row in rows { circle.joint cx=(at) cy=(y(*row)) r="5" {} }
        (label(x, between, anchor, says))
    }
}

/// In the middle, unless that runs into the far end.
fn anchor(at: f64, says: &str) -> &'static str {
    let is_wide = at + LETTER * says.chars().count() as f64 / 2.0 > FAR;
    if is_wide { "end" } else { "middle" }
}

/// With the page behind it, so that no line goes through its letters.
fn label(x: f64, y: f64, anchor: &str, text: &str) -> Markup {
    html! { text.says x=(x) y=(y) text-anchor=(anchor) { (text) } }
}
