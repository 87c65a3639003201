//! The heading: the verdict's word in a frame, its reason beside, which result it is below.

use maud::html;

use super::{Hand, Place, Setter, Strip, as_one};
use crate::show::document::Heading;
use crate::show::paper::drawn::{filled, framed, moved};
use crate::show::paper::letters::Heavy;
use crate::show::paper::{WIDTH_PT, colours};

const IN_PT: f64 = 9.0;

impl Setter<'_> {
    pub(super) fn heading(&self, heading: &Heading) -> Strip {
        let Some((verdict, word)) = &heading.verdict else { return self.plain(heading) };
        let colour = colours::of_verdict(*verdict);
        let size_pt = self.sizes.heading_pt;
        let loud = Hand { size_pt, heavy: Heavy::Yes, colour };
        let word_pt = self.letters.width_pt(word, Heavy::Yes, size_pt) + 8.0;
        let place =
            Place { x_pt: IN_PT, width_pt: WIDTH_PT - 2.0 * IN_PT, first_pt: word_pt + 6.0 };
        let mut all = self.column(&heading.text, loud, place);
        if let Some(below) = &heading.below {
            let place = Place { first_pt: 0.0, ..place };
            all.extend(self.column(below, self.soft(), place));
        }
        let said = as_one(&all);
        let height_pt = said.height_pt + 8.0;
        let drawn = html! {
            (filled(0.0, 0.0, WIDTH_PT, height_pt, colours::of("fill")))
            (filled(0.0, 0.0, 4.0, height_pt, colour))
            (framed(IN_PT, 3.5, word_pt, size_pt * 1.25, colour))
            (loud.set(IN_PT + 4.0, 4.0, word))
            (moved(0.0, 4.0, &said.drawn))
        };
        Strip::new(height_pt, drawn)
    }

    fn plain(&self, heading: &Heading) -> Strip {
        let hand = Hand { size_pt: self.sizes.heading_pt, heavy: Heavy::Yes, ..self.body() };
        as_one(&self.column(&heading.text, hand, Place::whole()))
    }
}
