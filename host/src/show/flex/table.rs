//! The table of a watch: a row for each conductor, or each pair.

use runproof_interpret::flex::{FlexLane, FlexLaneOf};

use super::super::described::{Column, Table};
use super::super::words::flex::{Names, duration, ohms, rise};

/// The longest times are such as "23 h 59 min".
const TIME: usize = 13;

const CONDUCTORS: [Column; 8] = [
    Column::new("conductor", 10),
    Column::new("at rest", 9),
    Column::new("least", 9),
    Column::new("most", 9),
    Column::new("breaks", 8),
    Column::new("longest", TIME),
    Column::new("in all", TIME),
    Column::new("rises", 0),
];

const PAIRS: [Column; 6] = [
    Column::new("pair", 18),
    Column::new("touches", 9),
    Column::new("longest", TIME),
    Column::new("in all", TIME),
    Column::new("least", 11),
    Column::new("watched", 0),
];

pub(super) fn table(lanes: &[FlexLane], names: &Names) -> Table {
    let told = |lane: &&FlexLane| lane.of != FlexLaneOf::Untold || lane.count > 0;
    let is_pairs = lanes.iter().any(|lane| matches!(lane.of, FlexLaneOf::Pair(..)));
    let lanes = lanes.iter().filter(told);
    if is_pairs {
        let rows = lanes.map(|lane| pair(lane, names)).collect();
        return Table { columns: &PAIRS, rows, below: None };
    }
    Table {
        columns: &CONDUCTORS,
        rows: lanes.map(|lane| conductor(lane, names)).collect(),
        below: None,
    }
}

fn conductor(lane: &FlexLane, names: &Names) -> Vec<String> {
    vec![
        names.lane(lane.of),
        known(lane.baseline_ohm),
        reached(lane.min_ohm(), lane.least_rise_ohm),
        reached(lane.max_ohm(), lane.most_rise_ohm),
        lane.count.to_string(),
        long(lane.count, lane.longest_us),
        long(lane.count, lane.total_us),
        lane.steps.to_string(),
    ]
}

fn pair(lane: &FlexLane, names: &Names) -> Vec<String> {
    if lane.watched_us == 0 && lane.count == 0 {
        let none = || "—".to_owned();
        return vec![names.lane(lane.of), none(), none(), none(), none(), "not watched".into()];
    }
    vec![
        names.lane(lane.of),
        lane.count.to_string(),
        long(lane.count, lane.longest_us),
        long(lane.count, lane.total_us),
        if lane.count == 0 { "—".into() } else { known(lane.least_touch_ohm) },
        duration(lane.watched_us),
    ]
}

/// Where it is not known at rest, how much more than that.
fn reached(ohm: Option<f64>, rise_ohm: Option<f64>) -> String {
    ohm.map(ohms).or(rise_ohm.map(rise)).unwrap_or_else(|| "unknown".into())
}

fn known(ohm: Option<f64>) -> String {
    ohm.map_or_else(|| "unknown".into(), ohms)
}

fn long(count: u64, us: u64) -> String {
    if count == 0 { "—".into() } else { duration(us) }
}
