//! Drawings as the pages of a PDF; their letters stay letters, of which those that are used are embedded.

use std::sync::Arc;

use krilla::Document;
use krilla::geom::Size;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla_svg::{SurfaceExt, SvgSettings};
use usvg::{Options, Tree, fontdb};

use super::letters::{BOLD, REGULAR};
use crate::error::PaperError;

/// Of the faces that are shipped.
const FAMILY: &str = "DejaVu Sans";

/// Each drawing is an SVG, and a page of its own.
pub(crate) fn from_drawings(
    title: &str,
    page_pt: [f64; 2],
    drawings: &[String],
) -> Result<Vec<u8>, PaperError> {
    let not = |why: &str| PaperError::NotDrawn { why: why.into() };
    let options = options();
    let mut document = Document::new();
    document.set_metadata(Metadata::new().title(title.into()).language("en".into()));
    let [width, height] = page_pt.map(|pt| pt as f32);
    for drawing in drawings {
        let tree = Tree::from_str(drawing, &options).map_err(|why| not(&why.to_string()))?;
        let settings = PageSettings::from_wh(width, height).ok_or_else(|| not("no such page"))?;
        let size = Size::from_wh(width, height).ok_or_else(|| not("no such page"))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        let drawn = surface.draw_svg(&tree, size, SvgSettings::default());
        surface.finish();
        page.finish();
        drawn.ok_or_else(|| not("the drawing is empty"))?;
    }
    document.finish().map_err(|why| not(&format!("{why:?}")))
}

/// No face of this computer: the same document looks the same everywhere.
fn options() -> Options<'static> {
    let mut faces = fontdb::Database::new();
    for face in [REGULAR, BOLD] {
        faces.load_font_source(fontdb::Source::Binary(Arc::new(face)));
    }
    faces.set_sans_serif_family(FAMILY);
    faces.set_serif_family(FAMILY);
    faces.set_monospace_family(FAMILY);
    Options { font_family: FAMILY.into(), fontdb: Arc::new(faces), ..Options::default() }
}
