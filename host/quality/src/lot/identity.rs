//! Identity, of every unit and before any test: no sample finds the one reel of another cable.

use serde::{Deserialize, Serialize};

use super::Ranges;

/// What is looked at. (judgement: what tells one cable from another without cutting it)
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    /// The label says what was ordered.
    Label,
    /// So does the print on the jacket.
    Print,
    /// It weighs what it should.
    Weight,
    /// Scraped bare, a conductor is of one colour through.
    Scrape,
}

impl Mark {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Label, Self::Print, Self::Weight, Self::Scrape];
}

/// Somebody looked at units: all marks are as they should be but those that are missed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Look {
    /// At which.
    pub units: Ranges,
    /// What is not as it should be, or not there.
    pub missed: Vec<Mark>,
}

/// What is known of the identity of a lot's units.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Identity {
    /// Units that were looked at.
    pub looked_at: u32,
    /// Those that were not, in ascending order.
    pub left: Ranges,
    /// Those that a mark is missed of by the last look.
    pub missed: Vec<(u32, Vec<Mark>)>,
    /// Those of which a mark was missed before, and by the last look none.
    pub mended: Ranges,
}

impl Identity {
    /// Of a lot of so many units, by all looks in the order in which they were taken. Of a unit the last one counts.
    #[must_use]
    pub fn of(units: u32, looks: &[Look]) -> Self {
        let count = usize::try_from(units).unwrap_or(usize::MAX);
        let mut last: Vec<Option<&Look>> = vec![None; count];
        let mut was_missed = vec![false; count];
        for look in looks {
            for unit in look.units.units().take_while(|unit| *unit <= units) {
                let index = unit as usize - 1;
                was_missed[index] |= !look.missed.is_empty();
                last[index] = Some(look);
            }
        }
        let numbered = || (1..).zip(&last);
        let is_whole = |look: &Option<&Look>| look.is_some_and(|look| look.missed.is_empty());
        Self {
            looked_at: numbered().filter(|(_, look)| look.is_some()).count() as u32,
            left: Ranges::of(numbered().filter(|(_, look)| look.is_none()).map(|(unit, _)| unit)),
            missed: numbered()
                .filter_map(|(unit, look)| Some((unit, look.as_ref()?.missed.clone())))
                .filter(|(_, missed)| !missed.is_empty())
                .collect(),
            mended: Ranges::of(
                numbered()
                    .filter(|(unit, look)| was_missed[*unit as usize - 1] && is_whole(look))
                    .map(|(unit, _)| unit),
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn look(units: &str, missed: &[Mark]) -> Look {
        Look { units: units.parse().unwrap(), missed: missed.to_vec() }
    }

    #[test]
    fn the_last_look_counts_and_what_was_before_is_told() {
        let looks = [
            look("1-8", &[]),
            look("3,5", &[Mark::Print]),
            look("5", &[]),
            look("6", &[Mark::Weight, Mark::Scrape]),
            look("9-40", &[]),
        ];
        let found = Identity::of(10, &looks);
        assert_eq!(found.looked_at, 10);
        assert_eq!(found.left.to_string(), "");
        let missed = [(3, vec![Mark::Print]), (6, vec![Mark::Weight, Mark::Scrape])];
        assert_eq!(found.missed, missed);
        assert_eq!(found.mended.to_string(), "5");
        assert_eq!(Identity::of(12, &looks[..2]).left.to_string(), "9–12");
    }
}
