//! What is exchanged, and where.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{Finding, Place};
use runproof_protocol::Post;

use super::{arrival, conductor, terminal};

/// "data− arrives at supply, supply arrives at data−. …"
pub(super) fn crossed(finding: &Finding, judgement: &Judgement) -> String {
    let each = arrivals(&finding.posts, judgement, ", ");
    let terminals: Option<Vec<Post>> = judgement.conductors.iter().map(|one| one.reaches).collect();
    let block = terminals.filter(|_| finding.places != [Place::Run]).and_then(|map| block(&map));
    let so =
        block.map_or(String::new(), |how| format!("So it is when the clips at one end {how}. "));
    format!("{each}. {so}{}", lies(&finding.places))
}

/// "data− arrives at supply, supply arrives at data−".
pub(super) fn arrivals(posts: &[Post], judgement: &Judgement, between: &str) -> String {
    let moved = judgement.conductors.iter().filter(|one| posts.contains(&one.post));
    let each =
        moved.map(|one| format!("{} arrives at {}", conductor(one.name), arrival(one, judgement)));
    each.collect::<Vec<_>>().join(between)
}

/// These are exchanged among each other; else where another one arrives is not known.
pub(super) fn is_whole(posts: &[Post], judgement: &Judgement) -> bool {
    let moved = || judgement.conductors.iter().filter(|one| posts.contains(&one.post));
    moved().all(|one| moved().any(|other| other.reaches == Some(one.terminal)))
}

/// Where an exchange lies.
pub(super) fn lies(places: &[Place]) -> &'static str {
    match places {
        [Place::Run] => {
            "Not at the clips, which the touched wires make known: in the cable, at a splice, or in how \
             it was landed."
        }
        [Place::Run, Place::PlugEnd] => {
            "Not at the clips here, which the touched wires make known: in the run, or at the clips at the far end."
        }
        [Place::Clips, Place::Run] => {
            "Not at the clips at the far end: at the clips here, or in the run."
        }
        _ => "Not yet placed: at the clips here, in the run, or at the clips at the far end.",
    }
}

/// "clips 1 and 2 were exchanged: …"
pub(super) fn clips(finding: &Finding, judgement: &Judgement) -> String {
    let plug_end = finding.places == [Place::PlugEnd];
    let placed = &judgement.placed;
    let (on, whose) = if plug_end {
        (placed.plug_end, "the end plug's clips")
    } else {
        (placed.clips, "the clips here")
    };
    let on = on.unwrap_or(Post::ALL);
    let how = match (block(&on), finding.posts.as_slice()) {
        (Some(how), _) => format!("{whose} {how}"),
        (None, [a, b]) => format!("{whose} {a} and {b} are exchanged"),
        (None, _) => {
            let each = Post::ALL.into_iter().zip(on).filter(|(wire, on)| wire != on);
            let each =
                each.map(|(wire, on)| format!("{on} is on {}'s wire", terminal(wire, judgement)));
            match each.collect::<Vec<_>>() {
                each if each.is_empty() => format!("{whose} are exchanged"),
                each => format!("{whose}: {}", each.join(", ")),
            }
        }
    };
    format!(
        "{how}, as the wires that were touched show: it is taken into account, there is no need to \
         re-clip."
    )
}

/// What all four clips at one end do together when they are held as a block; none for another map.
fn block(map: &[Post]) -> Option<&'static str> {
    match map.iter().map(|post| post.number()).collect::<Vec<_>>().as_slice() {
        [4, 3, 2, 1] => Some("are on upside down"),
        [2, 3, 4, 1] | [4, 1, 2, 3] => Some("all sit one wire too far"),
        _ => None,
    }
}
