//! A text, broken into lines of so many points.

use super::letters::{Heavy, Letters};
use crate::show::terminal::unbroken;

/// Every word of the text, in its order; the first line is shorter by what stands before it. A word that is longer than a line
/// is parted.
pub(super) fn broken(
    letters: &Letters,
    text: &str,
    heavy: Heavy,
    size_pt: f64,
    width_pt: f64,
    first_pt: f64,
) -> Vec<String> {
    let wide = |text: &str| letters.width_pt(text, heavy, size_pt);
    let space_pt = wide(" ");
    let mut lines: Vec<String> = vec![];
    let (mut line, mut at_pt) = (String::new(), first_pt);
    for word in unbroken(text) {
        let word_pt = wide(&word);
        let gap_pt = if line.is_empty() { 0.0 } else { space_pt };
        if at_pt + gap_pt + word_pt <= width_pt {
            if gap_pt > 0.0 {
                line.push(' ');
            }
            line.push_str(&word);
            at_pt += gap_pt + word_pt;
            continue;
        }
        if !line.is_empty() || (at_pt > 0.0 && word_pt <= width_pt) {
            lines.push(std::mem::take(&mut line));
            at_pt = 0.0;
        }
        for c in word.chars() {
            let c_pt = wide(c.encode_utf8(&mut [0; 4]));
            if at_pt + c_pt > width_pt && !line.is_empty() {
                lines.push(std::mem::take(&mut line));
                at_pt = 0.0;
            }
            line.push(c);
            at_pt += c_pt;
        }
    }
    lines.push(line);
    lines
}

#[test]
fn nothing_is_lost_and_nothing_sticks_out() {
    let letters = Letters::new().expect("the faces that are shipped");
    let long = "long".repeat(60);
    let text = format!("A reading of 0.48 Ω that is told {long} and then some 数据線 more.");
    for width_pt in [20.0, 90.0, 300.0] {
        let lines = broken(&letters, &text, Heavy::No, 8.0, width_pt, 10.0);
        let all = |text: &str| text.split_whitespace().collect::<String>();
        assert_eq!(all(&lines.concat()), all(&text));
        for line in &lines {
            let is_one_letter = line.chars().count() == 1;
            assert!(is_one_letter || letters.width_pt(line, Heavy::No, 8.0) <= width_pt + 1e-9);
        }
    }
}
