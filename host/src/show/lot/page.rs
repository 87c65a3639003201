//! A lot as a document.

use super::super::chart;
use super::super::document::{Block, Document, Heading, Section};
use super::{headline, rows, verdict};
use crate::shop::lots::Lot;

pub(crate) fn document(lot: &Lot) -> Document {
    let (word, why) = headline(lot);
    let curve = chart::operating_characteristic(lot);
    let curve = curve.map(|curve| Block::Chart { svg: curve.svg(), caption: curve.caption });
    let heading = Heading {
        verdict: Some((verdict(lot), word.into())),
        text: format!("Lot {}: {why}", lot.name),
        below: None,
    };
    let blocks = [Block::Rows(rows(lot))].into_iter().chain(curve).collect();
    Document {
        title: format!("Lot {}: {word}", lot.name),
        sections: vec![Section { id: "lot".into(), heading, blocks }],
    }
}
