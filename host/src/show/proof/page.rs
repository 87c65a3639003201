//! A jig's proofs as a page, with a chart of each number.

use maud::{PreEscaped, html};
use runproof_interpret::judgement::Verdict;
use runproof_interpret::pieces::PieceSet;
use runproof_quality::proof::Event;

use super::super::chart;
use super::super::report::{class, whole};
use super::{headline, rows};
use crate::shop::proofs::Proved;

pub(crate) fn page(proved: &Proved, set: &PieceSet, now_s: u64) -> String {
    let (word, why) = headline(proved, set, now_s);
    let verdict = match (word, proved.history.events.last()) {
        ("PROVED", _) => Verdict::Pass,
        (_, Some(Event::Out { .. })) => Verdict::Fail,
        _ => Verdict::CannotTell,
    };
    whole(
        &format!("Jig {}: {word}", proved.jig),
        html! {
            section.result aria-labelledby="jig" {
                header class=(class(verdict)) { h1 #jig { span.verdict { (word) } " " (why) } }
                dl { @for row in rows(proved, set, now_s) { div { dt { (row.label) } dd { (row.text) } } } }
                @for chart in proved.history.charts.iter().filter_map(chart::of_proofs) {
                    figure.chart {
                        (PreEscaped(chart.svg()))
                        figcaption { (chart.caption) }
                    }
                }
            }
        },
    )
}
