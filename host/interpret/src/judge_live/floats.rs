//! Which posts hang on nothing: such a one stands where the jig's own star does, at the mean of the others, and what
//! couples into it collapses under the load.

use runproof_protocol::Post;

use super::held_or_open::held_or_open;
use super::seen::Seen;
use super::window::{Window, rms};
use crate::limits::LimitSheet;

/// Nothing is told from less than this between those that do not float. [judgement]
const SPAN_MIN_V: f64 = 1.0;
/// A post that floats is so near to the mean of the others: the load's resistors are of 1 %. [judgement]
const NEAR: f64 = 0.02;
const NEAR_V: f64 = 0.05;
/// Two that float stand together at the load's star, but for what leaks onto one of them: a gigaohm there is 0.005 % of
/// what it leaks from, 25 MΩ 0.2 %. [judgement]
const TOGETHER: f64 = 0.002;
/// One in twenty is beyond its uncertainty, next to none beyond so many times that. [judgement]
const BEYOND_U: f64 = 1.5;
/// Or so near, if it was so many times as far from it without the load: then something couples in. [judgement]
const MOVED: f64 = 0.1;
const COLLAPSES: f64 = 4.0;

/// What hangs on nothing.
#[derive(Clone, Debug)]
pub(super) struct Floating {
    pub(super) posts: Vec<Post>,
    /// One of them, which may as well be held just there.
    pub(super) unsure: Option<Post>,
}

impl Floating {
    pub(super) fn of(seen: &Seen, sheet: &LimitSheet) -> Self {
        let posts = floating(&seen.alone, &seen.loaded);
        let unsure = held_or_open(seen, sheet, &posts);
        Self { posts, unsure }
    }

    pub(super) fn contains(&self, post: Post) -> bool {
        self.posts.contains(&post)
    }
}

/// The posts that float, as many as can; of ways to take it the one that is nearest to it.
fn floating(alone: &Window, loaded: &Window) -> Vec<Post> {
    if [alone, loaded].iter().any(|window| window.fits.iter().any(Option::is_none)) {
        return vec![];
    }
    let pairs = Post::PAIRS.map(|(a, b)| vec![a, b]);
    let ones = Post::ALL.map(|post| vec![post]);
    let nearest = |each: &[Vec<Post>]| {
        let float = each.iter().filter_map(|posts| Some((all_float(alone, loaded, posts)?, posts)));
        let nearest = float.min_by(|(a, _), (b, _)| a.total_cmp(b));
        nearest.map(|(_, posts)| posts.clone())
    };
    nearest(&pairs).or_else(|| nearest(&ones)).unwrap_or_default()
}

/// What alternates on a post that floats, beyond what the others make of it, rms.
pub(super) fn coupled_v(window: &Window, floating: &[Post], post: Post) -> f64 {
    rms(&from(&window.posts[post.index()], &mean(window, floating))[1..])
}

/// How far from it they are, in volts, if they may float.
fn all_float(alone: &Window, loaded: &Window, posts: &[Post]) -> Option<f64> {
    let others: Vec<Post> = Post::ALL.into_iter().filter(|post| !posts.contains(post)).collect();
    let first = &loaded.posts[others.first()?.index()];
    let [before, under] = [alone, loaded].map(|window| mean(window, posts));
    let apart_v = |a: &[f64], b: &[f64]| size(&from(a, b));
    let span_v = others.iter().map(|post| apart_v(&loaded.posts[post.index()], first));
    let span_v = span_v.fold(0.0, f64::max);
    let off = |post: &Post| {
        let off_v = apart_v(&loaded.posts[post.index()], &under);
        let was_v = apart_v(&alone.posts[post.index()], &before);
        let floats = off_v <= NEAR * span_v + NEAR_V
            || off_v <= MOVED * span_v + NEAR_V && was_v >= COLLAPSES * off_v;
        floats.then_some(off_v.min(was_v))
    };
    let off_v = posts.iter().map(off).try_fold(0.0, |most: f64, off| Some(most.max(off?)))?;
    (span_v >= SPAN_MIN_V && stand_together(loaded, posts, span_v)).then_some(off_v)
}

fn stand_together(loaded: &Window, posts: &[Post], span_v: f64) -> bool {
    let [a, b] = posts else { return true };
    let apart = loaded.direct((*a, *b));
    apart.is_none_or(|apart| apart.value.abs() <= TOGETHER * span_v + BEYOND_U * apart.u)
}

/// Of all posts but these.
fn mean(window: &Window, but: &[Post]) -> Vec<f64> {
    let others: Vec<Post> = Post::ALL.into_iter().filter(|post| !but.contains(post)).collect();
    let mut mean = vec![0.0; window.posts[0].len()];
    for post in &others {
        let parts = &window.posts[post.index()];
        mean.iter_mut().zip(parts).for_each(|(mean, part)| *mean += part / others.len() as f64);
    }
    mean
}

fn from(parts: &[f64], others: &[f64]) -> Vec<f64> {
    parts.iter().zip(others).map(|(a, b)| a - b).collect()
}

/// Of all there is, rms.
fn size(parts: &[f64]) -> f64 {
    parts[0].hypot(rms(&parts[1..]))
}
