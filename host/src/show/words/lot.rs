//! A lot in words.

use std::collections::BTreeSet;

use runproof_quality::lot::{
    Acceptance, Decision, Declared, Drawn, Identity, Mark, Measured, Ranges, Stand, Tested, Worth,
};
use runproof_quality::sampling::Severity;

use runproof_interpret::limits::BUILT_IN;
use runproof_records::Sheet;
use runproof_records::jiff::Timestamp;
use runproof_records::jiff::tz::TimeZone;

use crate::shop::lots::{Closed, Lot, NotCounted, Struck};

pub(crate) const NONE: &str = "No lot was opened on this computer yet. `runproof lot open LOT --units COUNT --series TEXT --aql 1.0` declares \
    one, and draws the units to test.";
pub(crate) const SIMULATED: &str =
    "a simulated jig measured units of this lot: what follows is true of no real one.";
pub(crate) const REDUCED: &str =
    "these are MIL-STD-105E's numbers; ISO 2859-1 has others on reduced inspection.";

/// So many units are listed by number; more are counted.
const LISTED: usize = 200;

pub(crate) fn decision(decision: Decision) -> &'static str {
    match decision {
        Decision::Accept | Decision::AcceptBackToNormal => "ACCEPT",
        Decision::Sorted => "SORTED",
        Decision::Reject => "REJECT",
        Decision::Hold => "HOLD",
        Decision::NotYet => "NOT YET",
    }
}

pub(crate) fn why(decision: Decision, stand: &Stand, units: u32) -> String {
    let failed = stand.sample.nonconforming.units().count();
    let plan = stand.drawn.plan;
    match decision {
        Decision::Sorted => format!(
            "every unit was tested: {} passed, {} failed and to be taken out: number {}",
            stand.sample.conforming,
            many(failed, "unit"),
            listed(&stand.sample.nonconforming)
        ),
        Decision::Accept if plan.is_none() => "every unit was tested and passes".into(),
        Decision::Accept | Decision::Reject if failed == 0 && stand.measured.is_some() => {
            stand.measured.as_ref().map_or_else(String::new, quality)
        }
        Decision::Accept => {
            let most = plan.map_or(0, |plan| plan.acceptance_number());
            let may = if most == 0 { "none may".into() } else { format!("up to {most} may") };
            format!("{} of the sample failed, and {may}{}", many(failed, "unit"), take_out(stand))
        }
        Decision::AcceptBackToNormal => format!(
            "{} of the sample failed: this lot is accepted, the next one is inspected normally{}",
            many(failed, "unit"),
            take_out(stand)
        ),
        Decision::Reject => {
            let least = plan.map_or(0, |plan| plan.rejection_number());
            format!("{} of the sample failed, and {least} reject the lot", many(failed, "unit"))
        }
        Decision::Hold if stand.identity.missed.is_empty() => format!(
            "{} known to fail, drawn or not; as many in the sample would reject it",
            are(failed + stand.beside.nonconforming.units().count(), "unit")
        ),
        Decision::Hold => {
            let left = if stand.identity.left.0.is_empty() {
                ""
            } else {
                ": look at every unit of it, as no sample says how many more there are"
            };
            format!("{} not what the lot should be{left}", are(stand.identity.missed.len(), "unit"))
        }
        Decision::NotYet => left(stand, units),
    }
}

/// Of a lot that is accepted, what is not good in it.
fn take_out(stand: &Stand) -> String {
    let units = stand.sample.nonconforming.units().chain(stand.beside.nonconforming.units());
    let mut units: Vec<u32> = units.collect();
    units.sort_unstable();
    match units.as_slice() {
        [] => String::new(),
        units => {
            format!("; take out what failed: number {}", listed(&Ranges::of(units.iter().copied())))
        }
    }
}

/// Of all that was measured.
fn quality(measured: &Measured) -> String {
    let [mean, deviation, index] =
        [measured.mean, measured.standard_deviation, measured.quality_index]
            .map(Option::unwrap_or_default);
    format!(
        "the sample has {} of its limit, standard deviation {}: {index:.3} standard deviations below it",
        percent(mean),
        percent(deviation)
    )
}

pub(crate) fn left(stand: &Stand, units: u32) -> String {
    let mut all = vec![];
    let looks = units - stand.identity.looked_at;
    if looks > 0 {
        all.push(format!("{} to look at", many(looks as usize, "unit")));
    }
    let tests: usize = [&stand.sample.left, &stand.sample.cannot_tell, &stand.sample.not_proved]
        .map(|units| units.units().count())
        .into_iter()
        .sum();
    if tests > 0 {
        all.push(format!("{} to test", many(tests, "unit")));
    }
    all.join(", ")
}

pub(crate) fn closed(closed: &Closed) -> String {
    let failed = closed.nonconforming.units().count();
    let found = match closed.decision {
        Decision::Hold => "held".into(),
        _ => format!("{} of those to test failed", many(failed, "unit")),
    };
    format!("{found}; decided for good: {}", closed.disposition)
}

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

pub(crate) fn plan(declared: &Declared, drawn: &Drawn) -> String {
    let numbers = drawn.plan.map(|plan| {
        let tested = drawn.sample.len();
        let all = if tested == declared.units as usize { ", all of them" } else { "" };
        let (most, reject) = (plan.acceptance_number(), plan.rejection_number());
        let gap = if reject > most + 1 {
            "; between the two accept this one, and inspect the next normally"
        } else {
            ""
        };
        let accept = match most {
            0 => "accept if none fails".into(),
            _ => format!("accept with {most} that fail or fewer"),
        };
        format!("test {tested}{all}; {accept}, reject with {reject} or more{gap}")
    });
    let numbers = numbers.unwrap_or_default();
    match declared.acceptance {
        Acceptance::Attributes { level, aql, severity } => {
            let letters = drawn.inspection.map_or_else(String::new, |found| {
                let (lot, used) = (found.letter_of_lot.letter(), found.letter_used.letter());
                if lot == used {
                    format!("code letter {used}")
                } else {
                    format!("code letter {lot}, where the table points to {used}")
                }
            });
            format!(
                "MIL-STD-105E, single sampling, level {level}, AQL {} %, {} inspection, {letters}: {numbers}",
                aql.percent(),
                self::severity(severity)
            )
        }
        Acceptance::ZeroAcceptance { limit, risk } => format!(
            "zero acceptance: a lot of which {} fail is accepted with {} at most (hypergeometric, exact): {numbers}",
            percent(limit.value()),
            percent(risk.value())
        ),
        Acceptance::Variables(_) => {
            let k = drawn.variables.map_or(f64::NAN, |plan| plan.acceptability_constant);
            format!(
                "by variables (k-method, sigma unknown, noncentral t): test {}; accept where the mean of what they have of their limit, the most \
                 of their conductors, is at least {k:.3} standard deviations below it, and none has another fault",
                drawn.sample.len()
            )
        }
        Acceptance::EveryUnit => "every unit is tested; those that fail are taken out".into(),
    }
}

pub(crate) fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Normal => "normal",
        Severity::Tightened => "tightened",
        Severity::Reduced => "reduced",
    }
}

pub(crate) fn judged_by(sheet: &Sheet, test: &str) -> String {
    let built_in = BUILT_IN.iter().find(|(name, _)| *name == sheet.name);
    let other = built_in.is_some_and(|(_, text)| *text != sheet.text);
    let changed = if other {
        ", CHANGED: not the sheet of that name that comes with the program"
    } else {
        ""
    };
    format!("`runproof {test}`, limit sheet {}, version {}{changed}", sheet.name, sheet.version)
}

pub(crate) fn sample(sample: &[u32], seed: u64, seed_told: bool) -> String {
    let units = if sample.len() <= LISTED {
        sample.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")
    } else {
        let first = sample[..LISTED].iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
        format!("{first} and {} more, which --json lists", sample.len() - LISTED)
    };
    let by = if seed_told { "which was given by hand" } else { "which was drawn as well" };
    format!("{units}; drawn with the seed {seed}, {by}")
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

pub(crate) fn finds(worth: &Worth, units: u32, tested: usize) -> String {
    format!(
        "one bad unit among {units} is found by {} of all samples of {tested}. So every unit is looked at as well: \
         label, print, weight, a conductor scraped bare",
        percent(worth.finds_one)
    )
}

pub(crate) fn risks(worth: &Worth, declared: &Declared) -> String {
    let mut all = vec![];
    if let (Some(risk), Acceptance::Attributes { aql, .. }) =
        (worth.producers_risk, declared.acceptance)
    {
        all.push(format!(
            "rejects {} of lots of which {} % fail (producer's risk)",
            percent(risk),
            aql.percent()
        ));
    }
    let one_in_ten = match declared.acceptance {
        Acceptance::Variables(risks) => format!(
            "rejects {} of lots of which {} are beyond their limit; accepts {} of those of which {} are",
            percent(worth.producers_risk.unwrap_or_default()),
            percent(risks.good.value()),
            percent(risks.consumers.value()),
            percent(risks.bad.value())
        ),
        // The plan says it, of this very lot.
        Acceptance::ZeroAcceptance { .. } => String::new(),
        _ => format!(
            "accepts one lot in ten of which {} fail (consumer's risk)",
            percent(worth.one_in_ten_accepted_at)
        ),
    };
    all.extend(Some(one_in_ten).filter(|told| !told.is_empty()));
    if let Some(bad) = worth.bad_units_accepted_one_in_ten {
        all.push(format!(
            "this very lot with {bad} bad units or more is accepted once in ten or less"
        ));
    }
    if let Some(limit) = worth.outgoing_limit {
        let limit = percent(limit.fraction);
        all.push(format!(
            "if rejected lots are sorted, at most {limit} of what leaves is bad on average (AOQL)"
        ));
    }
    all.join("; ")
}

pub(crate) const CURVE: &str =
    "How likely a lot is accepted, by what part of it fails: the operating characteristic.";

pub(crate) fn next(lot: &Lot) -> String {
    let name = quoted(&lot.name);
    let stand = &lot.stand;
    if lot.is_in_doubt() {
        return format!(
            "hold what was accepted of it, and call back what has left; open it again under another name with `--again`, and test it \
             anew: what is left is {}",
            left(stand, lot.opened.declared.units)
        );
    }
    if lot.closed.is_some() {
        return "nothing: it is closed".into();
    }
    match stand.decision {
        Decision::Hold => format!(
            "keep the lot apart; sort out what it is with whoever sent it, then `runproof lot close {name} --disposition …`, or \
             look again: `runproof lot identity {name} UNITS`"
        ),
        Decision::NotYet if !stand.identity.left.0.is_empty() => format!(
            "look at every unit, then `runproof lot identity {name} 1-{}`; of one that misses something, `… UNIT --missed print`",
            lot.opened.declared.units
        ),
        Decision::NotYet => {
            let tests = [&stand.sample.left, &stand.sample.cannot_tell, &stand.sample.not_proved];
            let unit = tests.into_iter().find_map(|units| units.units().next()).unwrap_or(1);
            let test = format!(
                "`runproof {} --lot {name} --unit {unit}`, and so on",
                lot.opened.test.name()
            );
            if stand.sample.not_proved.0.is_empty() {
                test
            } else {
                format!("prove the jig with `runproof prove`; then {test}")
            }
        }
        Decision::Accept | Decision::AcceptBackToNormal | Decision::Sorted | Decision::Reject => {
            format!("`runproof lot close {name} --disposition TEXT`, with what is done with it")
        }
    }
}

/// As a shell takes it for one word, whatever is in it.
fn quoted(name: &str) -> String {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || "-_./".contains(c);
    if name.chars().all(is_plain) {
        name.to_owned()
    } else {
        format!("'{}'", name.replace('\'', "'\\''"))
    }
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

pub(crate) fn will_not_count(jig: &str) -> String {
    format!(
        "jig {jig} was not proved within a day, or is out: this test will not count for the lot. First `runproof prove`."
    )
}

pub(crate) fn in_doubt(now: Decision) -> String {
    format!("it was decided, and by all that is known today it is {}", decision(now))
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

pub(crate) fn severity_due(due: Option<Severity>, used: Severity) -> Option<String> {
    match due {
        Some(due) if due == used => None,
        Some(due) => {
            Some(format!("{} inspection was due, {} was asked for", severity(due), severity(used)))
        }
        None => Some("inspection of its series had ended, and is taken up again".into()),
    }
}

fn listed(units: &Ranges) -> String {
    let count = units.0.len();
    if count <= LISTED {
        return units.to_string();
    }
    let first = Ranges(units.0[..LISTED].to_vec());
    let all = units.units().count();
    format!("{first} and others, {all} in all")
}

/// Percent, to three digits.
fn percent(fraction: f64) -> String {
    let percent = fraction * 100.0;
    let digits = match percent {
        p if p >= 99.95 => 0,
        p if p >= 9.995 => 1,
        p if p >= 0.995 => 2,
        p if p >= 0.0995 || p == 0.0 => 3,
        p if p >= 0.000_1 => 6,
        _ => return format!("{percent:.2e} %"),
    };
    // What is not all of it is not told as all of it.
    if digits == 0 && percent < 100.0 {
        return format!("{} %", (percent * 1e6).floor() / 1e6);
    }
    format!("{percent:.digits$} %")
}

fn many(count: usize, what: &str) -> String {
    match count {
        0 => format!("no {what}"),
        1 => format!("1 {what}"),
        _ => format!("{count} {what}s"),
    }
}

fn are(count: usize, what: &str) -> String {
    format!("{} {}", many(count, what), if count == 1 { "is" } else { "are" })
}

#[test]
fn percents_have_three_digits() {
    let told = [1.0, 0.999_9, 0.5, 0.2, 0.049_99, 0.000_123, 1e-8].map(percent);
    let expected = ["100 %", "99.99 %", "50.0 %", "20.0 %", "5.00 %", "0.012300 %", "1.00e-6 %"];
    assert_eq!(told, expected);
}
