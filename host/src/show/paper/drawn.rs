//! What is drawn on a sheet, as SVG; lengths are points.

use maud::{Markup, PreEscaped, html};

use super::letters::Heavy;

/// As many digits as a printer can show.
fn short(pt: f64) -> f64 {
    (pt * 100.0).round() / 100.0
}

/// A line of text; `y_pt` is where its letters stand.
pub(super) fn text(
    x_pt: f64,
    y_pt: f64,
    size_pt: f64,
    heavy: Heavy,
    colour: &str,
    text: &str,
) -> Markup {
    let weight = (heavy == Heavy::Yes).then_some("bold");
    html! {
        text x=(short(x_pt)) y=(short(y_pt)) font-size=(short(size_pt)) font-weight=[weight] fill=(colour) { (text) }
    }
}

pub(super) fn filled(x_pt: f64, y_pt: f64, width_pt: f64, height_pt: f64, colour: &str) -> Markup {
    html! {
        rect x=(short(x_pt)) y=(short(y_pt)) width=(short(width_pt)) height=(short(height_pt)) fill=(colour) {}
    }
}

pub(super) fn framed(x_pt: f64, y_pt: f64, width_pt: f64, height_pt: f64, colour: &str) -> Markup {
    html! {
        rect x=(short(x_pt)) y=(short(y_pt)) width=(short(width_pt)) height=(short(height_pt)) fill="none" stroke=(colour) {}
    }
}

pub(super) fn moved(x_pt: f64, y_pt: f64, what: &Markup) -> Markup {
    html! { g transform=(format!("translate({} {})", short(x_pt), short(y_pt))) { (what) } }
}

/// An SVG of its own, so wide; and how high it is then. None of what says no size.
pub(super) fn placed(svg: &str, x_pt: f64, y_pt: f64, width_pt: f64) -> Option<(Markup, f64)> {
    let [width, height] = size(svg)?;
    let scale = width_pt / width;
    let sized = match svg.split_once('>')?.0.contains(" width=") {
        true => svg.to_owned(),
        false => svg.replacen("<svg ", &format!("<svg width=\"{width}\" height=\"{height}\" "), 1),
    };
    let way = format!("translate({} {}) scale({scale:.5})", short(x_pt), short(y_pt));
    Some((html! { g transform=(way) { (PreEscaped(sized)) } }, height * scale))
}

/// By its view box.
fn size(svg: &str) -> Option<[f64; 2]> {
    let numbers = svg.split_once("viewBox=\"")?.1.split_once('"')?.0;
    let mut numbers = numbers.split_whitespace().skip(2).map(str::parse);
    let [width, height] = [numbers.next()?.ok()?, numbers.next()?.ok()?];
    (width > 0.0 && height > 0.0).then_some([width, height])
}
