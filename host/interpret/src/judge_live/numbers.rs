//! What is between two posts of a live run as numbers, each with its uncertainty.

use runproof_protocol::Post;

use super::front::made_of;
use super::uncertainty;
use super::window::Window;
use crate::judgement::Measured;

/// A wave is found from five standard deviations of its amplitude on. That is so many of a mean of its readings, rms: each of its two
/// parts has twice the mean's variance. What is smaller may be there.
const UNSEEN: f64 = 5.0 * std::f64::consts::SQRT_2;

impl Window {
    /// The mean of one post against another.
    pub(crate) fn direct(&self, posts: (Post, Post)) -> Option<Measured> {
        let between = self.between(posts)?;
        let mut along = vec![0.0; between.len()];
        along[0] = 1.0;
        Some(Measured { value: between[0], u: uncertainty::expanded(self, posts, &along) })
    }

    /// What alternates between two posts, rms.
    pub(crate) fn alternating(&self, posts: (Post, Post)) -> Option<Measured> {
        let between = self.between(posts)?;
        if self.frequencies.is_empty() {
            let noise_v = self.left_v(posts)?.max(self.converters_noise_v(posts));
            return Some(Measured { value: 0.0, u: UNSEEN * noise_v / self.fewest(posts).sqrt() });
        }
        Some(self.rms(posts, &between, false))
    }

    /// Readings of the channel that has the fewest, of those between two posts.
    fn fewest(&self, posts: (Post, Post)) -> f64 {
        let made = made_of(posts).into_iter().zip(&self.samples).filter(|(share, _)| *share != 0.0);
        made.map(|(_, samples)| samples.len() as f64).fold(f64::INFINITY, f64::min)
    }

    /// All there is between two posts, rms.
    pub(crate) fn all(&self, posts: (Post, Post)) -> Option<Measured> {
        let between = self.between(posts)?;
        Some(self.rms(posts, &between, true))
    }

    fn rms(&self, posts: (Post, Post), between: &[f64], with_direct: bool) -> Measured {
        let weight = |n: usize| if n == 0 { f64::from(u8::from(with_direct)) } else { 0.5 };
        let squares: f64 =
            between.iter().enumerate().map(|(n, part)| weight(n) * part * part).sum();
        let variances = uncertainty::noise(self, posts);
        let noise: f64 =
            variances.iter().enumerate().map(|(n, variance)| weight(n) * variance).sum();
        let value = (squares - noise).max(0.0).sqrt();
        if squares > 25.0 * noise && squares > 0.0 {
            let along: Vec<f64> = between
                .iter()
                .enumerate()
                .map(|(n, part)| weight(n) * part / squares.sqrt())
                .collect();
            return Measured { value, u: uncertainty::expanded(self, posts, &along) };
        }
        // Next to nothing: which way it points is not known, so each way counts.
        let ways = (0..between.len()).filter(|n| weight(*n) > 0.0).map(|n| {
            let mut along = vec![0.0; between.len()];
            along[n] = weight(n).sqrt();
            uncertainty::expanded(self, posts, &along).powi(2)
        });
        Measured { value, u: ways.sum::<f64>().sqrt() }
    }
}
