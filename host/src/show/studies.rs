//! Studies of many results, as words and as JSON.

use runproof_quality::gauge::{Anova, Components, Interaction};
use runproof_quality::{Chance, Description, capability};
use serde_json::json;

use super::terminal::{broken, paragraph};
use super::words;
use super::words::studies as said;
use crate::shop::lots::Lot;
use crate::shop::studies::{Crossed, Units};

/// How much of what is read is the jig.
pub(crate) struct Repeatability<'a> {
    pub(crate) crossed: &'a Crossed,
    pub(crate) by_variance: &'a Anova,
    pub(crate) by_ranges: Option<&'a Components>,
    pub(crate) tolerance_ohm: Option<f64>,
}

/// What the process that a lot's units come from can do.
pub(crate) struct Capability<'a> {
    pub(crate) lot: &'a Lot,
    pub(crate) conductor: &'a str,
    pub(crate) units: &'a Units,
    pub(crate) sample: &'a Description,
    /// Below which so much of all units lies.
    pub(crate) most: f64,
    pub(crate) part: Chance,
    pub(crate) index: Option<capability::Capability>,
}

impl Repeatability<'_> {
    pub(crate) fn text(&self) -> String {
        let found = &self.by_variance.components;
        let mut lines = vec![];
        broken(&mut lines, "STUDY:".into(), 2, &said::headline(found, self.tolerance_ohm));
        lines.push(String::new());
        let study = &self.crossed.study;
        let of =
            said::of(study.parts(), study.operators(), study.trials(), &self.crossed.operators);
        paragraph(&mut lines, "of", &of);
        for (label, variance) in [
            ("repeats", found.repeatability),
            ("reproduces", found.reproducibility),
            ("gauge, both", found.gauge()),
            ("parts", found.part),
            ("all", found.total()),
        ] {
            paragraph(&mut lines, label, &said::component(variance, found.total()));
        }
        let pooled = self.by_variance.model == Interaction::Pooled;
        paragraph(&mut lines, "method", said::method(pooled));
        if let Some(by_ranges) = self.by_ranges {
            paragraph(&mut lines, "by ranges", &said::by_ranges(by_ranges));
        }
        if let Some(ohm) = self.tolerance_ohm {
            paragraph(&mut lines, "tolerance", &said::tolerance(found, ohm));
        }
        paragraph(&mut lines, "tells apart", &said::categories(found));
        lines.push(String::new());
        words::printable(&lines.join("\n"))
    }

    pub(crate) fn json(&self) -> String {
        let found = &self.by_variance.components;
        let told = json!({
            "runproof_repeatability": 1,
            "unit": "ohm",
            "parts": self.crossed.parts,
            "operators": self.crossed.operators,
            "trials": self.crossed.study.trials(),
            "analysis_of_variance": self.by_variance,
            "average_and_range": self.by_ranges,
            "percent_study_variation": found.percent_study_variation(),
            "percent_contribution": found.percent_contribution(),
            "percent_tolerance": self.tolerance_ohm.and_then(|ohm| found.percent_tolerance(ohm)),
            "distinct_categories": found.distinct_categories(),
        });
        format!("{told}\n")
    }
}

impl Capability<'_> {
    pub(crate) fn text(&self) -> String {
        let mut lines = vec![];
        let unit = if self.units.per_kilometre { "Ω/km" } else { "Ω" };
        let headline =
            said::capable(self.sample.count(), self.conductor, &self.lot.name, self.index.as_ref());
        broken(&mut lines, "STUDY:".into(), 2, &headline);
        lines.push(String::new());
        if self.lot.is_simulated {
            paragraph(&mut lines, "SIMULATED", said::SIMULATED);
        }
        let (mean, deviation) = (self.sample.mean(), self.sample.standard_deviation());
        paragraph(&mut lines, "resistance", &said::sample(mean, deviation, unit));
        paragraph(&mut lines, "tolerance", &said::below(self.part, self.most, unit));
        paragraph(&mut lines, "limit", &said::limit(self.units.limit, unit));
        if let Some(few) = said::few(self.sample.count(), self.units.without) {
            paragraph(&mut lines, "NOTE", &few);
        }
        if let Some(index) = &self.index {
            paragraph(&mut lines, "Cpk", &said::cpk(&index.cpk));
        }
        paragraph(&mut lines, "holds if", said::HOLDS_IF);
        lines.push(String::new());
        words::printable(&lines.join("\n"))
    }

    pub(crate) fn json(&self) -> String {
        let told = json!({
            "runproof_capability": 1,
            "lot": self.lot.name,
            "conductor": self.conductor,
            "unit": if self.units.per_kilometre { "ohm/km" } else { "ohm" },
            "units": self.sample.count(),
            "units_without_resistance": self.units.without,
            "mean": self.sample.mean(),
            "standard_deviation": self.sample.standard_deviation(),
            "tolerance": { "part": self.part.value(), "confidence": 0.95, "most": self.most },
            "limit": self.units.limit,
            "capability": self.index,
            "simulated": self.lot.is_simulated,
        });
        format!("{told}\n")
    }
}
