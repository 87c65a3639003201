//! Which posts hang on nothing: under the load such a one stands where the load's star does, at the mean of the others.

use runproof_protocol::Post;

use super::window::Window;

/// Nothing is told from less than this between those that do not float. [judgement]
const SPAN_MIN_V: f64 = 1.0;
/// A post that floats is so near to the mean of the others: coupling moves it. [judgement]
const NEAR: f64 = 0.05;
const NEAR_V: f64 = 0.05;

/// The posts that float, as many as can.
pub(super) fn floating(loaded: &Window) -> Vec<Post> {
    if loaded.fits.iter().any(Option::is_none) {
        return vec![];
    }
    let pairs = Post::PAIRS.map(|(a, b)| vec![a, b]);
    let ones = Post::ALL.map(|post| vec![post]);
    let each = pairs.into_iter().chain(ones);
    each.into_iter().find(|posts| all_float(loaded, posts)).unwrap_or_default()
}

fn all_float(loaded: &Window, posts: &[Post]) -> bool {
    let others: Vec<Post> = Post::ALL.into_iter().filter(|post| !posts.contains(post)).collect();
    let Some(first) = others.first() else { return false };
    let size =
        |parts: &[f64]| parts[1..].iter().fold(parts[0].powi(2), |sum, p| sum + p * p / 2.0).sqrt();
    let mut mean = vec![0.0; loaded.posts[0].len()];
    for post in &others {
        let part = &loaded.posts[post.index()];
        mean.iter_mut().zip(part).for_each(|(mean, part)| *mean += part / others.len() as f64);
    }
    let from = |post: &Post, other: &[f64]| {
        let parts: Vec<f64> =
            loaded.posts[post.index()].iter().zip(other).map(|(a, b)| a - b).collect();
        size(&parts)
    };
    let span_v =
        others.iter().map(|post| from(post, &loaded.posts[first.index()])).fold(0.0, f64::max);
    span_v >= SPAN_MIN_V && posts.iter().all(|post| from(post, &mean) <= NEAR * span_v + NEAR_V)
}
