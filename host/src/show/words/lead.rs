//! What is said at a station for leads.

use crate::guide::lead::Why;
use crate::shop::leads::Tally;

pub(crate) const WIDTH: usize = 80;

pub(crate) const BEFORE: &str = "\
Leads only, that are on nothing else. Begin with both sockets empty.
Plug in both ends; at the verdict take both out.
  pass: two tones, up. fail: three low. two short tones: put both ends in again.";

pub(crate) const TYPE: &str = "Enter ends it. u and Enter takes the last lead back.";

pub(crate) const TAKE_OUT: &str = "\
The last lead came back, or was not seen to leave before the next went in.
Not counted. Take out what is in, and wait for the short tone.";

pub(crate) const NOT_EMPTY: &str = "The sockets are not empty: take out what is in them.";

pub(crate) const NOTHING_TO_TAKE_BACK: &str = "Nothing to take back: only the last lead can be.";

pub(crate) fn next_lead(number: u32) -> String {
    format!("lead {number}: plug in both ends")
}

pub(crate) fn next_lead_at(fixture: usize) -> String {
    format!("fixture {fixture}: plug in both ends of the next lead")
}

pub(crate) fn at(fixture: usize, told: &str) -> String {
    format!("At fixture {fixture}:\n{told}")
}

pub(crate) fn again(why: Why) -> &'static str {
    match why {
        Why::NotInSocketA => {
            "Not counted: it was not shown to be in socket A while its isolation was\nmeasured. Put both \
             ends in again, and leave them in until the verdict."
        }
        Why::Unsteady => {
            "Not counted: measured twice, it was not the same: a contact moves. Put both\nends in again."
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
        told += &format!("{again:>7}  times both ends had to be put in again; not counted\n");
    }
    told
}
