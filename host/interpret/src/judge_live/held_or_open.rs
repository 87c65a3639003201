//! A data line that stands where one that hangs on nothing would, of a jig whose zero does not tell the two apart.

use runproof_protocol::Post;

use super::places;
use super::seen::Seen;
use crate::judgement::Measured;
use crate::limits::LimitSheet;

/// A line that the load moves further than this is held by nothing. [judgement]
const MOVES_V: f64 = 0.05;

/// The one that seems to hang on nothing, and may as well be held just there: the pair would have no more with it than the sheet
/// lets one have at rest, nothing alternates on it, and the load leaves it where it is. A fresh zero tells.
pub(super) fn held_or_open(seen: &Seen, sheet: &LimitSheet, floating: &[Post]) -> Option<Post> {
    let (plus, minus) = places::pair(sheet)?;
    let idle = sheet.live.data_idle.as_ref()?;
    let common = places::against(sheet)?;
    let mut lines = floating.iter().copied().filter(|post| [plus, minus].contains(post));
    let line = lines.next().filter(|_| lines.next().is_none())?;
    if seen.alone.front.trusts_zero || floating.contains(&common) || line == common {
        return None;
    }
    let bias = seen.alone.direct((plus, minus))?;
    let direct_v = [&seen.alone, &seen.loaded].map(|window| window.direct((line, common)));
    let [Some(alone), Some(loaded)] = direct_v else { return None };
    let alternates = seen.alone.alternating((line, common))?;
    let size = Measured { value: bias.value.abs(), ..bias };
    let may_be_held = size.least() <= idle.most
        && alternates.least() <= MOVES_V
        && (alone.value - loaded.value).abs() <= MOVES_V;
    may_be_held.then_some(line)
}
