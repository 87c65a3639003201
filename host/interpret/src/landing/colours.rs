//! The wires of one end, by terminal and colour, in plain words: no colour stands for anything.

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::limits::ConductorName::{self, Common, DataMinus, DataPlus, Supply};

/// The colour on each of four terminals: data+, data−, common, supply.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Colours([String; 4]);

const TERMINALS: [ConductorName; 4] = [DataPlus, DataMinus, Common, Supply];

/// A longer word is no colour.
const CHARS_MAX: usize = 30;

/// A text does not say the colour on each terminal.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotColours {
    /// A part is not `terminal=colour`.
    #[error("`{0}` must be a terminal, = and a colour, such as data+=white")]
    NotAPair(String),
    /// There is no such terminal.
    #[error("`{0}` is no terminal: data+, data-, common and supply are")]
    NoTerminal(String),
    /// A terminal is there more than once.
    #[error("`{0}` is there twice")]
    Twice(String),
    /// A terminal is not there.
    #[error(
        "all four terminals are needed, such as \
         data+=white,data-=green,common=brown,supply=red"
    )]
    Missing,
    /// Two wires of one colour cannot be told apart.
    #[error("two wires are `{0}`: say what else tells them apart, such as `{0} striped`")]
    Alike(String),
}

impl Colours {
    /// Of the wire on this terminal.
    #[must_use]
    pub fn on(&self, terminal: ConductorName) -> Option<&str> {
        let at = TERMINALS.iter().position(|one| *one == terminal)?;
        Some(&self.0[at])
    }

    /// On data+, data−, common and supply.
    #[must_use]
    pub fn all(&self) -> [&str; 4] {
        self.0.each_ref().map(String::as_str)
    }

    /// The terminal that has the wire of this colour.
    pub(super) fn terminal(&self, colour: &str) -> Option<ConductorName> {
        let at = self.0.iter().position(|one| one == colour)?;
        Some(TERMINALS[at])
    }
}

impl FromStr for Colours {
    type Err = NotColours;

    fn from_str(text: &str) -> Result<Self, NotColours> {
        let mut found: [Option<String>; 4] = [const { None }; 4];
        for part in text.split(',').map(str::trim).filter(|part| !part.is_empty()) {
            let pair = part.split_once('=').map(|(terminal, colour)| {
                (terminal.trim().to_lowercase().replace('−', "-"), colour.trim().to_lowercase())
            });
            let is_word = |colour: &str| {
                !colour.is_empty()
                    && colour.chars().count() <= CHARS_MAX
                    && !colour.contains('=')
                    && !colour.chars().any(char::is_control)
            };
            let (terminal, colour) = pair
                .filter(|(_, colour)| is_word(colour))
                .ok_or_else(|| NotColours::NotAPair(part.into()))?;
            let at = ["data+", "data-", "common", "supply"].iter().position(|one| *one == terminal);
            let at = at.ok_or_else(|| NotColours::NoTerminal(terminal.clone()))?;
            if found[at].is_some() {
                return Err(NotColours::Twice(terminal));
            }
            if found.iter().flatten().any(|other| *other == colour) {
                return Err(NotColours::Alike(colour));
            }
            found[at] = Some(colour);
        }
        let [Some(plus), Some(minus), Some(common), Some(supply)] = found else {
            return Err(NotColours::Missing);
        };
        Ok(Self([plus, minus, common, supply]))
    }
}

impl TryFrom<String> for Colours {
    type Error = NotColours;

    fn try_from(text: String) -> Result<Self, NotColours> {
        text.parse()
    }
}

/// As it is read.
impl From<Colours> for String {
    fn from(Colours([plus, minus, common, supply]): Colours) -> Self {
        format!("data+={plus},data-={minus},common={common},supply={supply}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_read_by_terminal() {
        let text = " supply=Red, data+ = white ,data−=white striped,common=BROWN,";
        let colours: Colours = text.parse().expect("colours");
        let on = TERMINALS.map(|terminal| colours.on(terminal));
        assert_eq!(on, ["white", "white striped", "brown", "red"].map(Some));
        assert_eq!(colours.terminal("red"), Some(Supply));
        assert_eq!(colours.on(ConductorName::Wire1), None);
    }

    #[test]
    fn what_is_wrong_is_told() {
        use NotColours::{Alike, Missing, NoTerminal, NotAPair, Twice};
        let rest = "data-=green,common=brown,supply=red";
        for (text, error) in [
            (format!("white,{rest}"), NotAPair("white".into())),
            (format!("data+=,{rest}"), NotAPair("data+=".into())),
            (format!("data+=a=b,{rest}"), NotAPair("data+=a=b".into())),
            (format!("data+=a\u{1b}b,{rest}"), NotAPair("data+=a\u{1b}b".into())),
            (format!("earth=white,{rest}"), NoTerminal("earth".into())),
            (format!("data-=white,{rest}"), Twice("data-".into())),
            (format!("data+=green,{rest}"), Alike("green".into())),
            (rest.into(), Missing),
            (String::new(), Missing),
        ] {
            assert_eq!(text.parse::<Colours>(), Err(error), "{text}");
        }
    }
}
