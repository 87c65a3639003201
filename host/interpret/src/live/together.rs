//! What all posts do together against the jig, before anything was driven.

use runproof_protocol::{DIVIDER_FOOT, Drive, Phase, Post, Step};

use crate::capture::{Capture, Node};

/// What all conductors may do together: more may be one that is live to earth. A floating jig sees 2.5 V of 120 V
/// through 50 pF to earth; what is left of a sound run in its own noise is some tenths. [judgement]
pub(crate) const TOGETHER_V: f64 = 1.0;

/// What alternates at post 4 against the jig's own ground under the load, rms, in volts at the post: under the load
/// all posts do what it does. The larger of the phases; none where it was not read.
pub(crate) fn together_v(capture: &Capture) -> Option<f64> {
    let ratio = capture.head.jig.divider_ohm / DIVIDER_FOOT.ohms();
    let phases = [Phase::Open, Phase::Plug].into_iter();
    let each = phases.filter_map(|phase| {
        let readings = capture.readings(phase).filter(|one| {
            one.step == Step::LiveLoaded
                && one.channel.node == Node::Live
                && (one.channel.post, one.channel.against) == (Post::P4, None)
                && one.drives == [Drive::Off; 4]
                && !one.relays_closed
        });
        deviation(readings.map(|one| one.volts * ratio))
    });
    each.max_by(f64::total_cmp)
}

fn deviation(volts: impl Iterator<Item = f64>) -> Option<f64> {
    let volts: Vec<f64> = volts.collect();
    let count = volts.len() as f64;
    let mean = volts.iter().sum::<f64>() / count;
    let squares: f64 = volts.iter().map(|volt| (volt - mean).powi(2)).sum();
    (volts.len() > 1).then(|| (squares / count).sqrt())
}
