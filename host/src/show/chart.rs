//! A chart, described once: drawn as SVG on a page, and with letters on a terminal.

mod letters;
mod vector;

use runproof_quality::lot::Worth;

use super::words;
use crate::shop::lots::Lot;

/// A line, and lines across it that it is read against.
pub(crate) struct Chart {
    /// What it shows, in a sentence.
    pub(crate) caption: String,
    x: Axis,
    y: Axis,
    /// From left to right.
    points: Vec<(f64, f64)>,
    /// At these heights, each with what it is.
    across: Vec<(f64, &'static str)>,
}

struct Axis {
    name: &'static str,
    from: f64,
    to: f64,
}

impl Chart {
    pub(crate) fn svg(&self) -> String {
        vector::svg(self)
    }

    pub(crate) fn text(&self) -> String {
        letters::text(self)
    }
}

/// How likely lots of each quality are accepted; none of a lot that is tested unit by unit.
pub(crate) fn operating_characteristic(lot: &Lot) -> Option<Chart> {
    let worth = Worth::of(&lot.opened.declared, &lot.stand.drawn)?;
    let points = worth.curve.iter().map(|one| (one.fraction * 100.0, one.chance_accepted * 100.0));
    let points: Vec<(f64, f64)> = points.collect();
    let to = points.last()?.0;
    Some(Chart {
        caption: words::lot::curve(&worth),
        x: Axis { name: "part of a lot fails, %", from: 0.0, to },
        y: Axis { name: "accepted, %", from: 0.0, to: 100.0 },
        points,
        across: vec![(10.0, "10 %")],
    })
}
