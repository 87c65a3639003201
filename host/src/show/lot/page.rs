//! A lot as a page.

use maud::{PreEscaped, html};

use super::super::chart;
use super::super::report::{class, whole};
use super::{headline, rows, verdict};
use crate::shop::lots::Lot;

pub(crate) fn page(lot: &Lot) -> String {
    let (word, why) = headline(lot);
    let curve = chart::operating_characteristic(lot);
    whole(
        &format!("Lot {}: {word}", lot.name),
        html! {
            section.result aria-labelledby="lot" {
                header class=(class(verdict(lot))) {
                    h1 #lot { span.verdict { (word) } " Lot " (lot.name) ": " (why) }
                }
                dl {
                    @for row in rows(lot) { div { dt { (row.label) } dd { (row.text) } } }
                }
                @if let Some(curve) = curve {
                    figure.chart {
                        (PreEscaped(curve.svg()))
                        figcaption { (curve.caption) }
                    }
                }
            }
        },
    )
}
