//! What a sync copied, in words and as JSON.

use runproof_sync::{Address, Refusal, Refused, Synced};
use serde_json::json;

/// Of very many the rest is in the JSON.
const REFUSED_MAX: usize = 20;

pub(crate) fn text(synced: &Synced, server: &Address) -> String {
    let mut lines = vec![format!("With {server}: {}.", copied(synced))];
    lines.extend(synced.refused.iter().take(REFUSED_MAX).flat_map(refused));
    if synced.refused.len() > REFUSED_MAX {
        let more = synced.refused.len() - REFUSED_MAX;
        lines.push(format!("and {more} more that were not copied; --json lists all"));
    }
    super::words::printable(&format!("{}\n", lines.join("\n")))
}

/// Where it ended before its time.
pub(crate) fn until_then(synced: &Synced) -> String {
    if *synced == Synced::default() {
        return String::new();
    }
    format!("Until then: {}; that stays.\n", copied(synced))
}

fn copied(synced: &Synced) -> String {
    let Synced { sent, received, details_sent, details_received, .. } = synced;
    let records = match (sent, received) {
        (0, 0) if (*details_sent, *details_received) == (0, 0) => {
            return "nothing new on either side".into();
        }
        (sent, received) => format!("{} sent, {received} received", counted(*sent, "record")),
    };
    match (details_sent, details_received) {
        (0, 0) => records,
        (sent, received) => format!(
            "{records};\nof records that were on both sides, {} sent, {received} received",
            counted(*sent, "remark")
        ),
    }
}

fn counted(count: u64, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

fn refused(refused: &Refused) -> Vec<String> {
    let of = refused.detail.map(|detail| format!("a remark on it, {detail}:\n  "));
    vec![
        format!("not copied: record {}", refused.record),
        format!("  {}{}", of.unwrap_or_default(), why(&refused.why)),
    ]
}

fn why(why: &Refusal) -> String {
    match why {
        Refusal::Unlike => "both sides have it, and not the same: one was changed".into(),
        Refusal::Changed => "it was changed on the server since it was sent".into(),
        Refusal::SaysOtherwise => "it says otherwise than what follows from its own capture".into(),
        Refusal::Later(word) => format!("a later version wrote it: `{word}` is not known here"),
        Refusal::ZeroByte => "a text in it has a zero byte, which the database cannot keep".into(),
        Refusal::NotTaken(said) => format!("the database did not take it: {said}"),
        _ => "it could not be".into(),
    }
}

pub(crate) fn json(synced: &Synced, server: &Address) -> String {
    let refused = synced.refused.iter().map(|one| {
        json!({ "record": one.record, "detail": one.detail, "kind": kind(&one.why), "why": why(&one.why) })
    });
    let told = json!({
        "runproof_sync": 1,
        "server": server.to_string(),
        "sent": synced.sent,
        "received": synced.received,
        "details_sent": synced.details_sent,
        "details_received": synced.details_received,
        "refused": refused.collect::<Vec<_>>(),
    });
    format!("{told}\n")
}

fn kind(why: &Refusal) -> &'static str {
    match why {
        Refusal::Unlike => "unlike",
        Refusal::Changed => "changed",
        Refusal::SaysOtherwise => "says-otherwise",
        Refusal::Later(_) => "later",
        Refusal::ZeroByte => "zero-byte",
        Refusal::NotTaken(_) => "not-taken",
        _ => "other",
    }
}
