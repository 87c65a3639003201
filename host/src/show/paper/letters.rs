//! The typeface that comes with the program: how wide a text is in it, and what it has no letter for.

use std::borrow::Cow;

use ttf_parser::Face;

use crate::error::PaperError;

pub(super) const REGULAR: &[u8] = include_bytes!("fonts/DejaVuSansCondensed.ttf");
pub(super) const BOLD: &[u8] = include_bytes!("fonts/DejaVuSansCondensed-Bold.ttf");

/// How heavy a text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Heavy {
    No,
    Yes,
}

pub(super) struct Letters {
    regular: Face<'static>,
    bold: Face<'static>,
}

impl Letters {
    pub(super) fn new() -> Result<Self, PaperError> {
        let face = |bytes: &'static [u8]| {
            Face::parse(bytes, 0).map_err(|why| PaperError::NotDrawn { why: why.to_string() })
        };
        Ok(Self { regular: face(REGULAR)?, bold: face(BOLD)? })
    }

    /// In points, of a text of this size; letters that would be drawn closer together are not.
    pub(super) fn width_pt(&self, text: &str, heavy: Heavy, size_pt: f64) -> f64 {
        let face = match heavy {
            Heavy::No => &self.regular,
            Heavy::Yes => &self.bold,
        };
        let advance = |c| {
            let glyph = face.glyph_index(c).unwrap_or_default();
            f64::from(face.glyph_hor_advance(glyph).unwrap_or_default())
        };
        text.chars().map(advance).sum::<f64>() * size_pt / f64::from(face.units_per_em())
    }

    /// What is lacking stands as its number in Unicode, so that nothing is lost; and how many letters do.
    pub(super) fn spelled<'a>(&self, text: &'a str) -> (Cow<'a, str>, usize) {
        let count = text.chars().filter(|c| self.lacks(*c)).count();
        if count == 0 {
            return (text.into(), 0);
        }
        let letter = |c| match self.lacks(c) {
            true => format!("[U+{:04X}]", u32::from(c)),
            false => c.to_string(),
        };
        (text.chars().map(letter).collect::<String>().into(), count)
    }

    /// In either weight.
    fn lacks(&self, c: char) -> bool {
        let is_in_both =
            [&self.regular, &self.bold].iter().all(|face| face.glyph_index(c).is_some());
        !c.is_whitespace() && !c.is_control() && !is_in_both
    }
}

#[test]
fn it_has_every_letter_that_results_are_written_in() {
    let letters = Letters::new().expect("the faces that are shipped");
    for c in "−±Ω°µ–—≤≥✓✕…“”‘’²→·×√│─µ".chars() {
        assert!(!letters.lacks(c), "{c}");
    }
    assert_eq!(letters.spelled("12 数据\u{fffe}"), ("12 [U+6570][U+636E][U+FFFE]".into(), 3));
    let width = |text, heavy| letters.width_pt(text, heavy, 10.0);
    assert!(width("iiii", Heavy::No) < width("mmmm", Heavy::No));
    assert!(width("mmmm", Heavy::No) < width("mmmm", Heavy::Yes));
}
