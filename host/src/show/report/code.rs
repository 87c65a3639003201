//! The code of a result, to be read aloud or by a camera.

use maud::{Markup, html};
use qrcode::{Color, EcLevel, QrCode};

use super::Part;
use crate::show::{read_aloud, words};

/// White around it, in modules: ISO/IEC 18004 wants four.
const QUIET: usize = 4;

pub(super) fn code(one: &Part<'_>) -> Markup {
    let Some(code) = read_aloud::of_either(one.judged) else { return html! {} };
    html! {
        div.code {
            (drawn(&code))
            p { span.aloud { (code) } br; (words::report::READ_ALOUD) }
        }
    }
}

/// Nothing where it does not fit, which no code of ours is long enough for.
fn drawn(text: &str) -> Markup {
    let Ok(code) = QrCode::with_error_correction_level(text, EcLevel::M) else { return html! {} };
    let side = code.width();
    let dark = code.to_colors().into_iter().enumerate().filter(|(_, color)| *color == Color::Dark);
    let squares =
        dark.map(|(at, _)| format!("M{} {}h1v1h-1z", QUIET + at % side, QUIET + at / side));
    let whole = side + 2 * QUIET;
    html! {
        svg.qr viewBox=(format!("0 0 {whole} {whole}")) role="img" aria-label="the same code as a QR code"
            xmlns="http://www.w3.org/2000/svg" shape-rendering="crispEdges" {
            rect width=(whole) height=(whole) fill="#fff" {}
            path fill="#000" d=(squares.collect::<String>()) {}
        }
    }
}
