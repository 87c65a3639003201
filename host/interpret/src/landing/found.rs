//! What colours and readings together say of how a run was landed.

use super::Landed;
use crate::judgement::{Conductor, Landing};
use crate::limits::ConductorName;

/// From the conductors as they were judged.
pub(crate) fn landing(landed: &Landed, conductors: &[Conductor]) -> Landing {
    let Some((near, far)) = landed.near.as_ref().zip(landed.far.as_ref()) else {
        return Landing::NotTold;
    };
    let mut each = Vec::new();
    for one in conductors {
        let Some(by_colour) = near.on(one.name).and_then(|colour| far.terminal(colour)) else {
            return Landing::OtherColours;
        };
        each.extend(arrives(one, conductors).map(|by_reading| Way {
            from: one.name,
            by_colour,
            by_reading,
        }));
    }
    found(&each)
}

/// One conductor's way from terminal to terminal.
struct Way {
    from: ConductorName,
    by_colour: ConductorName,
    by_reading: ConductorName,
}

fn found(each: &[Way]) -> Landing {
    let straight = each.iter().all(|way| way.by_reading == way.from);
    let colours_straight = each.iter().all(|way| way.by_colour == way.from);
    let agree = each.iter().all(|way| way.by_colour == way.by_reading);
    match (straight, colours_straight, agree) {
        _ if each.is_empty() => Landing::NotMeasured,
        (true, true, _) => Landing::LikeOnLike,
        (true, false, _) => Landing::WorksAsLanded,
        (false, true, _) => Landing::CoresChange,
        (false, false, true) => Landing::UnlikeTerminals,
        (false, false, false) => Landing::CoresChangeAndUnlikeTerminals,
    }
}

fn arrives(one: &Conductor, conductors: &[Conductor]) -> Option<ConductorName> {
    let reached = one.reaches?;
    conductors.iter().find(|other| other.terminal == reached).map(|found| found.name)
}
