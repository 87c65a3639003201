//! What was found, each in a sentence or two.

use runproof_interpret::flex::bits::{BAUDS, Corrupts};
use runproof_interpret::judgement::{FlexFinding, FlexFindingKind};
use runproof_protocol::Phase;

use super::Names;
use super::numbers::{duration, ohms, times};

pub(crate) fn finding(one: &FlexFinding, names: &Names) -> String {
    use FlexFindingKind as Kind;
    let lane = one.lane.map(|lane| names.lane(lane)).unwrap_or_else(|| "the run".into());
    let often = one.count.map_or_else(|| "more than once".into(), times);
    let longest = one.longest_us.map(duration);
    let longest = longest.map_or_else(String::new, |told| match one.count {
        Some(1) => format!(", for {told}"),
        _ => format!(", the longest for {told}"),
    });
    match one.kind {
        Kind::Breaks => {
            format!("{lane} broke {often}{longest}.{}", data(one.corrupts))
        }
        Kind::Touches => {
            format!("{lane} touched {often}{longest}.{}", data(one.corrupts))
        }
        Kind::Steps => {
            let most = one.ohm.map(|ohm| format!(", by up to {}", ohms(ohm)));
            format!(
                "{lane} rose {often}{}{longest}, and went on to carry: a joint that loosens or warms.",
                most.unwrap_or_default()
            )
        }
        Kind::Untold => format!(
            "all stopped to carry at once, or none told from another, {often}{longest}: the end plug was moved, a clip \
             came off, or both conductors of one side broke."
        ),
        Kind::NotWatched => {
            "nothing was watched: the jig did not begin, or was ended before it knew how the run is.".into()
        }
        Kind::NotWhole => "part of what was kept of the watch is missing: the file was cut off or changed.".into(),
        Kind::NeverGood => match one.phase {
            Some(Phase::Flex) => format!(
                "{lane} did not carry once: it is broken from the beginning, or a clip is off. That is no matter of \
                 flexing."
            ),
            _ => format!(
                "{lane} touched from the beginning to the end: a short, or the end plug is in. That is no matter of \
                 flexing."
            ),
        },
        Kind::CatcherContradicts => format!(
            "the jig's edge catcher and its converters said the opposite of a conductor{}: do not rely on this watch.",
            one.longest_us.map(|us| format!(" for {}", duration(us))).unwrap_or_default()
        ),
        Kind::Gaps => format!(
            "{} were not watched, in {}: what happened then is not known.",
            one.longest_us.map_or_else(|| "parts of it".into(), duration),
            one.count.map_or_else(|| "several gaps".into(), |count| match count {
                1 => "one gap".into(),
                many => format!("{many} gaps"),
            })
        ),
        Kind::Hum => match one.ohm {
            Some(ohm) => format!(
                "hum or noise on the run hides rises of less than {}; breaks are seen all the same.",
                ohms(ohm)
            ),
            None => {
                "rises could not be told, for hum or noise, or as the run is not whole at rest; breaks are seen all the \
                 same."
                    .into()
            }
        },
        _ => "something that this version has no words for.".into(),
    }
}

/// "Data that the longest meets is corrupted at 19200 and 38400 bit/s, and can be at 9600."
fn data(corrupts: Option<[Corrupts; 3]>) -> String {
    let Some(corrupts) = corrupts else { return String::new() };
    let at = |what: Corrupts| -> Vec<String> {
        let rates = BAUDS.into_iter().zip(corrupts);
        rates.filter(|(_, one)| *one == what).map(|(baud, _)| baud.to_string()).collect()
    };
    let (will, can) = (listed(&at(Corrupts::Will)), listed(&at(Corrupts::Can)));
    match (will.as_str(), can.as_str()) {
        ("", "") => " Too short to corrupt data of up to 38400 bit/s.".into(),
        (will, "") => format!(" Data that the longest meets is corrupted at {will} bit/s."),
        ("", can) => format!(" Data that the longest meets can be corrupted at {can} bit/s."),
        (will, can) => format!(
            " Data that the longest meets is corrupted at {will} bit/s, and can be at {can}."
        ),
    }
}

fn listed(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
