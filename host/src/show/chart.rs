//! A chart, described once: drawn as SVG on a page, and with letters on a terminal.

mod letters;
mod vector;

use runproof_quality::lot::Worth;
use runproof_quality::proof::Charted;

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
    /// Each point is marked.
    marked: bool,
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
        caption: words::lot::CURVE.into(),
        x: Axis { name: "part of a lot fails, %", from: 0.0, to },
        y: Axis { name: "accepted, %", from: 0.0, to: 100.0 },
        points,
        across: vec![(10.0, "10 %")],
        marked: false,
    })
}

/// A number that was read of a known piece, proof after proof; none of fewer than two.
pub(crate) fn of_proofs(kept: &Charted) -> Option<Chart> {
    let points: Vec<(f64, f64)> =
        kept.points.iter().map(|(n, ohm)| ((n + 1) as f64, ohm * 1e3)).collect();
    let [(from, _), .., (to, _)] = points.as_slice() else { return None };
    let (from, to) = (*from, *to);
    let limits = kept
        .limits
        .map(|limits| (limits.centre_ohm * 1e3, limits.three_sigma().map(|ohm| ohm * 1e3)));
    let across = limits.map_or_else(Vec::new, |(centre, [least, most])| {
        vec![(most, "+3 sigma"), (centre, "centre"), (least, "-3 sigma")]
    });
    let heights = points.iter().map(|(_, y)| *y).chain(across.iter().map(|(y, _)| *y));
    let (low, high) = heights
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| (low.min(y), high.max(y)));
    let room = ((high - low) * 0.15).max(1.0);
    Some(Chart {
        caption: words::proof::curve(kept),
        x: Axis { name: "proof", from, to },
        y: Axis { name: "milliohms", from: low - room, to: high + room },
        points,
        across,
        marked: true,
    })
}
