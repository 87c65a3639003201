//! A code for a camera: dark squares on a light ground.

use qrcode::{Color, EcLevel, QrCode};

/// White around it, in modules: ISO/IEC 18004 wants four.
pub(in crate::show) const QUIET: usize = 4;

/// How many squares a side has without the white around it, and the dark ones as the path of an SVG, the white counted; none
/// of a text that is too long for any.
pub(in crate::show) fn modules(text: &str) -> Option<(usize, String)> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
    let side = code.width();
    let dark = code.to_colors().into_iter().enumerate().filter(|(_, color)| *color == Color::Dark);
    let squares =
        dark.map(|(at, _)| format!("M{} {}h1v1h-1z", QUIET + at % side, QUIET + at / side));
    Some((side, squares.collect()))
}
