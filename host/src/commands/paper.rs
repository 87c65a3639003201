//! A document in a new file: a page for a browser, or a PDF.

use std::path::{Path, PathBuf};

use crate::error::{Error, PaperError};
use crate::files;
use crate::show::document::{Document, page};
use crate::show::label::size::Size;
#[cfg(feature = "pdf")]
use crate::show::paper;
use crate::show::records::reported;

/// As the file's name says.
pub(super) fn write(path: PathBuf, document: &Document) -> Result<(), Error> {
    write_as(path, false, document)
}

/// A PDF where that is asked for, or the file's name says so.
pub(super) fn write_as(path: PathBuf, pdf: bool, document: &Document) -> Result<(), Error> {
    let bytes = if pdf || is_pdf(&path) { as_pdf(document)? } else { page(document).into_bytes() };
    let path = files::save_bytes(path, &bytes)?;
    super::print(&reported(&path))
}

/// By its name.
pub(super) fn is_pdf(path: &Path) -> bool {
    path.extension().is_some_and(|form| form.eq_ignore_ascii_case("pdf"))
}

/// What a file may be called, whatever it is named after.
pub(super) fn plain(name: &str) -> String {
    let letter = |c: char| if c.is_alphanumeric() || "-_.".contains(c) { c } else { '_' };
    name.chars().take(60).map(letter).collect()
}

#[cfg(feature = "pdf")]
fn as_pdf(document: &Document) -> Result<Vec<u8>, PaperError> {
    paper::pdf(document)
}

/// Drawings of one size, each on a page of its own.
#[cfg(feature = "pdf")]
pub(super) fn pdf_of(title: &str, page: Size, drawings: &[String]) -> Result<Vec<u8>, PaperError> {
    const PT_PER_MM: f64 = 72.0 / 25.4;
    let page_pt = [page.width_mm, page.height_mm].map(|mm| mm * PT_PER_MM);
    paper::from_drawings(title, page_pt, drawings)
}

#[cfg(not(feature = "pdf"))]
fn as_pdf(_: &Document) -> Result<Vec<u8>, PaperError> {
    Err(PaperError::NoPdf)
}

#[cfg(not(feature = "pdf"))]
pub(super) fn pdf_of(_: &str, _: Size, _: &[String]) -> Result<Vec<u8>, PaperError> {
    Err(PaperError::NoPdf)
}
