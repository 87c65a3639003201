//! Durations on the command line: `30s`, `10min`.

use std::time::Duration;

/// A day: nobody waits longer on purpose.
const DAY_SECONDS: u64 = 24 * 60 * 60;

/// A whole number and its unit: seconds, minutes or hours.
pub(super) fn read(text: &str) -> Result<Duration, String> {
    read_up_to(text, DAY_SECONDS, "a day at most")
}

/// The same of a watch that nobody stands beside.
pub(super) fn read_long(text: &str) -> Result<Duration, String> {
    read_up_to(text, 30 * DAY_SECONDS, "30 days at most, 720h")
}

fn read_up_to(text: &str, most_seconds: u64, at_most: &str) -> Result<Duration, String> {
    let digits = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let (number, unit) = text.split_at(digits);
    let seconds_each = match unit {
        "s" => 1,
        "min" => 60,
        "h" => 3_600,
        _ => {
            return Err(
                "give a whole number with s, min or h (minutes are min), such as 30s or 10min"
                    .into(),
            );
        }
    };
    let seconds = number.parse::<u64>().ok().and_then(|number| number.checked_mul(seconds_each));
    match seconds {
        Some(seconds) if seconds <= most_seconds => Ok(Duration::from_secs(seconds)),
        Some(_) => Err(at_most.into()),
        None => Err("give a whole number before the unit, such as 30s or 10min".into()),
    }
}

#[test]
fn a_number_with_its_unit() {
    assert_eq!(read("30s"), Ok(Duration::from_secs(30)));
    assert_eq!(read("10min"), Ok(Duration::from_secs(600)));
    assert_eq!(read("24h"), Ok(Duration::from_secs(86_400)));
    assert_eq!(read("0s"), Ok(Duration::ZERO));
    assert_eq!(read_long("720h"), Ok(Duration::from_secs(30 * 86_400)));
    assert!(read_long("721h").is_err());
}

#[test]
fn anything_else_says_what_to_give() {
    for text in ["", "s", "30", "1.5min", "-1s", "30 s", "30sec", "25h", "99999999999999999999s"] {
        assert!(read(text).is_err(), "{text}");
    }
}
