//! The least and the most of a conductor, of what three slots in a row all showed: while a set is mixed of before and
//! after a change, one or two show what never was.

use super::FlexLane;

/// The last three rises of each conductor.
#[derive(Clone, Debug, Default)]
pub(super) struct Extremes {
    of: [[f64; 3]; 4],
    count: usize,
}

impl Extremes {
    /// The middle of the last three, once there are three.
    pub(super) fn hear(
        &mut self,
        rises_ohm: &[f64; 4],
        lanes: &mut [FlexLane],
    ) -> Option<[f64; 4]> {
        let place = self.count % 3;
        self.count += 1;
        for (three, rise_ohm) in self.of.iter_mut().zip(rises_ohm) {
            three[place] = *rise_ohm;
        }
        if self.count < 3 {
            return None;
        }
        let sorted = self.of.map(|mut three| {
            three.sort_by(f64::total_cmp);
            three
        });
        for ([least, _, most], lane) in sorted.iter().zip(lanes) {
            // The most of what all three reached is their least.
            lane.most_rise_ohm = Some(lane.most_rise_ohm.map_or(*least, |old| old.max(*least)));
            lane.least_rise_ohm = Some(lane.least_rise_ohm.map_or(*most, |old| old.min(*most)));
        }
        Some(sorted.map(|[_, middle, _]| middle))
    }

    /// Nothing was seen: the next three count anew.
    pub(super) fn unseen(&mut self) {
        self.count = 0;
    }
}
