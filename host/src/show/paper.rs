//! A document on sheets that fit US Letter and A4: each a drawing, all of them a PDF. Nothing is cut: what does not fit on one
//! sheet is set smaller, and where that would be too small to read it goes on to the next.

mod blocks;
mod colours;
mod columns;
mod drawn;
mod letters;
mod lines;
mod pdf;
mod sheets;
mod sizes;

use self::letters::Letters;
pub(crate) use self::pdf::from_drawings;
use super::document::Document;
use crate::error::PaperError;

/// A point is a 72nd of an inch. The sheet is US Letter; A4 is 8 pt narrower on each side, and taller.
pub(super) const SHEET_PT: [f64; 2] = [612.0, 792.0];
/// 10 mm: of A4 some 7 mm are left, which printers reach.
const MARGIN_PT: f64 = 28.35;
const WIDTH_PT: f64 = SHEET_PT[0] - 2.0 * MARGIN_PT;
const HEIGHT_PT: f64 = SHEET_PT[1] - 2.0 * MARGIN_PT;

/// As the bytes of a PDF.
pub(crate) fn pdf(document: &Document) -> Result<Vec<u8>, PaperError> {
    let letters = Letters::new()?;
    let sheets: Vec<String> =
        document.sections.iter().flat_map(|one| sheets::of(one, &letters)).collect();
    from_drawings(&document.title, SHEET_PT, &sheets)
}
