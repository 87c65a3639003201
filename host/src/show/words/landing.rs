//! How the run was landed, and where each wire goes when it is landed again.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{
    Cause, Conductor, Finding, FindingKind, Landing, Place, Severity,
};
use runproof_interpret::landing::{Colours, Landed};
use runproof_interpret::limits::ConductorName;

use super::{at, conductor};

/// What colours and readings say together; none where the colours were not told.
pub(crate) fn landing(judgement: &Judgement, landed: &Landed) -> Option<&'static str> {
    let placed = crossed_places(judgement) == [Place::Run];
    Some(match judgement.landing {
        Landing::NotTold => match (&landed.near, &landed.far) {
            (Some(_), None) => {
                "only the colours here were told; with --far-colours as well it can be said how the run \
                 was landed."
            }
            (None, Some(_)) => {
                "only the colours at the far end were told; with --near-colours as well it can be said \
                 how the run was landed."
            }
            _ => return None,
        },
        Landing::NotMeasured => {
            "where the conductors arrive is not known, so their colours say nothing."
        }
        Landing::OtherColours => {
            "the two ends have not the same colours: another cable is joined in, or one end was read \
             off wrong."
        }
        Landing::LikeOnLike => "like colours on like terminals.",
        Landing::WorksAsLanded if judgement.placed.run.is_none() => return None,
        Landing::WorksAsLanded => {
            "colours are on unlike terminals at the two ends, and the conductors arrive right: it \
             works as it was landed. Cores change colour on the way."
        }
        Landing::UnlikeTerminals => {
            "the colours are crossed as the conductors are: it was landed on unlike terminals."
        }
        Landing::CoresChange if placed => {
            "like colours are on like terminals, and the conductors are crossed: cores change at a \
             splice on the way."
        }
        Landing::CoresChange => {
            "like colours are on like terminals, and the conductors are crossed: clips are on other \
             wires, or cores change at a splice on the way."
        }
        Landing::CoresChangeAndUnlikeTerminals => {
            "the colours are crossed in another way than the conductors: it was landed on unlike \
             terminals, and cores change at a splice on the way or clips are on other wires."
        }
    })
}

/// Where the wires go, end by end; nothing where it is not known where they arrive, or where the run is
/// not fit to be landed.
pub(crate) fn landing_again(judgement: &Judgement, landed: &Landed) -> Vec<(&'static str, String)> {
    let conductors = &judgement.conductors;
    let reached: Option<Vec<_>> = conductors.iter().map(|one| one.reaches).collect();
    let unfit = |one: &Finding| {
        matches!(
            one.kind,
            FindingKind::Hazard | FindingKind::NotLifted | FindingKind::ColoursDisagree
        ) || matches!(one.cause, Some(Cause::TouchesDisagree | Cause::TouchesUnfinished))
    };
    if conductors.is_empty() || reached.is_none() || judgement.findings.iter().any(unfit) {
        return vec![];
    }
    let faulty = |one: &Finding| one.severity != Severity::Note && !one.kind.is_exchange();
    let is_faulty = judgement.findings.iter().any(faulty);
    let moved: Vec<&Conductor> =
        conductors.iter().filter(|one| one.reaches != Some(one.terminal)).collect();
    let near = conductors.iter().map(|one| wire(one.name, landed.near.as_ref()));
    let when = match (is_faulty, moved.is_empty()) {
        (false, _) => "",
        (true, true) => "once the run passes: ",
        (true, false) => "once the rest is put right: ",
    };
    let here = format!("{when}each on the terminal that it came off: {}.", list(near));
    if moved.is_empty() {
        let far = conductors.iter().map(|one| wire(one.name, landed.far.as_ref()));
        let there = format!("the same: {}.", list(far));
        return vec![("land here", here), ("land far end", there)];
    }
    let goes = moved.iter().map(|one| {
        let came_off = one
            .reaches
            .and_then(|reached| at(reached, judgement))
            .map_or("unknown".into(), |other| wire(other.name, landed.far.as_ref()));
        format!("on {} the one that came off {came_off}", conductor(one.name))
    });
    let goes = list(goes);
    let first = match (crossed_places(judgement), is_faulty) {
        ([Place::Run], false) => "",
        ([Place::Run], true) => "once the rest is put right: ",
        (_, false) => "once the clips are checked, and if they are right: ",
        (_, true) => {
            "once the rest is put right and the clips are checked, and if they are right: "
        }
    };
    let rest = if moved.len() < conductors.len() { "; the others as they came off" } else { "" };
    vec![("land here", here), ("land far end", format!("{first}{goes}{rest}."))]
}

/// Where what is crossed may lie.
fn crossed_places(judgement: &Judgement) -> &[Place] {
    let crossed = judgement.findings.iter().find(|one| one.kind.is_exchange());
    crossed.map_or(&[], |one| one.places.as_slice())
}

/// "data+ (white)".
pub(super) fn wire(name: ConductorName, colours: Option<&Colours>) -> String {
    match colours.and_then(|colours| colours.on(name)) {
        Some(colour) => format!("{} ({colour})", conductor(name)),
        None => conductor(name).into(),
    }
}

fn list(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join(", ")
}
