//! How large a label is, or its paper.

use std::str::FromStr;

/// In millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Size {
    pub(crate) width_mm: f64,
    pub(crate) height_mm: f64,
}

impl FromStr for Size {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let not = || "give width and height in millimetres, such as 30x15mm".to_owned();
        let text = text.trim().strip_suffix("mm").ok_or_else(not)?;
        let (width, height) = text.split_once(['x', '×']).ok_or_else(not)?;
        let side = |text: &str| {
            let mm: f64 = text.trim().trim_end_matches("mm").trim_end().parse().ok()?;
            (0.0..=1000.0).contains(&mm).then_some(mm)
        };
        let (width_mm, height_mm) = side(width).zip(side(height)).ok_or_else(not)?;
        Ok(Self { width_mm, height_mm })
    }
}
