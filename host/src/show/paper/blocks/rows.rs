//! What is told under labels: in two columns where all must be on one sheet, else one below the other.

use maud::html;

use super::{Hand, Place, Setter, Strip, as_one};
use crate::show::described::Row;
use crate::show::paper::WIDTH_PT;
use crate::show::paper::drawn::moved;
use crate::show::paper::letters::Heavy;

/// Between columns, and between a label and what it says.
const GAP_PT: f64 = 12.0;
const LABEL_GAP_PT: f64 = 5.0;
/// A row is parted where that saves more.
const PARTED_LINES: f64 = 3.0;

impl Setter<'_> {
    pub(super) fn rows(&self, rows: &[Row], hand: Hand) -> Vec<Strip> {
        if !self.together || rows.len() < 2 {
            return self.one_column(rows, hand);
        }
        let mut strip = self.two_columns(rows, hand, WIDTH_PT);
        strip.before_pt = self.sizes.gap_pt();
        vec![strip]
    }

    pub(super) fn one_column(&self, rows: &[Row], hand: Hand) -> Vec<Strip> {
        let place = Place::whole();
        self.apart(rows.iter().flat_map(|row| self.row(row, rows, hand, place)).collect())
    }

    /// So that both are as short as can be; their order is down the first, then down the second. A long row goes on there.
    pub(super) fn two_columns(&self, rows: &[Row], hand: Hand, width_pt: f64) -> Strip {
        let width_pt = (width_pt - GAP_PT) / 2.0;
        let place = Place { x_pt: 0.0, width_pt, first_pt: 0.0 };
        let mut each: Vec<Strip> = vec![];
        let mut begins = vec![0];
        for row in rows {
            each.extend(self.row(row, rows, hand, place));
            begins.push(each.len());
        }
        let high = |part: &[Strip]| part.iter().map(|one| one.height_pt).sum::<f64>();
        let parted_pt = |at| if begins.contains(&at) { 0.0 } else { PARTED_LINES * hand.size_pt };
        let higher = |at: usize| high(&each[..at]).max(high(&each[at..])) + parted_pt(at);
        let at = (0..=each.len()).min_by(|a, b| higher(*a).total_cmp(&higher(*b))).unwrap_or(0);
        let (left, right) = each.split_at(at);
        let (left, right) = (as_one(left), as_one(right));
        let drawn = html! { (left.drawn) (moved(width_pt + GAP_PT, 0.0, &right.drawn)) };
        Strip::new(left.height_pt.max(right.height_pt), drawn)
    }

    /// A strip for each line of it; all labels of the block take the same room.
    pub(super) fn row(&self, row: &Row, of: &[Row], hand: Hand, place: Place) -> Vec<Strip> {
        let soft = Hand { size_pt: hand.size_pt, ..self.soft() };
        let wide = |row: &Row| self.letters.width_pt(row.label, Heavy::No, hand.size_pt);
        let label_pt = of.iter().map(wide).fold(0.0, f64::max) + LABEL_GAP_PT;
        let beside = Place {
            x_pt: place.x_pt + label_pt,
            width_pt: place.width_pt - label_pt,
            first_pt: 0.0,
        };
        let mut all = self.column(&row.text, hand, beside);
        if let Some(first) = all.first_mut() {
            first.drawn = html! { (soft.set(place.x_pt, 0.0, row.label)) (first.drawn) };
        }
        if let Some(last) = all.last_mut() {
            last.height_pt += hand.size_pt * 0.12;
        }
        all
    }
}
