//! A command as it is typed: quoted where a shell needs it, and broken where a line ends.

/// On one line.
pub(in crate::show) fn line(words: &[String]) -> String {
    words.iter().map(|word| quoted(word)).collect::<Vec<_>>().join(" ")
}

/// On lines that fit, from this column on; an option stays with its value.
pub(super) fn lines(lines: &mut Vec<String>, label: &str, indent: usize, words: &[String]) {
    const WIDTH: usize = 80;
    let mut groups: Vec<String> = vec![];
    let mut is_value = false;
    for word in words {
        let word = quoted(word);
        match groups.last_mut() {
            Some(group) if is_value && !word.starts_with('-') => *group += &format!(" {word}"),
            _ => groups.push(word.clone()),
        }
        is_value = word.starts_with("--");
    }
    let mut line = format!("{:<indent$}", format!("  {label}"));
    let mut room = 0;
    for (group, at) in groups.iter().zip(0..) {
        let last = at + 1 == groups.len();
        let needed = group.chars().count() + if last { 0 } else { 2 };
        if room > 0 && line.chars().count() + 1 + needed > WIDTH {
            lines.push(format!("{line} \\"));
            line = " ".repeat(indent + 2);
            room = 0;
        }
        if room > 0 {
            line.push(' ');
        }
        line += group;
        room += 1;
    }
    lines.push(line);
}

fn quoted(word: &str) -> String {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || "_./=:+,%@-".contains(c);
    if !word.is_empty() && word.chars().all(is_plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', "'\\''"))
}

#[test]
fn a_shell_reads_back_what_was_meant() {
    let words = ["runproof", "next", "--check", "it's a file.jsonl", "$HOME"].map(str::to_owned);
    let script = format!("for word in {}; do printf '%s\\n' \"$word\"; done", line(&words));
    let said = std::process::Command::new("sh").args(["-c", &script]).output().expect("a shell");
    assert_eq!(String::from_utf8_lossy(&said.stdout), words.map(|word| word + "\n").concat());
}

#[test]
fn a_broken_command_is_the_same_command() {
    let mut words = vec!["printf".to_owned(), "%s\\n".to_owned()];
    words.extend((0..30).flat_map(|n| ["--told".to_owned(), format!("supply number {n}=24.{n}")]));
    let mut broken = vec![];
    lines(&mut broken, "run", 17, &words);
    assert!(
        broken.len() > 5 && broken.iter().all(|line| line.chars().count() <= 80),
        "{broken:#?}"
    );
    let script = broken.join("\n").replacen("  run", "", 1);
    let said = std::process::Command::new("sh").args(["-c", &script]).output().expect("a shell");
    let meant = words[2..].iter().map(|word| format!("{word}\n")).collect::<String>();
    assert_eq!(String::from_utf8_lossy(&said.stdout), meant);
}
