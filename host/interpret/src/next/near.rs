//! Which known names are near to one that is not known.

/// At most this many are told.
const MOST: usize = 3;

/// The near ones, the nearest first.
pub(super) fn near<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Vec<String> {
    let far = name.chars().count() / 2;
    let mut found: Vec<(usize, &str)> = known
        .filter_map(|one| {
            let holds = name.len() > 2 && (one.contains(name) || name.contains(one));
            let apart = if holds { 1 } else { edits(name, one) };
            (apart <= far).then_some((apart, one))
        })
        .collect();
    found.sort_by_key(|(apart, _)| *apart);
    found.into_iter().take(MOST).map(|(_, one)| one.to_owned()).collect()
}

/// "; near to it: a, b", or nothing.
pub(super) fn told(near: &[String]) -> String {
    if near.is_empty() { String::new() } else { format!("; near to it: {}", near.join(", ")) }
}

/// Letters to put in, take out or change (Levenshtein 1966).
fn edits(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (i, a) in one.chars().enumerate() {
        let mut diagonal = std::mem::replace(&mut row[0], i + 1);
        for (j, b) in other.iter().enumerate() {
            let changed = diagonal + usize::from(a != *b);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[other.len()]
}

#[test]
fn edits_are_counted_as_published() {
    assert_eq!(edits("kitten", "sitting"), 3);
    assert_eq!(edits("", "abc"), 3);
    assert_eq!(near("supply-plat", ["supply-plate", "power"].into_iter()), ["supply-plate"]);
    assert_eq!(near("xyzzy", ["supply-plate", "power"].into_iter()), [""; 0]);
}
