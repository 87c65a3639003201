//! A lot's units: what was looked at, what was tested, and what does not count.

use std::collections::BTreeSet;

use runproof_quality::lot::{Declared, Identity, Mark, Tested};
use runproof_records::jiff::Timestamp;
use runproof_records::jiff::tz::TimeZone;

use super::{LISTED, listed, many};
use crate::shop::lots::{NotCounted, Struck};

pub(crate) fn units(declared: &Declared) -> String {
    let again = if declared.again { "; it was rejected before, and sorted" } else { "" };
    format!("{}, numbered from 1; of the series {}{again}", declared.units, declared.series)
}

pub(crate) fn identity(identity: &Identity, units: u32) -> String {
    let mut all = vec![format!("{} of {units} looked at", identity.looked_at)];
    for (unit, marks) in identity.missed.iter().take(LISTED) {
        let marks: Vec<&str> = marks.iter().map(|one| mark(*one)).collect();
        all.push(format!("unit {unit} misses its {}", marks.join(", ")));
    }
    if let Some(more) = identity.missed.len().checked_sub(LISTED).filter(|more| *more > 0) {
        all.push(format!("{more} more miss a mark"));
    }
    if !identity.mended.0.is_empty() {
        all.push(format!("missed before, and not by the last look: {}", listed(&identity.mended)));
    }
    if !identity.left.0.is_empty() {
        all.push(format!("not looked at: {}", listed(&identity.left)));
    }
    all.join("; ")
}

pub(crate) fn mark(mark: Mark) -> &'static str {
    match mark {
        Mark::Label => "label",
        Mark::Print => "print on the jacket",
        Mark::Weight => "weight",
        Mark::Scrape => "scraped conductor",
    }
}

pub(crate) fn tested(tested: &Tested, of: usize) -> String {
    let left = tested.left.units().count();
    let mut all = vec![format!("{} of {of}: {} passed", of - left, tested.conforming)];
    for (units, told) in [
        (&tested.nonconforming, "failed"),
        (&tested.cannot_tell, "could not be told, test again"),
        (&tested.not_proved, "by a jig that was not proved, test again"),
        (&tested.left, "left to test"),
    ] {
        if !units.0.is_empty() && units.units().count() < of {
            all.push(format!("{told}: {}", listed(units)));
        } else if !units.0.is_empty() {
            all.push(format!("all {told}"));
        }
    }
    all.join("; ")
}

pub(crate) fn beside(beside: &Tested) -> Option<String> {
    let failed = &beside.nonconforming;
    (!failed.0.is_empty()).then(|| {
        format!(
            "not drawn, but tested and failed: {}. They decide nothing here, and are no good units",
            listed(failed)
        )
    })
}

pub(crate) fn not_counted(not: NotCounted) -> Option<String> {
    let each = [
        (not.other_sheet, "judged by another limit sheet"),
        (not.other_test, "of another kind"),
        (not.no_unit, "of a unit that the lot has not"),
    ];
    let told: Vec<String> = each
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, why)| format!("{} {why}", many(count as usize, "test")))
        .collect();
    (!told.is_empty()).then(|| told.join("; "))
}

pub(crate) fn struck(all: &[Struck]) -> Option<String> {
    let each = all.iter().map(|one| match &one.void {
        Some(why) => {
            format!("unit {} failed in record {}, which is void: {why}", one.unit, one.number)
        }
        None => format!(
            "record {}, which failed, was said to be of another lot later, unit {}",
            one.number, one.unit
        ),
    });
    let told = each.collect::<Vec<_>>().join("; ");
    (!all.is_empty()).then_some(told)
}

pub(crate) fn struck_count(count: usize) -> String {
    match count {
        0 => String::new(),
        1 => "; 1 test that failed was taken out of it, see below".into(),
        _ => format!("; {count} tests that failed were taken out of it, see below"),
    }
}

pub(crate) fn measured_by(jigs: &BTreeSet<String>, from: Timestamp, to: Timestamp) -> String {
    let jigs: Vec<&str> = jigs.iter().map(String::as_str).collect();
    let word = if jigs.len() == 1 { "jig" } else { "jigs" };
    let [from, to] = [from, to].map(moment);
    format!("{word} {}, from {from} to {to}", jigs.join(", "))
}

pub(crate) fn moment(at: Timestamp) -> String {
    at.to_zoned_datetime(TimeZone::system()).strftime("%Y-%m-%d %H:%M %:z").to_string()
}
