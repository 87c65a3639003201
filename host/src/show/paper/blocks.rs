//! The blocks of a section as strips, of which none is parted by the end of a sheet: mostly a line each.

mod code;
mod grid;
mod heading;
mod rows;

use std::cell::Cell;

use maud::{Markup, html};

use super::drawn::{filled, placed, text};
use super::letters::{Heavy, Letters};
use super::sizes::{Sizes, line_pt};
use super::{WIDTH_PT, colours, lines};
use crate::show::described::Row;
use crate::show::document::{Block, Section};
use crate::show::words;

/// Of a drawing 800 wide: its smallest letters can still be read.
const PICTURE_PT: f64 = 473.0;
const CHART_PT: f64 = 333.0;

pub(super) struct Strip {
    /// Not at the top of a sheet.
    pub(super) before_pt: f64,
    pub(super) height_pt: f64,
    pub(super) drawn: Markup,
    /// It stands on the sheet of what comes next.
    pub(super) with_next: bool,
}

impl Strip {
    fn new(height_pt: f64, drawn: Markup) -> Self {
        Self { before_pt: 0.0, height_pt, drawn, with_next: false }
    }
}

/// Sets a section.
struct Setter<'a> {
    letters: &'a Letters,
    sizes: Sizes,
    /// It is for one sheet: rows may stand in two columns.
    together: bool,
    /// How many letters the typeface lacks.
    spelled: Cell<usize>,
}

/// How a text is set.
#[derive(Clone, Copy)]
struct Hand {
    size_pt: f64,
    heavy: Heavy,
    colour: &'static str,
}

/// Where a text stands: between these, its first line further in.
#[derive(Clone, Copy)]
struct Place {
    x_pt: f64,
    width_pt: f64,
    first_pt: f64,
}

pub(super) fn strips(
    section: &Section,
    letters: &Letters,
    sizes: Sizes,
    together: bool,
) -> Vec<Strip> {
    let setter = Setter { letters, sizes, together, spelled: Cell::new(0) };
    let mut all = vec![setter.heading(&section.heading)];
    all.extend(section.blocks.iter().flat_map(|block| setter.block(block)));
    let spelled = setter.spelled.get();
    if spelled > 0 {
        all.extend(setter.fine(&words::report::spelled_letters(spelled)));
    }
    all
}

impl Setter<'_> {
    fn block(&self, block: &Block) -> Vec<Strip> {
        match block {
            Block::Alarm(row) => self.alarm(row),
            Block::Picture { svg, caption } => self.figure(svg, caption, PICTURE_PT),
            Block::Chart { svg, caption } => self.figure(svg, caption, CHART_PT),
            Block::Grid(one) => self.grid(one),
            Block::Rows(rows) => self.rows(rows, self.body()),
            Block::Code { code, about } => self.code(code.as_deref(), about),
            Block::Below(text) => {
                let hand = Hand { heavy: Heavy::Yes, ..self.body() };
                let mut all = self.column(text, hand, Place::whole());
                all.iter_mut().for_each(|one| one.with_next = true);
                self.apart(all)
            }
            Block::List(all) => {
                let place = Place { x_pt: 10.0, width_pt: WIDTH_PT - 10.0, first_pt: 0.0 };
                let each =
                    all.iter().map(|one| self.column(&format!("• {one}"), self.body(), place));
                self.apart(each.flatten().collect())
            }
        }
    }

    fn body(&self) -> Hand {
        Hand { size_pt: self.sizes.body_pt, heavy: Heavy::No, colour: colours::of("ink") }
    }

    fn soft(&self) -> Hand {
        Hand { size_pt: self.sizes.fine_pt, heavy: Heavy::No, colour: colours::of("soft") }
    }

    fn lines(&self, told: &str, hand: Hand, place: Place) -> Vec<String> {
        let Place { width_pt, first_pt, .. } = place;
        let (told, spelled) = self.letters.spelled(told);
        self.spelled.set(self.spelled.get() + spelled);
        lines::broken(self.letters, &told, hand.heavy, hand.size_pt, width_pt, first_pt)
    }

    /// A strip for each line.
    fn column(&self, told: &str, hand: Hand, place: Place) -> Vec<Strip> {
        let lines = self.lines(told, hand, place);
        let each = lines.iter().enumerate().map(|(n, line)| {
            let x_pt = place.x_pt + if n == 0 { place.first_pt } else { 0.0 };
            strip(hand.size_pt, hand.set(x_pt, 0.0, line))
        });
        each.collect()
    }

    fn fine(&self, told: &str) -> Vec<Strip> {
        self.apart(self.column(told, self.soft(), Place::whole()))
    }

    /// Further down than what stands before them.
    fn apart(&self, mut strips: Vec<Strip>) -> Vec<Strip> {
        if let Some(first) = strips.first_mut() {
            first.before_pt = self.sizes.gap_pt();
        }
        strips
    }

    /// A bar beside it says that it matters.
    fn alarm(&self, row: &Row) -> Vec<Strip> {
        const IN_PT: f64 = 8.0;
        let colour = colours::of("fail");
        let (body, loud) = (self.body(), Hand { heavy: Heavy::Yes, colour, ..self.body() });
        let label = format!("{}  ", row.label);
        let first_pt = self.letters.width_pt(&label, Heavy::Yes, body.size_pt);
        let place = Place { x_pt: IN_PT, width_pt: WIDTH_PT - IN_PT, first_pt };
        let mut all = self.column(&row.text, body, place);
        for (n, one) in all.iter_mut().enumerate() {
            one.drawn = html! {
                (filled(0.0, 0.0, 2.5, one.height_pt + 0.3, colour))
                @if n == 0 { (loud.set(IN_PT, 0.0, row.label)) }
                (one.drawn)
            };
        }
        self.apart(all)
    }

    /// What cannot be drawn is left out: the numbers stand beside it.
    fn figure(&self, svg: &str, caption: &str, width_pt: f64) -> Vec<Strip> {
        let Some((drawn, height_pt)) = placed(svg, (WIDTH_PT - width_pt) / 2.0, 0.0, width_pt)
        else {
            return self.fine(caption);
        };
        let place = Place { x_pt: (WIDTH_PT - width_pt) / 2.0, width_pt, first_pt: 0.0 };
        let caption = self.column(caption, self.soft(), place);
        let under_pt: f64 = caption.iter().map(|one| one.height_pt).sum();
        let drawn = html! { (drawn) (super::drawn::moved(0.0, height_pt, &stacked(&caption))) };
        vec![Strip { before_pt: self.sizes.gap_pt(), ..Strip::new(height_pt + under_pt, drawn) }]
    }
}

impl Hand {
    /// A line whose top is there.
    fn set(self, x_pt: f64, top_pt: f64, line: &str) -> Markup {
        text(x_pt, top_pt + self.size_pt * 0.95, self.size_pt, self.heavy, self.colour, line)
    }
}

impl Place {
    fn whole() -> Self {
        Self { x_pt: 0.0, width_pt: WIDTH_PT, first_pt: 0.0 }
    }
}

fn strip(size_pt: f64, drawn: Markup) -> Strip {
    Strip::new(line_pt(size_pt), drawn)
}

/// One below the other, in one drawing.
pub(super) fn stacked(strips: &[Strip]) -> Markup {
    let tops = strips.iter().scan(0.0, |y_pt, one| {
        *y_pt += one.before_pt;
        let top_pt = *y_pt;
        *y_pt += one.height_pt;
        Some(top_pt)
    });
    html! { @for (one, top_pt) in strips.iter().zip(tops) { (super::drawn::moved(0.0, top_pt, &one.drawn)) } }
}

/// All of them as one.
fn as_one(strips: &[Strip]) -> Strip {
    let height_pt = strips.iter().map(|one| one.before_pt + one.height_pt).sum();
    Strip::new(height_pt, stacked(strips))
}
