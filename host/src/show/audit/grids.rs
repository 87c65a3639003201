//! The tables of an audit.

use runproof_quality::proof::Event;
use runproof_records::jiff::Timestamp;
use runproof_records::{Key, Listed, Used};

use super::moment;
use crate::shop::audit::{Audit, Count, JudgedThen, is_void};
use crate::show::document::{Cell, Grid, Weight};
use crate::show::lot::headline;
use crate::show::records::{kind, told};
use crate::show::words::audit as said;
use crate::show::words::lot::closed;

fn grid(weight: Weight, headings: &[&'static str], rows: Vec<Vec<Cell>>) -> Grid {
    Grid { weight, caption: None, headings: headings.to_vec(), rows }
}

fn at(second: i64) -> String {
    moment(Timestamp::from_second(second).ok())
}

pub(super) fn events(audit: &Audit) -> Grid {
    let row = |event: &Event| match event {
        Event::Proved { at_s } => {
            vec![at(*at_s).into(), "proved".into(), "every known piece read as stated".into()]
        }
        Event::Out { at_s, why } => vec![at(*at_s).into(), "OUT".into(), said::out(why).into()],
    };
    grid(Weight::Plain, &["when", "jig", "why"], audit.events().map(row).collect())
}

pub(super) fn zeros(audit: &Audit) -> Grid {
    let row = |one: &Listed| {
        let void = told(one).map_or_else(String::new, |told| format!(" {told}"));
        vec![
            one.number.to_string().into(),
            moment(one.taken).into(),
            format!("{}{void}", one.said).into(),
        ]
    };
    grid(Weight::Plain, &["record", "taken", "what"], audit.zeros.iter().map(row).collect())
}

pub(super) fn counts(audit: &Audit) -> Grid {
    let row = |(of, count)| {
        let Count { pass, fail, cannot_tell, void } = count;
        let numbers = [pass, fail, cannot_tell, void].map(|count| Cell::from(count.to_string()));
        [Cell::from(kind(of))].into_iter().chain(numbers).collect()
    };
    let headings = ["test", "pass", "fail", "cannot tell", "void"];
    grid(Weight::Plain, &headings, audit.counts().into_iter().map(row).collect())
}

/// What failed and counts, with all that was said of it.
pub(super) fn rejected(audit: &Audit) -> Grid {
    let failed = audit.judged.iter().map(|one| &one.test).filter(|test| {
        !is_void(test) && test.verdict == Some(runproof_interpret::judgement::Verdict::Fail)
    });
    let row = |test: &Listed| {
        let notes = test.details.iter().filter(|one| one.key == Key::Note);
        let notes: Vec<&str> = notes.map(|one| one.value.as_str()).collect();
        let became =
            if notes.is_empty() { said::NOTHING_SAID.to_owned() } else { notes.join("; ") };
        let of = told(test).map_or_else(String::new, |told| format!(" {told}"));
        vec![test.number.to_string().into(), format!("{}{of}", test.said).into(), became.into()]
    };
    grid(Weight::Plain, &["record", "what", "said of it"], failed.map(row).collect())
}

pub(super) fn lots(audit: &Audit) -> Grid {
    let row = |lot: &crate::shop::lots::Lot| {
        let (word, why) = headline(lot);
        let disposition = lot.closed.as_ref().map_or_else(|| said::NOT_CLOSED.to_owned(), closed);
        vec![lot.name.as_str().into(), format!("{word}: {why}").into(), disposition.into()]
    };
    let headings = ["lot", "how it stands", "disposition"];
    grid(Weight::Plain, &headings, audit.lots.iter().map(row).collect())
}

pub(super) fn versions(audit: &Audit) -> Grid {
    let row = |used: &Used<runproof_records::Versions>| {
        let what = &used.what;
        let [first, last] = used.between.map(|at| Cell::from(moment(Some(at))));
        let count = Cell::from(used.records.to_string());
        let made_by = [&what.program, &what.firmware, &what.board];
        made_by
            .map(|one| Cell::from(one.as_str()))
            .into_iter()
            .chain([count, first, last])
            .collect()
    };
    let headings = ["program", "firmware", "board", "records", "first", "last"];
    grid(Weight::Fine, &headings, audit.versions.iter().map(row).collect())
}

pub(super) fn sheets(audit: &Audit) -> Grid {
    let row = |used: &Used<runproof_records::UsedSheet>| {
        let what = &used.what;
        vec![
            what.name.as_str().into(),
            what.version.as_str().into(),
            used.records.to_string().into(),
            what.sha256.as_str().into(),
        ]
    };
    let headings = ["sheet", "version", "records", "SHA-256 of its text"];
    grid(Weight::Fine, &headings, audit.sheets.iter().map(row).collect())
}

pub(super) fn tests(audit: &Audit) -> Grid {
    let row = |JudgedThen { test, jig_was_right }: &JudgedThen| {
        let jig = if *jig_was_right { said::RIGHT } else { said::NOT_RIGHT };
        let of = told(test).map_or_else(String::new, |told| format!(" {told}"));
        let verdict = test.verdict.map(|verdict| (verdict, is_void(test)));
        vec![
            test.number.to_string().into(),
            moment(test.taken).into(),
            kind(test.kind).into(),
            jig.into(),
            Cell { verdict, text: format!("{}{of}", test.said), to: None },
        ]
    };
    let headings = ["record", "taken", "test", "jig was", "verdict"];
    grid(Weight::Fine, &headings, audit.judged.iter().map(row).collect())
}

pub(super) fn evidence(audit: &Audit) -> Grid {
    let tests = audit.judged.iter().map(|one| &one.test);
    let row = |test: &Listed| {
        vec![
            test.number.to_string().into(),
            test.id.to_string().into(),
            test.capture_sha256.as_str().into(),
        ]
    };
    let headings = ["record", "id", "SHA-256 of its capture"];
    grid(Weight::Fine, &headings, tests.map(row).collect())
}
