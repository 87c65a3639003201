//! Sentences about what joins conductors that should have nothing between them.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{Cause, Finding, Isolation};

use super::names;

/// Two runs of wire and bare metal have less. (judgement)
const TOUCHES_BELOW_OHM: f64 = 50.0;

/// A short, by how many ohms.
pub(super) fn short(finding: &Finding, judgement: &Judgement) -> String {
    let who = names(&finding.posts, judgement);
    let ohm = ohms(finding.value);
    if finding.value.is_some_and(|ohm| ohm >= TOUCHES_BELOW_OHM) {
        return format!(
            "{ohm} between {who} with the end plug out: more than metal that touches has. A poor or \
             wet short, or a device within the run."
        );
    }
    format!(
        "{who} touch: {ohm} between them with the end plug out. A staple, a nail, bare ends that \
         meet, or a crushed jacket."
    )
}

/// A path of many ohms.
pub(super) fn leakage(finding: &Finding, judgement: &Judgement) -> String {
    let who = names(&finding.posts, judgement);
    format!(
        "{} between {who} with the end plug out: damp in a splice or a terminal, or a damaged jacket.",
        ohms(finding.value)
    )
}

/// What seems to be still landed; none for a cause of another kind.
pub(super) fn still_landed(finding: &Finding, judgement: &Judgement) -> Option<String> {
    let who = names(&finding.posts, judgement);
    let ohm = ohms(finding.value);
    Some(match finding.cause? {
        Cause::Winding => format!(
            "{ohm} between {who}: a transformer that is still landed, or a short. One reading cannot \
             tell the two apart."
        ),
        Cause::Terminator => format!(
            "{ohm} between {who}: as a terminator reads, or two of them; still landed, or a short."
        ),
        Cause::Receiver => format!(
            "about {ohm} from either data conductor to common: a receiver that is still landed, or \
             damp."
        ),
        Cause::NotPlain => format!(
            "what is between {who} is no plain resistance: a rectifier with a capacitor behind it, or \
             another device that is still landed."
        ),
        Cause::NotLifted => {
            format!("{ohm} between {who}: a fault, or what hangs on the end that is not lifted.")
        }
        Cause::Source => format!("a source of voltage is on {who}."),
        _ => return None,
    })
}

/// "between any two at least 30 MΩ", or the least that was found.
pub(in crate::show) fn isolation(isolation: &[Isolation], judgement: &Judgement) -> Option<String> {
    if judgement.to_earth.is_some() {
        return None; // its rows say so
    }
    let by_ohm = |a: &&Isolation, b: &&Isolation| a.resistance_ohm.total_cmp(&b.resistance_ohm);
    let least = isolation.iter().min_by(by_ohm)?;
    let ohm = ohms(Some(least.resistance_ohm));
    Some(if least.at_least {
        format!("at least {ohm} between any two conductors.")
    } else {
        let who = names(&least.posts, judgement);
        format!("the least is {ohm}, between {who}.")
    })
}

/// With as many digits as can be read aloud.
pub(super) fn ohms(ohm: Option<f64>) -> String {
    match ohm {
        None => "an unknown resistance".into(),
        Some(ohm) if ohm >= 1e6 => format!("{:.1} MΩ", ohm / 1e6),
        Some(ohm) if ohm >= 100e3 => format!("{:.0} kΩ", ohm / 1e3),
        Some(ohm) if ohm >= 1e3 => format!("{:.1} kΩ", ohm / 1e3),
        Some(ohm) => format!("{ohm:.2} Ω").replace('-', "−"),
    }
}

#[test]
fn ohms_can_be_read_aloud() {
    for (ohm, said) in
        [(0.456, "0.46 Ω"), (4_700.0, "4.7 kΩ"), (401_234.0, "401 kΩ"), (9e6, "9.0 MΩ")]
    {
        assert_eq!(ohms(Some(ohm)), said);
    }
}
