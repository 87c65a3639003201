//! Which clip each wire is on, from wires that were held together at either end.

use runproof_protocol::{Phase, Post};

use crate::capture::{Capture, End, Touch};
use crate::glance::{Glance, JOINED_BELOW_OHM, glance};
use crate::judgement::{Cause, Placed};
use crate::map::Map;
use crate::obstacle::Obstacle;

/// Wires that touch read at most this part of what stood between them before: through the end plug
/// less changes, when two others are touched. [judgement]
const TOUCHED_BELOW: f64 = 0.3;

/// Two touches with one wire in common tell a map, four in which each wire is twice also that no wire was
/// mistaken for another in one of them: a slip must not clear a run that is crossed.
const TOUCHES_LEAST: usize = 4;

/// By terminal, the post that its wire is on.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Touched {
    /// Of the near end's wires.
    pub(crate) near: Option<Map>,
    /// Of the far end's, through the run.
    pub(crate) far: Option<Map>,
    /// At an end with too few touches they show all the same that not all is straight.
    pub(crate) unfinished: bool,
}

impl Touched {
    /// An obstacle where the touches of one end contradict each other.
    pub(crate) fn of(capture: &Capture) -> Result<Self, Obstacle> {
        let (near, far) = (at(capture, End::Near)?, at(capture, End::Far)?);
        let whole = |allowed: &Allowed| allowed.maps.len() == 1 && allowed.touches >= TOUCHES_LEAST;
        let map = |allowed: &Allowed| allowed.maps.first().copied().filter(|_| whole(allowed));
        // Were the run straight, a far wire would be on the post of its near end.
        let clips = map(&near).unwrap_or(Map::STRAIGHT);
        let unfinished =
            |allowed: &Allowed, straight: &Map| !whole(allowed) && !allowed.maps.contains(straight);
        let any_unfinished = unfinished(&near, &Map::STRAIGHT) || unfinished(&far, &clips);
        Ok(Self { near: map(&near), far: map(&far), unfinished: any_unfinished })
    }

    /// Where each terminal's wire goes; `plug` is where the posts' conductors arrive at the plug.
    pub(crate) fn placed(&self, plug: Option<Map>) -> Placed {
        let run = self.near.zip(self.far).map(|(near, far)| near.then(&far.inverse()));
        let plug_end = self.far.zip(plug).map(|(far, plug)| far.then(&plug));
        let posts = |map: Option<Map>| map.map(|map| map.posts());
        Placed { clips: posts(self.near), run: posts(run), plug_end: posts(plug_end) }
    }
}

/// The maps that the touches of one end allow.
struct Allowed {
    maps: Vec<Map>,
    touches: usize,
}

/// Of this end; a touch that shows no pair, or several, is as if nobody had touched.
fn at(capture: &Capture, end: End) -> Result<Allowed, Obstacle> {
    let touches = capture.touches().filter(|touch| touch.end == end);
    let met: Vec<_> = touches
        .filter_map(|touch| Some((touch.terminals, posts_touched(capture, touch)?)))
        .collect();
    let allows = |map: &Map| met.iter().all(|(wires, posts)| joins(map, *wires, *posts));
    let maps: Vec<Map> = Map::all().filter(allows).collect();
    if maps.is_empty() {
        return Err(Obstacle::incomplete(Cause::TouchesDisagree));
    }
    Ok(Allowed { maps, touches: met.len() })
}

/// Which met in this touch of the capture; none where no two did, or more than two.
#[must_use]
pub fn posts_touched(capture: &Capture, touch: &Touch) -> Option<(Post, Post)> {
    let open = || glance(capture, Phase::Open).ok();
    let before = match touch.end {
        End::Near => glance(capture, Phase::Plug).ok().or_else(open),
        End::Far => open(),
    };
    touching(&Glance::while_touched(touch), &before?)
}

fn joins(map: &Map, [a, b]: [Post; 2], posts: (Post, Post)) -> bool {
    let [a, b] = [map.reaches(a), map.reaches(b)];
    (a.min(b), a.max(b)) == posts
}

/// The two posts whose wires are held together now and were not before; none where no two are, or
/// more than two.
#[must_use]
pub fn touching(now: &Glance, before: &Glance) -> Option<(Post, Post)> {
    let pairs = Post::PAIRS.into_iter().zip(now.ohm.into_iter().zip(before.ohm));
    let mut touched = pairs.filter(|(_, (now_ohm, before_ohm))| {
        *now_ohm < JOINED_BELOW_OHM && *now_ohm <= TOUCHED_BELOW * before_ohm
    });
    let (pair, _) = touched.next()?;
    touched.next().is_none().then_some(pair)
}
