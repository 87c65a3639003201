//! The code of a result, for an ear and a camera, with what was said of the test beside it.

use maud::html;

use super::{Hand, Place, Setter, Strip, as_one};
use crate::show::described::Row;
use crate::show::document::{QUIET, modules};
use crate::show::paper::drawn::{filled, moved, placed};
use crate::show::paper::letters::Heavy;
use crate::show::paper::{WIDTH_PT, colours};
use crate::show::words;

/// 22 mm.
const SIDE_PT: f64 = 62.4;
const BESIDE_PT: f64 = SIDE_PT + 8.0;
/// What is longer takes the whole width, where it has fewer lines.
const LETTERS_MAX: usize = 300;

impl Setter<'_> {
    pub(super) fn code(&self, code: Option<&str>, about: &[Row]) -> Vec<Strip> {
        let rule = html! { (filled(0.0, 0.0, WIDTH_PT, 0.5, colours::of("line"))) };
        let hand = Hand { size_pt: self.sizes.fine_pt, ..self.body() };
        let rule = Strip { before_pt: self.sizes.gap_pt(), ..Strip::new(3.0, rule) };
        let Some((code, (side, squares))) = code.and_then(|code| Some((code, modules(code)?)))
        else {
            return [rule].into_iter().chain(self.rows(about, hand)).collect();
        };
        let whole = side + 2 * QUIET;
        let svg = html! {
            svg viewBox=(format!("0 0 {whole} {whole}")) xmlns="http://www.w3.org/2000/svg" {
                rect width=(whole) height=(whole) fill="#fff" {}
                path fill="#000" d=(squares) {}
            }
        };
        let place = Place { x_pt: 0.0, width_pt: WIDTH_PT - BESIDE_PT, first_pt: 0.0 };
        let aloud = Hand { size_pt: self.sizes.heading_pt, heavy: Heavy::Yes, ..self.body() };
        let mut beside = self.column(code, aloud, place);
        beside.extend(self.column(words::report::READ_ALOUD, self.soft(), place));
        let fits = |row: &&Row| self.together && row.text.chars().count() <= LETTERS_MAX;
        let (short, below): (Vec<&Row>, Vec<&Row>) = about.iter().partition(fits);
        let [short, below] =
            [short, below].map(|rows| rows.into_iter().cloned().collect::<Vec<_>>());
        if !short.is_empty() {
            let rows = self.two_columns(&short, hand, place.width_pt);
            beside.push(Strip { before_pt: 3.0, ..rows });
        }
        let beside = as_one(&beside);
        let drawn = html! {
            @if let Some((drawn, _)) = placed(&svg.into_string(), 0.0, 0.0, SIDE_PT) { (drawn) }
            (moved(BESIDE_PT, 2.0, &beside.drawn))
        };
        let height_pt = (beside.height_pt + 2.0).max(SIDE_PT);
        let mut all = vec![rule, Strip::new(height_pt, drawn)];
        all.extend(self.one_column(&below, hand));
        all
    }
}
