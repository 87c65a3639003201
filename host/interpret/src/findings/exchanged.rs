//! Conductors that arrive at other terminals than their own, and clips that are on other wires.

use runproof_protocol::Post;

use crate::judgement::{ExplainsComplaint, Finding, FindingKind, Place, Placed, Severity};
use crate::limits::ConductorName::{self, DataMinus, DataPlus, Supply};
use crate::limits::{ConductorLimits, LimitSheet};

/// As one finding, from the terminal that each post's conductor arrives at.
pub(crate) fn exchange(
    reaches: &[Option<Post>; 4],
    sheet: &LimitSheet,
    placed: &Placed,
) -> Option<Finding> {
    let arrives = |one: &ConductorLimits| {
        let terminal = reaches[one.post.index()]?;
        sheet.conductors.iter().find(|other| other.terminal == terminal).map(|found| found.name)
    };
    let moved: Vec<&ConductorLimits> = sheet
        .conductors
        .iter()
        .filter(|one| arrives(one).is_some_and(|name| name != one.name))
        .collect();
    let pair_only = moved.len() == 2
        && moved.iter().all(|one| is_data(Some(one.name)) && is_data(arrives(one)));
    let kind = match moved.as_slice() {
        [] => return None,
        _ if pair_only => FindingKind::ReversedPair,
        _ => FindingKind::Crossed,
    };
    let mut finding = Finding::new(kind, Severity::Fail);
    // From whichever end it is powered.
    finding.supply_reaches_data = moved.iter().any(|one| {
        let (from, to) = (Some(one.name), arrives(one));
        from == Some(Supply) && is_data(to) || is_data(from) && to == Some(Supply)
    });
    finding.posts = moved.iter().map(|one| one.post).collect();
    finding.posts.sort();
    finding.explains_complaint = ExplainsComplaint::Yes;
    finding.places = places(placed);
    Some(finding)
}

/// What the wires that were held together have not cleared.
fn places(placed: &Placed) -> Vec<Place> {
    let mut places = vec![Place::Clips, Place::Run, Place::PlugEnd];
    places.retain(|place| match place {
        Place::Clips => placed.clips.is_none(),
        Place::Run => true,
        Place::PlugEnd => placed.plug_end.is_none(),
    });
    places
}

/// Clips at either end that are on other wires than they should be.
pub(crate) fn clips(placed: &Placed) -> impl Iterator<Item = Finding> {
    [(Place::Clips, placed.clips), (Place::PlugEnd, placed.plug_end)].into_iter().filter_map(
        |(place, on)| {
            let each = Post::ALL.into_iter().zip(on?);
            let moved: Vec<Post> = each.filter(|(wire, on)| wire != on).map(|(_, on)| on).collect();
            if moved.is_empty() {
                return None;
            }
            let mut finding = Finding::new(FindingKind::ClipsExchanged, Severity::Note);
            finding.explains_complaint = ExplainsComplaint::Unlikely;
            finding.posts = moved;
            finding.posts.sort();
            finding.places = vec![place];
            Some(finding)
        },
    )
}

fn is_data(name: Option<ConductorName>) -> bool {
    matches!(name, Some(DataPlus | DataMinus))
}
