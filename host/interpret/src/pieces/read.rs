//! Known pieces as text.

use serde::Deserialize;
use toml::Spanned;

use super::{Piece, PieceSet};
use crate::SheetError;
use crate::judgement::{FindingKind, Verdict};
use crate::limits::ConductorName;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Set {
    name: Spanned<String>,
    version: String,
    calibrated: Option<Spanned<String>>,
    due: Option<Spanned<String>>,
    piece: Vec<One>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct One {
    name: Spanned<String>,
    about: String,
    verdict: Verdict,
    found: Vec<FindingKind>,
    ohm: Conductors<[f64; 2]>,
    calibrated_ohm: Option<Conductors<f64>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Conductors<T> {
    #[serde(rename = "data+")]
    data_plus: Option<Spanned<T>>,
    #[serde(rename = "data-")]
    data_minus: Option<Spanned<T>>,
    common: Option<Spanned<T>>,
    supply: Option<Spanned<T>>,
}

impl<T> Conductors<T> {
    fn told(self) -> impl Iterator<Item = (ConductorName, Spanned<T>)> {
        let Self { data_plus, data_minus, common, supply } = self;
        let each = ConductorName::FOUR.into_iter().zip([data_plus, data_minus, common, supply]);
        each.filter_map(|(name, told)| Some((name, told?)))
    }
}

pub(super) fn read(text: &str) -> Result<PieceSet, SheetError> {
    let set: Set = toml::from_str(text).map_err(|error| SheetError::parsing(text, &error))?;
    if set.name.as_ref().trim().is_empty() {
        return Err(SheetError::at(text, set.name.span().start, "is empty"));
    }
    for day in [&set.calibrated, &set.due].into_iter().flatten() {
        if !is_day(day.as_ref()) {
            return Err(SheetError::at(text, day.span().start, "is no day: write 2026-01-31"));
        }
    }
    let mut pieces: Vec<Piece> = vec![];
    for one in set.piece {
        let name = one.name.as_ref();
        let is_plain = |c: char| c.is_ascii_alphanumeric() || c == '-';
        if name.is_empty() || !name.chars().all(is_plain) {
            let why = "is a name of letters, digits and dashes";
            return Err(SheetError::at(text, one.name.span().start, why));
        }
        if pieces.iter().any(|piece| piece.name == *name) {
            return Err(SheetError::at(text, one.name.span().start, "is there twice"));
        }
        pieces.push(piece(text, one, set.calibrated.is_some())?);
    }
    for verdict in [Verdict::Pass, Verdict::Fail] {
        if !pieces.iter().any(|piece| piece.verdict == verdict) {
            let why = "at least one piece must pass and one must fail: a jig that says the same of all is proved by neither";
            return Err(SheetError { line: None, key: Some("piece".into()), reason: why.into() });
        }
    }
    if let (Some(calibrated), Some(due)) = (&set.calibrated, &set.due)
        && due.as_ref() <= calibrated.as_ref()
    {
        return Err(SheetError::at(text, due.span().start, "is not after the day of calibration"));
    }
    Ok(PieceSet {
        name: set.name.into_inner(),
        version: set.version,
        calibrated: set.calibrated.map(Spanned::into_inner),
        due: set.due.map(Spanned::into_inner),
        pieces,
    })
}

fn piece(text: &str, one: One, has_day: bool) -> Result<Piece, SheetError> {
    let mut ohm = vec![];
    for (name, within) in one.ohm.told() {
        let [least, most] = *within.as_ref();
        if !(least.is_finite() && most.is_finite() && least < most) {
            let why = "is two numbers of ohms, the smaller one first";
            return Err(SheetError::at(text, within.span().start, why));
        }
        ohm.push((name, [least, most]));
    }
    let mut calibrated_ohm = vec![];
    for (name, measured) in one.calibrated_ohm.into_iter().flat_map(Conductors::told) {
        let told = *measured.as_ref();
        let within = ohm.iter().find(|(conductor, _)| *conductor == name);
        let why = match within {
            _ if !has_day => "needs `calibrated`, the day on which it was measured",
            Some((_, [least, most])) if (*least..=*most).contains(&told) => {
                calibrated_ohm.push((name, told));
                continue;
            }
            _ => "is not within what the piece is stated to read, its `ohm`",
        };
        return Err(SheetError::at(text, measured.span().start, why));
    }
    Ok(Piece {
        name: one.name.into_inner(),
        about: one.about,
        verdict: one.verdict,
        found: one.found,
        ohm,
        calibrated_ohm,
    })
}

/// Year, month and day; that the month has so many is left to whoever reads calendars.
fn is_day(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return false };
    let within = |text: &str, length: usize, from: u32, to: u32| {
        let number = text.parse::<u32>().ok().filter(|_| text.len() == length);
        number.is_some_and(|number| (from..=to).contains(&number))
    };
    within(year, 4, 1, 9999) && within(month, 2, 1, 12) && within(day, 2, 1, 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pieces_of_this_design() {
        let pieces = PieceSet::built_in();
        let names: Vec<&str> = pieces.pieces.iter().map(|piece| piece.name.as_str()).collect();
        assert_eq!(names, ["good", "crossed", "open"]);
        let crossed = pieces.piece("crossed").expect("it is there");
        assert_eq!((crossed.verdict, crossed.ohm.len()), (Verdict::Fail, 4));
        assert_eq!(pieces.piece("open").map(|piece| piece.ohm.len()), Some(3));
    }

    #[test]
    fn what_was_calibrated_lies_within_what_is_stated() {
        let dated = PieceSet::built_in_text().replacen("# calibrated", "calibrated", 1);
        let with = |ohm: &str| {
            let told = format!("found = []\ncalibrated_ohm = {{ common = {ohm} }}");
            PieceSet::read(&dated.replacen("found = []", &told, 1))
        };
        let good = with("0.0812").expect("read").pieces.remove(0);
        assert_eq!(good.calibrated_ohm, [(ConductorName::Common, 0.0812)]);
        for beyond in ["0.3", "nan"] {
            assert!(with(beyond).expect_err("beyond").to_string().contains("is not within"));
        }
    }

    #[test]
    fn whatever_is_wrong_has_its_line() {
        let whole = PieceSet::built_in_text();
        for (from, to, line, told) in [
            ("version = \"1\"", "version = \"1\"\ndue = \"2027-13-01\"", 4, "is no day"),
            ("name = \"open\"", "name = \"good\"", 25, "is there twice"),
            ("name = \"open\"", "name = \"o p\"", 25, "letters, digits"),
            ("[0.90, 1.20]", "[1.20, 0.90]", 22, "the smaller one first"),
            ("[0.90, 1.20]", "[nan, 0.90]", 22, "the smaller one first"),
            ("\"data+\" = [-0.40", "\"data\" = [-0.40", 29, ""),
            ("verdict = \"pass\"", "verdict = \"good\"", 13, ""),
            ("found = [\"open\"]", "found = [\"opened\"]", 28, ""),
            (
                "found = []",
                "found = []\ncalibrated_ohm = { common = 0.08 }",
                15,
                "needs `calibrated`",
            ),
        ] {
            let text = whole.replacen(from, to, 1);
            assert_ne!(text, whole, "{from}");
            let error = PieceSet::read(&text).expect_err(to);
            assert_eq!(error.line, Some(line), "{to}: {error}");
            assert!(error.to_string().contains(told), "{to}: {error}");
        }
        assert!(PieceSet::read("name = \"x\"\nversion = \"1\"\npiece = []").is_err());
        let all_pass = whole.replace("verdict = \"fail\"", "verdict = \"pass\"");
        assert!(PieceSet::read(&all_pass).is_err(), "nothing that must fail");
    }
}
