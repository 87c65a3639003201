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

/// By terminal, the post that its wire is on.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Touched {
    /// Of the near end's wires.
    pub(crate) near: Option<Map>,
    /// Of the far end's, through the run.
    pub(crate) far: Option<Map>,
}

impl Touched {
    /// An obstacle where the touches of one end contradict each other.
    pub(crate) fn of(capture: &Capture) -> Result<Self, Obstacle> {
        Ok(Self { near: at(capture, End::Near)?, far: at(capture, End::Far)? })
    }

    /// Where each terminal's wire goes; `plug` is where the posts' conductors arrive at the plug.
    pub(crate) fn placed(&self, plug: Option<Map>) -> Placed {
        let run = self.near.zip(self.far).map(|(near, far)| near.then(&far.inverse()));
        let plug_end = self.far.zip(plug).map(|(far, plug)| far.then(&plug));
        let posts = |map: Option<Map>| map.map(|map| map.posts());
        Placed { clips: posts(self.near), run: posts(run), plug_end: posts(plug_end) }
    }
}

/// The one map that all touches of this end allow; none where they leave several.
fn at(capture: &Capture, end: End) -> Result<Option<Map>, Obstacle> {
    let mut met = Vec::new();
    for touch in capture.touches().filter(|touch| touch.end == end) {
        let Some(posts) = posts(capture, touch) else { return Ok(None) };
        met.push((touch.terminals, posts));
    }
    let allows = |map: &Map| met.iter().all(|(wires, posts)| joins(map, *wires, *posts));
    let mut maps = Map::all().filter(allows);
    let found = maps.next().ok_or_else(|| Obstacle::incomplete(Cause::Contradictory))?;
    Ok(maps.next().is_none().then_some(found))
}

/// Which met.
fn posts(capture: &Capture, touch: &Touch) -> Option<(Post, Post)> {
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
