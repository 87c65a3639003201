//! The most that can be between any two posts, and whether that is a hazard. Wrong only towards too much.

use runproof_protocol::Post;

use super::fit::Sample;
use super::front::made_of;
use super::look::CHANNELS;
use super::seen::Seen;
use super::window::Window;
use crate::judgement::{AtMost, Largest};

/// More than this alternating, rms, is a hazard (NFPA 70, Class 2; IEC 61010-1, normal condition).
const ALTERNATING_V: f64 = 30.0;
/// More than this direct is one: the peak of the same.
const DIRECT_V: f64 = 42.0;
/// Of both together: their shares of these; a supply of 29 V beside a bias of 3 V is none. [judgement]
const TOGETHER: f64 = 1.1;
/// Of a single reading: it may be beside the peak. [judgement]
const SEEN: f64 = 0.7;
/// What the fit leaves may be a wave that the conversion weakens. [judgement]
const WEAKENED: f64 = 1.5;

/// Two that are as near as this have the same voltage. [judgement]
const ALIKE: f64 = 0.02;

/// The bounds of two posts, in one step.
#[derive(Clone, Copy, Debug)]
struct Bound {
    alternating_v: f64,
    direct_v: f64,
    peak_v: f64,
}

impl Bound {
    fn of(window: &Window, posts: (Post, Post)) -> Option<Self> {
        let alternating = window.alternating(posts)?;
        let direct = window.direct(posts)?;
        let left_v = window.left_v(posts)?;
        let alternating_v = alternating.value.hypot(WEAKENED * left_v) + alternating.u;
        let peak_v =
            window.peak_v(posts)? + direct.u + alternating.u * 2.0_f64.sqrt() + 2.0 * left_v;
        Some(Self { alternating_v, direct_v: direct.value.abs() + direct.u, peak_v })
    }

    fn is_hazard(&self) -> bool {
        let share = self.alternating_v / ALTERNATING_V + self.direct_v / DIRECT_V;
        !(self.alternating_v <= ALTERNATING_V && self.direct_v <= DIRECT_V && share <= TOGETHER)
    }
}

/// Two posts between which there is, or may be, a hazard.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hazard {
    pub(super) posts: (Post, Post),
    /// At some instant, where a reading was beyond its range, or too few are there to explain: no more is known then.
    pub(super) at_least_v: Option<f64>,
    /// rms of what alternates.
    pub(super) alternating_v: Option<f64>,
    pub(super) direct_v: Option<f64>,
    pub(super) loaded_v: Option<f64>,
}

/// The most of all pairs in both steps.
pub(super) fn largest(seen: &Seen) -> Largest {
    let windows = [&seen.alone, &seen.loaded];
    let bounds: Option<Vec<((Post, Post), Bound)>> = Post::PAIRS
        .into_iter()
        .map(|posts| {
            let bounds = windows.into_iter().filter_map(|window| Bound::of(window, posts));
            let both = bounds.reduce(|a, b| Bound {
                alternating_v: a.alternating_v.max(b.alternating_v),
                direct_v: a.direct_v.max(b.direct_v),
                peak_v: a.peak_v.max(b.peak_v),
            });
            Some((posts, both?))
        })
        .collect();
    let bounds = bounds.filter(|_| seen.beyond.is_empty());
    let most = |of: fn(&Bound) -> f64| {
        let (posts, bound) =
            bounds.as_ref()?.iter().max_by(|a, b| of(&a.1).total_cmp(&of(&b.1)))?;
        Some(AtMost { posts: [posts.0, posts.1], most_v: of(bound) })
            .filter(|at| at.most_v.is_finite())
    };
    Largest {
        peak_v: most(|bound| bound.peak_v),
        alternating_rms_v: most(|bound| bound.alternating_v),
        direct_v: most(|bound| bound.direct_v),
        beyond_range: !seen.beyond.is_empty(),
    }
}

/// The two posts between which there is the gravest hazard. What is known of none is none here: the phase is not whole
/// then.
pub(super) fn hazard(seen: &Seen, against: Option<Post>) -> Option<Hazard> {
    let first = |(at_least_v, posts): (f64, (Post, Post))| Hazard {
        posts,
        at_least_v: Some(at_least_v).filter(|volts| *volts > 0.0),
        alternating_v: None,
        direct_v: None,
        loaded_v: None,
    };
    let beyond = seen.beyond.iter().map(|posts| (read_v(seen, *posts), *posts));
    let beyond: Vec<_> = beyond.chain(unexplained(seen)).collect();
    if !beyond.is_empty() {
        let all =
            beyond.into_iter().chain(explained(seen)).map(|(volts, posts)| (volts, posts, posts));
        return most(all, against).map(|(volts, posts)| first((volts, posts)));
    }
    let hazards = Post::PAIRS.into_iter().filter_map(|posts| {
        let [alone, loaded] = [&seen.alone, &seen.loaded].map(|one| Bound::of(one, posts));
        let is_hazard = [&alone, &loaded].into_iter().flatten().any(Bound::is_hazard);
        let size = |bound: &Bound| bound.alternating_v.hypot(bound.direct_v);
        let most = alone.or(loaded).filter(|_| is_hazard)?;
        let hazard = Hazard {
            posts,
            at_least_v: None,
            alternating_v: Some(most.alternating_v),
            direct_v: Some(most.direct_v),
            loaded_v: loaded.as_ref().map(size),
        };
        Some((size(&most), posts, hazard))
    });
    most(hazards, against).map(|(_, hazard)| hazard)
}

/// The one with most; of those that are next to alike, which noise would choose from, the one against common.
fn most<T>(
    all: impl Iterator<Item = (f64, (Post, Post), T)>,
    against: Option<Post>,
) -> Option<(f64, T)> {
    let all: Vec<_> = all.collect();
    let most_v = all.iter().map(|one| one.0).max_by(f64::total_cmp)?;
    let is_common = |(a, b): (Post, Post)| Some(a) == against || Some(b) == against;
    let nearly = all.into_iter().filter(|one| one.0 >= (1.0 - ALIKE) * most_v);
    nearly
        .max_by(|a, b| is_common(a.1).cmp(&is_common(b.1)).then(a.0.total_cmp(&b.0)))
        .map(|(volts, _, what)| (volts, what))
}

fn read_v(seen: &Seen, posts: (Post, Post)) -> f64 {
    let channel = CHANNELS.into_iter().position(|channel| channel == posts);
    channel.map_or(0.0, |channel| seen.at_least_v[channel])
}

/// Too few readings to explain, but enough to see.
fn unexplained(seen: &Seen) -> impl Iterator<Item = (f64, (Post, Post))> {
    CHANNELS.into_iter().enumerate().filter_map(|(channel, posts)| {
        let is_large = |sample: &Sample| sample.volts.abs() > SEEN * DIRECT_V;
        let windows = [&seen.alone, &seen.loaded];
        let seen_so = windows.into_iter().any(|window| {
            window.fits[channel].is_none() && window.samples[channel].iter().any(is_large)
        });
        (seen_so && !seen.beyond.contains(&posts)).then_some((seen.at_least_v[channel], posts))
    })
}

/// Where some reading was beyond its range: what a fit of those within theirs says at least, and is a hazard.
fn explained(seen: &Seen) -> impl Iterator<Item = (f64, (Post, Post))> {
    let window = &seen.alone;
    let is_whole = |posts: (Post, Post)| {
        let made = made_of(posts).into_iter().zip(seen.is_clipped);
        made.into_iter().all(|(share, is_clipped)| share == 0.0 || !is_clipped)
    };
    Post::PAIRS.into_iter().filter(move |posts| is_whole(*posts)).filter_map(|posts| {
        let bound = Bound::of(window, posts).filter(Bound::is_hazard)?;
        let (fitted_v, most_v) = (window.peak_v(posts)?, bound.peak_v);
        Some((fitted_v - (most_v - fitted_v), posts))
    })
}
