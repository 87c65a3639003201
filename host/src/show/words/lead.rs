//! What is said at a station for leads.

use crate::guide::lead::{Way, Why};
use crate::shop::leads::Tally;

pub(crate) const WIDTH: usize = 80;

pub(crate) fn before(way: Way) -> &'static str {
    match way {
        Way::Fixture => {
            "Leads only, that are on nothing else. Begin with both sockets empty.\n\
             Plug in both ends; at the verdict take both out.\n  \
             pass: two tones, up. fail: three low. two short tones: put both ends in again."
        }
        Way::Clips => {
            "Leads only, that are on nothing else. Begin with nothing in any clip, the key in\n\
             the tail's socket. Put end A on the jig's clips, and at the tone end B on the\n\
             tail's; at the verdict take all off.\n  \
             pass: two tones, up. fail: three low. two short tones: begin that lead again."
        }
    }
}

pub(crate) const CLIPS_DO_NOT_SEE: &str = "\
By clips, exchanged clips look like a crossed lead, a joint of less than clips
vary by (0.1 Ω) is not seen, and of the lead's own plugs nothing is measured but
what the clips hold.";

pub(crate) const TYPE: &str = "Enter ends it. u and Enter takes the last lead back.";

pub(crate) fn take_out(way: Way) -> &'static str {
    match way {
        Way::Fixture => {
            "The last lead came back, or was not seen to leave before the next went in.\n\
             Not counted. Take out what is in, and wait for the short tone."
        }
        Way::Clips => {
            "The last lead came back, or was not seen to leave before the next went on.\n\
             Not counted. Take off what is on, and wait for the short tone."
        }
    }
}

pub(crate) fn not_empty(way: Way) -> &'static str {
    match way {
        Way::Fixture => "The sockets are not empty: take out what is in them.",
        Way::Clips => "The clips are not empty, or they touch: take off what is in them.",
    }
}

pub(crate) const END_B: &str = "end B, on the tail's clips";

pub(crate) fn end_b_at(fixture: usize) -> String {
    format!("jig {fixture}: {END_B}")
}

pub(crate) const END_B_OFF: &str = "\
End B is on already. Take it off the tail's clips until the short tone: how well\nthe conductors are isolated is measured first.";

pub(crate) const NOTHING_TO_TAKE_BACK: &str = "Nothing to take back: only the last lead can be.";

pub(crate) fn next_lead(way: Way, number: u32) -> String {
    format!("lead {number}: {}", put_in(way))
}

pub(crate) fn next_lead_at(way: Way, fixture: usize) -> String {
    match way {
        Way::Fixture => format!("fixture {fixture}: the next lead: {}", put_in(way)),
        Way::Clips => format!("jig {fixture}: the next lead: {}", put_in(way)),
    }
}

fn put_in(way: Way) -> &'static str {
    match way {
        Way::Fixture => "plug in both ends",
        Way::Clips => "end A, on the jig's clips",
    }
}

pub(crate) fn at(fixture: usize, told: &str) -> String {
    format!("At fixture {fixture}:\n{told}")
}

pub(crate) fn again(way: Way, why: Why) -> &'static str {
    match (why, way) {
        (Why::NotInSocketA, Way::Fixture) => {
            "Not counted: it was not shown to be in socket A while its isolation was\nmeasured. Put both \
             ends in again, and leave them in until the verdict."
        }
        (Why::Unsteady, Way::Fixture) => {
            "Not counted: measured twice, it was not the same: a contact moves. Put both\nends in again."
        }
        (Why::NotInSocketA, Way::Clips) => {
            "Not counted: it was not shown to be on the jig's clips, all four, while its\nisolation was \
             measured. Take it off, and begin with end A."
        }
        (Why::Unsteady, Way::Clips) => {
            "Not counted: measured twice, it was not the same: a clip moves. Take it off, and\nbegin with end A."
        }
    }
}

pub(crate) fn taken_back(number: u32) -> String {
    format!("lead {number}: taken back. Its number is used again.")
}

/// One line, if it fits; else broken and indented.
pub(crate) fn lead(number: u32, fixture: Option<usize>, verdict: &str, reason: &str) -> String {
    let at = fixture.map_or_else(String::new, |fixture| format!("at {fixture}  "));
    let mut lines = vec![format!("{number:>5}  {at}{verdict}")];
    let mut first = true;
    for word in reason.split_whitespace() {
        let gap = if std::mem::take(&mut first) { "  " } else { " " };
        let last = lines.last_mut().map_or(0, |line| line.chars().count());
        if last + gap.len() + word.chars().count() > WIDTH {
            lines.push(format!("       {word}"));
        } else if let Some(line) = lines.last_mut() {
            line.push_str(gap);
            line.push_str(word);
        }
    }
    lines.join("\n")
}

/// Short: it stands behind what is asked for.
pub(crate) fn counts(tally: &Tally) -> String {
    let rate = tally.per_hour().map_or_else(String::new, |rate| format!(", {rate:.0}/h"));
    let good = tally.yield_percent().map_or_else(String::new, |good| format!(" ({good:.1} %)"));
    format!("{} of {} pass{good}{rate}", tally.pass, tally.all())
}

pub(crate) fn sums(tally: &Tally, again: u32) -> String {
    let mut told = format!("\n{} leads: {}\n", tally.all(), counts(tally));
    for (fault, count) in &tally.faults {
        told += &format!("{count:>7}  {}\n", fault.replace('-', " "));
    }
    if again > 0 {
        told += &format!("{again:>7}  times a lead had to be put in again; not counted\n");
    }
    told
}
