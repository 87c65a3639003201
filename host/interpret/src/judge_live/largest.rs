//! The most that can be between any two posts, and whether that is a hazard. Wrong only towards too much.

use runproof_protocol::Post;

use super::fit::Sample;
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
    /// rms of what alternates; absent: beyond the range.
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

/// The pairs of posts between which there may be a hazard: the one with most first. What is known of none is none
/// here: the phase is not whole then.
pub(super) fn hazards(seen: &Seen) -> Vec<Hazard> {
    let unknown =
        |posts: (Post, Post)| Hazard { posts, alternating_v: None, direct_v: None, loaded_v: None };
    let mut found: Vec<Hazard> = seen.beyond.iter().copied().map(unknown).collect();
    // Too few readings to explain, but enough to see.
    for window in [&seen.alone, &seen.loaded] {
        for (channel, posts) in CHANNELS.into_iter().enumerate() {
            let seen_v = |sample: &Sample| sample.volts.abs() > SEEN * DIRECT_V;
            let large = window.samples[channel].iter().any(seen_v);
            if window.fits[channel].is_none() && large && !seen.beyond.contains(&posts) {
                found.push(unknown(posts));
            }
        }
    }
    let mut others: Vec<(f64, Hazard)> = Post::PAIRS
        .into_iter()
        .filter(|posts| !seen.beyond.contains(posts))
        .filter_map(|posts| {
            let [alone, loaded] = [&seen.alone, &seen.loaded].map(|one| Bound::of(one, posts));
            let hazard = [&alone, &loaded].into_iter().flatten().any(Bound::is_hazard);
            let size = |bound: &Bound| bound.alternating_v.hypot(bound.direct_v);
            let most = alone.or(loaded)?;
            hazard.then(|| {
                let hazard = Hazard {
                    posts,
                    alternating_v: Some(most.alternating_v),
                    direct_v: Some(most.direct_v),
                    loaded_v: loaded.as_ref().map(size),
                };
                (size(&most), hazard)
            })
        })
        .collect();
    others.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.extend(others.into_iter().map(|(_, hazard)| hazard));
    found
}
