//! How a jig was proved, in words.

use runproof_interpret::judgement::{FindingKind, Verdict};
use runproof_interpret::pieces::{Held, Miss, Piece, PieceSet};
use runproof_quality::charts::Rule;
use runproof_quality::proof::{Charted, Event, History, Out, PROOFS_BEFORE_LIMITS};
use runproof_records::jiff::Timestamp;
use runproof_records::jiff::civil::Date;
use runproof_records::jiff::tz::TimeZone;

use super::conductor;
use crate::recording;

pub(crate) const SIMULATED: &str =
    "this jig is a simulated one: what follows is true of no real one.";

/// So many days before it a date that is due is told.
const DUE_SOON_DAYS: i32 = 30;

pub(crate) fn clip_on(piece: &Piece, enter: bool) -> String {
    let enter = if enter { " Then press Enter; the key goes in when asked for." } else { "" };
    format!(
        "the piece `{}`, {}: the jig's clips on one end, the tail's on the other, same numbers, key out.{enter}",
        piece.name, piece.about
    )
}

pub(crate) fn reason(piece: &Piece, held: &Held) -> String {
    let name = &piece.name;
    let misses: Vec<String> = held.misses.iter().map(miss).collect();
    match held.verdict {
        Verdict::Pass => format!("the piece `{name}` reads as stated."),
        Verdict::Fail => {
            format!("the piece `{name}` reads otherwise than stated: {}.", misses.join("; "))
        }
        Verdict::CannotTell => {
            format!("the piece `{name}` could not be told: {}.", misses.join("; "))
        }
    }
}

fn miss(miss: &Miss) -> String {
    match miss {
        Miss::Verdict { told, stated } => {
            format!("the jig says {}, {} is right", super::verdict(*told), super::verdict(*stated))
        }
        Miss::NotFound { kind } => format!("{} is not found", kind_name(*kind)),
        Miss::FoundBeside { kind } => format!("{} is found, which it has not", kind_name(*kind)),
        Miss::Ohm { conductor: name, read_ohm, stated_ohm } => {
            let read = read_ohm.map_or_else(|| "no resistance".into(), |ohm| format!("{ohm:.2} Ω"));
            let stated = stated_ohm.map_or_else(
                || "none".into(),
                |[least, most]| format!("{least:.2} to {most:.2} Ω"),
            );
            format!("{} reads {read}, {stated} is right", conductor(*name))
        }
    }
}

/// As it is in files.
fn kind_name(kind: FindingKind) -> String {
    recording::name(&kind).replace('-', " ")
}

pub(crate) fn out(jig: &str, why: &Out) -> String {
    match why {
        Out::Piece { name } => format!(
            "jig {jig} is out: the piece `{name}` reads otherwise than stated. Nothing that it measured since it was last \
             proved is certain, and no lot is accepted by it."
        ),
        Out::BeyondItsChart { of } => format!(
            "jig {jig} is out: {of} is beyond three standard deviations of what it was, though within what is stated. \
             Nothing that it measured since it was last proved is certain, and no lot is accepted by it."
        ),
    }
}

/// The calibration of the pieces is overdue.
pub(crate) fn is_overdue(set: &PieceSet, now_s: i64) -> bool {
    let now = Timestamp::from_second(now_s).ok();
    let today = now.map(|now| now.to_zoned_datetime(TimeZone::system()).date());
    let due: Option<Date> = set.due.as_ref().and_then(|day| day.parse().ok());
    due.zip(today).is_some_and(|(due, today)| due < today)
}

pub(crate) fn proved(jig: &str, at_s: i64, now_s: i64) -> String {
    format!(
        "jig {jig} read every known piece as stated, {}; that holds for a day.",
        ago(at_s, now_s)
    )
}

pub(crate) fn due(jig: &str, at_s: i64, now_s: i64) -> String {
    format!(
        "jig {jig} was last proved {}, longer than a day ago: what it measures counts for no lot.",
        ago(at_s, now_s)
    )
}

pub(crate) fn not_yet(jig: &str) -> String {
    format!("jig {jig} was not proved by all pieces at one sitting yet.")
}

fn ago(at_s: i64, now_s: i64) -> String {
    let minutes = (now_s - at_s).max(0) / 60;
    let when = Timestamp::from_second(at_s).map_or_else(
        |_| String::new(),
        |at| format!(" ({})", at.to_zoned_datetime(TimeZone::system()).strftime("%Y-%m-%d %H:%M")),
    );
    match minutes {
        0 => format!("just now{when}"),
        1..120 => format!("{minutes} min ago{when}"),
        120..2880 => format!("{} h ago{when}", minutes / 60),
        _ => format!("{} days ago{when}", minutes / 1440),
    }
}

pub(crate) fn pieces(set: &PieceSet) -> String {
    let each: Vec<String> =
        set.pieces.iter().map(|piece| format!("{}, {}", piece.name, piece.about)).collect();
    format!("{}, version {}: {}", set.name, set.version, each.join("; "))
}

/// By the day that it is here.
pub(crate) fn calibrated(set: &PieceSet, now_s: u64) -> String {
    let now = i64::try_from(now_s).ok().and_then(|s| Timestamp::from_second(s).ok());
    let today = now.map(|now| now.to_zoned_datetime(TimeZone::system()).date());
    let since = set.calibrated.as_ref().map_or_else(
        || "the pieces' own resistances were not told to be measured by a calibrated instrument: this proves that the jig is as it was \
            designed, not that it is traceable".into(),
        |day| format!("the pieces were measured by a calibrated instrument on {day}"),
    );
    let due = set.due.as_ref().map_or_else(String::new, |day| {
        let date: Option<Date> = day.parse().ok();
        let left = date
            .zip(today)
            .and_then(|(due, today)| today.until(due).ok())
            .map(|span| span.get_days());
        match left {
            Some(days) if days < 0 => format!("; that was due again on {day}: OVERDUE"),
            Some(days) if days <= DUE_SOON_DAYS => format!("; due again on {day}, in {days} days"),
            Some(_) => format!("; due again on {day}"),
            None => format!("; due again on {day}, which is no day of any calendar"),
        }
    });
    since + &due
}

pub(crate) fn under_way(done: &[String], set: &PieceSet) -> String {
    let left: Vec<&str> = set
        .pieces
        .iter()
        .map(|one| one.name.as_str())
        .filter(|name| !done.iter().any(|one| one == name))
        .collect();
    format!("{} as stated; left of this sitting: {}", done.join(", "), left.join(", "))
}

pub(crate) fn proofs(history: &History) -> String {
    let outs = history.events.all().iter().filter(|one| matches!(one, Event::Out { .. })).count();
    let proofs = history.proofs.len();
    let more = PROOFS_BEFORE_LIMITS.saturating_sub(proofs);
    let charts =
        if more > 0 { format!("; charts have limits after {more} more") } else { String::new() };
    format!("{proofs} in which every piece was as stated; found out {outs} times{charts}")
}

pub(crate) fn chart(chart: &Charted, set: &PieceSet) -> String {
    let mut all = vec![];
    if let Some((_, ohm)) = chart.points.last() {
        all.push(format!("{}: {:.1} mΩ", chart.of, ohm * 1e3));
    }
    if let Some(limits) = &chart.limits {
        let [least, most] = limits.three_sigma();
        all.push(format!(
            "was {:.1} mΩ, three sigma {:.1} to {:.1}",
            limits.centre_ohm * 1e3,
            least * 1e3,
            most * 1e3
        ));
    }
    if let Some((more_ohm, proofs)) = from_calibration(chart, set) {
        let of = if proofs == 1 { "".into() } else { format!(", mean of the last {proofs}") };
        all.push(format!("{:+.1} mΩ from its calibration{of}", more_ohm * 1e3));
    }
    if !chart.newest_breaks.is_empty() {
        let rules: Vec<&str> = chart.newest_breaks.iter().map(|one| rule(*one)).collect();
        all.push(format!(
            "NOTE {} (rules of Western Electric and NIST/SEMATECH 6.3.2)",
            rules.join(", ")
        ));
    }
    if let Some(drift) = chart.drift_ohm_a_day.filter(|drift| drift.is_shown()) {
        let month = 30.0 * 1e3;
        let (least, most) = (drift.interval.least * month, drift.interval.most * month);
        all.push(format!(
            "creeps by {:.1} mΩ a month ({least:.1} to {most:.1})",
            drift.value * month
        ));
    }
    all.join("; ")
}

/// So many of the last proofs stand for how the jig reads now. (judgement)
const NOW: usize = 5;

/// By how many ohms a number reads more than was calibrated, in the mean of how many of the last proofs.
pub(crate) fn from_calibration(chart: &Charted, set: &PieceSet) -> Option<(f64, usize)> {
    let calibrated = set.pieces.iter().find_map(|piece| {
        let each = piece.calibrated_ohm.iter();
        let of = |name| format!("{}, {}", piece.name, recording::name(&name));
        each.filter_map(|(name, ohm)| (of(*name) == chart.of).then_some(*ohm)).next()
    })?;
    let last: Vec<f64> = chart.points.iter().rev().take(NOW).map(|(_, ohm)| *ohm).collect();
    let proofs = last.len();
    (proofs > 0).then(|| (last.iter().sum::<f64>() / proofs as f64 - calibrated, proofs))
}

fn rule(rule: Rule) -> &'static str {
    match rule {
        Rule::OneBeyondThreeSigma => "a point beyond three sigma",
        Rule::TwoOfThreeBeyondTwoSigma => "two of three beyond two sigma",
        Rule::FourOfFiveBeyondOneSigma => "four of five beyond one sigma",
        Rule::EightOnOneSide => "eight in a row on one side",
        Rule::SixInATrend => "six in a trend",
        Rule::FourteenByTurns => "fourteen up and down by turns",
    }
}

pub(crate) fn curve(chart: &Charted) -> String {
    let limits = if chart.limits.is_some() {
        ", with centre and three sigma of the first proofs"
    } else {
        ""
    };
    format!("{}, milliohms, proof after proof{limits}.", chart.of)
}

pub(crate) fn doubted(count: usize, was_proved: bool) -> String {
    let since = if was_proved {
        "after this jig was last proved and before it was found out"
    } else {
        "by this jig, which was never proved"
    };
    match count {
        0 => format!("nothing is on record that was measured {since}."),
        1 => format!("one test was measured {since}; measure it again:"),
        _ => format!("{count} tests were measured {since}; measure them again:"),
    }
}

pub(crate) fn next(last: Option<&Event>) -> &'static str {
    match last {
        Some(Event::Out { .. }) => {
            "clean the jaws, clip the piece on again and prove anew; try the other pieces; then `runproof zero`. If it stays so, \
             take the jig out of use until it is found why"
        }
        Some(Event::Proved { .. }) => "prove it again within a day, with `runproof prove`",
        None => "`runproof prove` with every piece, one shortly after the other",
    }
}
