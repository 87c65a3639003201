//! Durations, ohms and counts of a flexed run.

use runproof_interpret::flex::Lasted;

/// "60 µs", "0.42 ms", "2.1 ms", "85 ms", "3.2 s", "5 min", "2 h 5 min".
pub(crate) fn duration(us: u64) -> String {
    let part = |value: f64, unit: &str| match value {
        0.0..0.995 => format!("{value:.2} {unit}"),
        0.995..9.95 => format!("{value:.1} {unit}"),
        _ => format!("{value:.0} {unit}"),
    };
    let minutes = (us + 500_000) / 60_000_000;
    let seconds = (us + 500_000) / 1_000_000 % 60;
    match us {
        0..100 => format!("{us} µs"),
        100..999_500 => part(us as f64 / 1e3, "ms"),
        999_500..59_500_000 => part(us as f64 / 1e6, "s"),
        _ => match (minutes / 60, minutes % 60, seconds) {
            (0, minutes, 0) => format!("{minutes} min"),
            (0, minutes, seconds) => format!("{minutes} min {seconds} s"),
            (hours, 0, _) => format!("{hours} h"),
            (hours, minutes, _) => format!("{hours} h {minutes} min"),
        },
    }
}

/// "for 0.42 ms", "for less than 10 µs", "for at least 3 ms".
pub(crate) fn lasted(lasted: Lasted) -> String {
    let told = duration(lasted.micros());
    match lasted {
        Lasted::Micros(_) => format!("for {told}"),
        Lasted::AtMostMicros(_) => format!("for less than {told}"),
        Lasted::AtLeastMicros(_) => format!("for at least {told}"),
        Lasted::StillAtEnd(_) => format!("for {told}, until the end"),
    }
}

/// "0.48 Ω"; a minus as it is printed.
pub(crate) fn ohms(ohm: f64) -> String {
    let told = match ohm.abs() {
        0.0..10.0 => format!("{ohm:.2} Ω"),
        10.0..1000.0 => format!("{ohm:.0} Ω"),
        _ => format!("{:.1} kΩ", ohm / 1e3),
    };
    told.replace('-', "−")
}

/// More than at rest: "+2.03 Ω", "−0.05 Ω".
pub(crate) fn rise(ohm: f64) -> String {
    if ohm > -0.005 { format!("+{}", ohms(ohm.abs())) } else { ohms(ohm) }
}

/// "once", "14 times".
pub(crate) fn times(count: u64) -> String {
    if count == 1 { "once".into() } else { format!("{count} times") }
}

#[test]
fn durations_have_two_digits() {
    let told = [7, 60, 99, 100, 420, 2_140, 85_400, 999_499, 999_500, 3_240_000, 59_400_000];
    let said = told.map(duration);
    let expected = [
        "7 µs", "60 µs", "99 µs", "0.10 ms", "0.42 ms", "2.1 ms", "85 ms", "999 ms", "1.0 s",
        "3.2 s", "59 s",
    ];
    assert_eq!(said, expected);
    assert_eq!(duration(300_000_000), "5 min");
    assert_eq!(duration(59_700_000), "1 min");
    assert_eq!(duration(605_000_000), "10 min 5 s");
    assert_eq!(duration(7_500_000_000), "2 h 5 min");
    assert_eq!(ohms(-0.05), "−0.05 Ω");
    assert_eq!([rise(-0.004), rise(2.03), rise(-0.05)], ["+0.00 Ω", "+2.03 Ω", "−0.05 Ω"]);
}
