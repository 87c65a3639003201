//! Cells below headings; a row goes on to the next sheet where it must.

use maud::html;

use super::{Hand, Place, Setter, Strip};
use crate::show::document::{Cell, Grid, Weight, sign};
use crate::show::paper::columns::widths_pt;
use crate::show::paper::drawn::filled;
use crate::show::paper::letters::Heavy;
use crate::show::paper::{WIDTH_PT, colours};
use crate::show::words;

const GAP_PT: f64 = 7.0;
/// Of a row that belongs to the one above it.
const IN_PT: f64 = 3.0;

impl Setter<'_> {
    pub(super) fn grid(&self, grid: &Grid) -> Vec<Strip> {
        let size_pt =
            if grid.weight == Weight::Fine { self.sizes.fine_pt } else { self.sizes.body_pt };
        let hand = Hand { size_pt, ..self.body() };
        let soft = Hand { size_pt, ..self.soft() };
        let columns = self.columns(grid, size_pt);
        let caption = grid.caption.iter();
        let mut all: Vec<Strip> =
            caption.flat_map(|told| self.column(told, self.soft(), Place::whole())).collect();
        let headings: Vec<Cell> = grid.headings.iter().map(|one| Cell::from(*one)).collect();
        all.extend(self.cells(&headings, &columns, [soft, soft]));
        let first = Hand { heavy: Heavy::Yes, ..hand };
        for row in &grid.rows {
            all.extend(self.cells(row, &columns, [first, hand]));
        }
        self.apart(all)
    }

    /// Where each column begins, and how wide it is.
    fn columns(&self, grid: &Grid, size_pt: f64) -> Vec<Place> {
        let count = grid.headings.len();
        let wide = |n: usize, cell: &Cell| {
            let heavy = if n == 0 { Heavy::Yes } else { Heavy::No };
            self.letters.width_pt(&text(cell), heavy, size_pt) + 0.5
        };
        let natural: Vec<f64> = (0..count)
            .map(|n| {
                let heading = self.letters.width_pt(grid.headings[n], Heavy::No, size_pt) + 0.5;
                let cells = grid.rows.iter().filter_map(|row| row.get(n));
                cells.map(|cell| wide(n, cell)).fold(heading, f64::max)
            })
            .collect();
        let room_pt = WIDTH_PT - GAP_PT * count.saturating_sub(1) as f64;
        let mut x_pt = 0.0;
        let places = widths_pt(&natural, room_pt).into_iter().map(|width_pt| {
            let place = Place { x_pt, width_pt, first_pt: 0.0 };
            x_pt += width_pt + GAP_PT;
            place
        });
        places.collect()
    }

    /// A row: a strip for each of its lines, the last with a rule below; in the first column's hand and the others'.
    fn cells(&self, cells: &[Cell], columns: &[Place], [first, other]: [Hand; 2]) -> Vec<Strip> {
        let each: Vec<(Hand, Place, Vec<String>)> = cells
            .iter()
            .zip(columns)
            .enumerate()
            .map(|(n, (cell, place))| {
                let hand = if n == 0 { first } else { other };
                let in_pt = if cell.text.starts_with(' ') { IN_PT } else { 0.0 };
                let colour =
                    cell.verdict.map_or(hand.colour, |(verdict, _)| colours::of_verdict(verdict));
                let place = Place { x_pt: place.x_pt + in_pt, ..*place };
                (Hand { colour, ..hand }, place, self.lines(&text(cell), hand, place))
            })
            .collect();
        let count = each.iter().map(|(_, _, lines)| lines.len()).max().unwrap_or(0);
        let mut strips: Vec<Strip> = (0..count)
            .map(|n| {
                let drawn = html! {
                    @for (hand, place, lines) in &each {
                        @if let Some(line) = lines.get(n) { (hand.set(place.x_pt, 0.0, line)) }
                    }
                };
                super::strip(other.size_pt, drawn)
            })
            .collect();
        if let Some(last) = strips.last_mut() {
            last.drawn = html! {
                (last.drawn)
                (filled(0.0, last.height_pt + 0.3, WIDTH_PT, 0.4, colours::of("line")))
            };
            last.height_pt += 1.2;
        }
        strips
    }
}

/// All that a cell says.
fn text(cell: &Cell) -> String {
    let verdict = cell.verdict.map(|(verdict, is_void)| {
        let void = if is_void { " VOID" } else { "" };
        format!("{} {}{void} ", sign(verdict), words::verdict(verdict))
    });
    verdict.unwrap_or_default() + &cell.text
}
