//! A jig's proofs as a document, with a chart of each number.

use runproof_interpret::judgement::Verdict;
use runproof_interpret::pieces::PieceSet;
use runproof_quality::proof::Event;

use super::super::chart;
use super::super::document::{Block, Document, Heading, Section};
use super::{headline, rows};
use crate::shop::proofs::Proved;

pub(crate) fn document(proved: &Proved, set: &PieceSet, now_s: u64) -> Document {
    let charts = proved.history.charts.iter().filter_map(chart::of_proofs);
    let charts = charts.map(|one| Block::Chart { svg: one.svg(), caption: one.caption });
    let heading = heading(proved, set, now_s);
    let word = heading.verdict.as_ref().map_or("", |(_, word)| word.as_str());
    let title = format!("Jig {}: {word}", proved.jig);
    let blocks = [Block::Rows(rows(proved, set, now_s))].into_iter().chain(charts).collect();
    Document { title, sections: vec![Section { id: "jig".into(), heading, blocks }] }
}

/// How the jig stands.
pub(in crate::show) fn heading(proved: &Proved, set: &PieceSet, now_s: u64) -> Heading {
    let (word, text) = headline(proved, set, now_s);
    let verdict = match (word, proved.history.events.last()) {
        ("PROVED", _) => Verdict::Pass,
        (_, Some(Event::Out { .. })) => Verdict::Fail,
        _ => Verdict::CannotTell,
    };
    Heading { verdict: Some((verdict, word.into())), text, below: None }
}
