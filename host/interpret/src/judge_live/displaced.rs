//! The supply where it does not belong: on a data conductor as well, there instead, or exchanged with common.

use runproof_protocol::Post;

use super::floats::Floating;
use super::places;
use super::seen::Seen;
use super::supply::{NOTHING_V, kind};
use crate::judgement::{LiveReason, LiveSupply, Measured, SupplyKind};
use crate::limits::{Bounds, LimitSheet, SupplyForm};

/// Two conductors that touch differ by so much of the supply at most: a bad touch, the run between. [judgement]
const TOUCHES: f64 = 0.1;
/// So much of its least is a supply at its own place, though it be a low one. [judgement]
const IS_THERE: f64 = 0.5;
/// So far out of its range it is still taken for the supply; and so much of it stands under the load. [judgement]
const NEARLY: f64 = 0.1;
/// A data line that stands so far from what should be the supply does not touch it: its own bias. [judgement]
const STANDS_V: f64 = 0.5;

/// Where the supply is.
#[derive(Clone, Debug)]
pub(super) enum Displaced {
    /// Where it belongs, and on these data posts as well.
    OnData(Vec<Post>),
    /// On this data post instead; how much.
    Elsewhere(Post, Measured),
    /// On common, and common on supply.
    WithCommon,
}

impl Displaced {
    /// Whether a data conductor holds the supply, which hides how the pair is.
    pub(super) fn is_on_data(&self) -> bool {
        !matches!(self, Self::WithCommon)
    }
}

pub(super) fn displaced(
    seen: &Seen,
    sheet: &LimitSheet,
    floating: &Floating,
    found: Option<&LiveSupply>,
) -> Option<Displaced> {
    let (found, range, form) = (found?, sheet.live.supply.as_ref()?, sheet.live.supply_kind?);
    let at = Places { seen, floating, supply: places::supply(sheet)?, data: places::pair(sheet)? };
    if !seen.beyond.is_empty() || at.floats(at.supply.1) {
        return None;
    }
    if at.is_there(found, range, form) {
        return at.with_common(form).or_else(|| at.on_data());
    }
    at.elsewhere(range, form)
}

struct Places<'a> {
    seen: &'a Seen,
    floating: &'a Floating,
    /// Supply and common, by the sheet.
    supply: (Post, Post),
    data: (Post, Post),
}

impl Places<'_> {
    fn floats(&self, post: Post) -> bool {
        self.floating.contains(post)
    }

    fn lines(&self) -> impl Iterator<Item = Post> + Clone {
        let lines = [self.data.0, self.data.1];
        lines.into_iter().filter(|post| !self.floating.contains(*post))
    }

    fn is_there(&self, found: &LiveSupply, range: &Bounds, form: SupplyForm) -> bool {
        let measured = of_form(form, found.kind, found.direct_v, found.rms_v);
        measured.is_some_and(|volts| volts.value.abs() > IS_THERE * range.least)
            && !matches!(found.reason, LiveReason::Nothing | LiveReason::CouplesIn)
    }

    fn on_data(&self) -> Option<Displaced> {
        let (supply, common) = self.supply;
        let touches = |post: &Post| {
            [&self.seen.alone, &self.seen.loaded].into_iter().all(|window| {
                let both = window.all((*post, supply)).zip(window.all((supply, common)));
                both.is_some_and(|(between, all)| between.most() <= TOUCHES * all.value)
            })
        };
        let posts: Vec<Post> = self.lines().filter(touches).collect();
        (!posts.is_empty()).then_some(Displaced::OnData(posts))
    }

    /// Both data lines stand still against the conductor that should be the supply, off it by their bias.
    fn with_common(&self, form: SupplyForm) -> Option<Displaced> {
        let (supply, common) = self.supply;
        let window = &self.seen.loaded;
        let is_so = |post: Post| {
            let stands_v = window.direct((post, supply))?;
            let stands = stands_v.value.abs() - stands_v.u > STANDS_V;
            Some(match form {
                SupplyForm::Alternating => {
                    let [against, of, whole] = [(post, supply), (post, common), (supply, common)]
                        .map(|posts| window.alternating(posts));
                    let whole_v = whole?.value;
                    let still = against?.most() <= TOUCHES * whole_v;
                    stands && still && of?.least() >= (1.0 - TOUCHES) * whole_v
                }
                // A supply that is fed the wrong way round leaves the lines where they are.
                SupplyForm::Direct => {
                    let (whole, of) =
                        (window.direct((supply, common))?, window.direct((post, common))?);
                    stands && stands_v.value > 0.0 && whole.most() < 0.0 && of.most() < -STANDS_V
                }
            })
        };
        let lines = [self.data.0, self.data.1];
        let all = lines.into_iter().all(|post| !self.floats(post) && is_so(post) == Some(true));
        all.then_some(Displaced::WithCommon)
    }

    /// Where none is at its own place: between which others there is something like it.
    fn elsewhere(&self, range: &Bounds, form: SupplyForm) -> Option<Displaced> {
        let own = [self.supply.0, self.supply.1];
        let is_own = |(a, b): &(Post, Post)| own.contains(a) && own.contains(b);
        let held = |(a, b): &(Post, Post)| !self.floats(*a) && !self.floats(*b);
        let others = Post::PAIRS.into_iter().filter(|posts| !is_own(posts)).filter(held);
        let like: Vec<_> = others
            .filter_map(|posts| Some((posts, self.like_a_supply(posts, range, form)?)))
            .collect();
        let (_, volts) = *like.first()?;
        let on = |post: Post| like.iter().all(|((a, b), _)| *a == post || *b == post);
        let mut shared = self.lines().filter(|post| on(*post));
        let post = shared.next().filter(|_| shared.next().is_none())?;
        Some(Displaced::Elsewhere(post, volts))
    }

    fn like_a_supply(
        &self,
        posts: (Post, Post),
        range: &Bounds,
        form: SupplyForm,
    ) -> Option<Measured> {
        let [alone, loaded] = [&self.seen.alone, &self.seen.loaded].map(|one| one.all(posts));
        let (alone, loaded) = (alone.filter(|all| all.least() > NOTHING_V)?, loaded?);
        let kind = kind(self.seen, posts, alone);
        let measured = of_form(form, kind, self.seen.alone.direct(posts), Some(alone))?;
        let is_in = (1.0 - NEARLY) * range.least..=(1.0 + NEARLY) * range.most;
        let stays = loaded.value >= (1.0 - NEARLY) * alone.value;
        (stays && is_in.contains(&measured.value.abs())).then_some(measured)
    }
}

fn of_form(
    form: SupplyForm,
    kind: SupplyKind,
    direct_v: Option<Measured>,
    rms_v: Option<Measured>,
) -> Option<Measured> {
    match (form, kind) {
        (SupplyForm::Alternating, SupplyKind::AlternatingMains) => rms_v,
        (SupplyForm::Direct, SupplyKind::Direct | SupplyKind::FullWave) => direct_v,
        _ => None,
    }
}
