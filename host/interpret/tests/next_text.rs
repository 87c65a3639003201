//! A file of steps that cannot be used is refused, with the line and the key.

use runproof_interpret::next::{BUILT_IN, Steps};

/// Asks two things, and says what follows.
const SMALL: &str = "\
name = 'small'
version = '1'
about = 'Tries.'
sheets = ['service-24vac']
source = 'common practice, no source'

[[fact]]
key = 'power'
about = 'it has power'
kind = 'yes-no'
question = 'Has it power?'

[[fact]]
key = 'volts'
about = 'volts'
kind = 'number'
unit = 'V'
least = 0
most = 60
measured = 'live-plate.supply-v'
question = 'How many?'

[[fact]]
key = 'cable'
about = 'with another cable'
kind = 'outcome'
values = ['works', 'fails']
question = 'Does it work?'

[[fact]]
key = 'hazard'
about = 'more than may be'
kind = 'yes-no'
measured = 'live-plate.hazard'

[[suspect]]
name = 'supply'
text = 'no supply'
all = ['volts above 20']

[[step]]
name = 'stop'
all = ['hazard is yes']
do = 'Stop.'
hands = 'keep-off'

[[step]]
name = 'restore'
all = ['power is no']
do = 'Bring it back.'
hands = 'wires'
bench = { power = 'off' }

[[step]]
name = 'proven'
all = ['cable is works']
conclude = 'It is the cable.'
wiring = 'at-fault'
rules_out = ['supply']

[[step]]
name = 'ask-power'
ask = 'power'

[[step]]
name = 'measure'
do = 'Measure.'
measure = 'live-plate'
settles = ['volts']
tell = 'It has 20 V.'
hands = 'live'
bench = { power = 'on', ends = 'plate-open' }

[[step]]
name = 'try'
any = ['volts below 20', 'volts is unknown']
do = 'Try another cable.'
settles = ['cable']
tell = 'It works or not.'
hands = 'wires'
bench = { power = 'off', ends = 'lifted' }
leaves = { power = 'on', ends = 'bypassed' }

[[step]]
name = 'rest'
conclude = 'It is something else.'
wiring = 'undecided'
";

fn read(text: &str) -> String {
    Steps::read(text).map_or_else(|error| error.to_string(), |_| "read".into())
}

fn error(from: &str, to: &str) -> String {
    assert!(SMALL.contains(from), "{from}");
    read(&SMALL.replacen(from, to, 1))
}

#[test]
fn the_small_one_can_be_used() {
    assert_eq!(read(SMALL), "read");
}

#[test]
fn an_error_names_line_key_and_reason() {
    let errors = [
        error("key = 'volts'", "key = 'power'"),
        error("key = 'volts'", "key = 'the volts'"),
        error("kind = 'yes-no'", "kind = 'maybe'"),
        error("unit = 'V'\n", ""),
        error("most = 60", "most = 0"),
        error("most = 60", "most = inf"),
        error("values = ['works', 'fails']\n", ""),
        error("'works', 'fails'", "'works', 'works'"),
        error("'works', 'fails'", "'works', 'unknown'"),
        error("'live-plate.supply-v'", "'live-plate.suply-v'"),
        error("'live-plate.supply-v'", "'live-plate.hazard'"),
        error("question = 'Has it power?'\n", ""),
        error("question = 'Has it power?'", "question = ' '"),
        error("'power is no'", "'power no'"),
        error("'power is no'", "'powr is no'"),
        error("'power is no'", "'power is off'"),
        error("'power is no'", "'power below 3'"),
        error("'volts below 20'", "'volts is 20'"),
        error("'volts below 20'", "'volts below 200'"),
        error("['supply']", "['suply']"),
        error("ask = 'power'", "ask = 'powr'"),
        error("ask = 'power'", "ask = 'power'\nconclude = 'x'"),
        error("hands = 'wires'\n", ""),
        error("hands = 'wires'", "hands = 'gloves'"),
        error("tell = 'It has 20 V.'\n", ""),
        error("settles = ['volts']\n", ""),
        error("wiring = 'at-fault'\n", ""),
        error("wiring = 'at-fault'", "wiring = 'bad'"),
        error("rules_out = ['supply']", "settles = ['cable']"),
        error("version = '1'\n", ""),
        error("[[suspect]]", "[[suspects]]"),
        error("all = ['volts above 20']\n", ""),
    ];
    insta::assert_snapshot!(errors.join("\n"), @r#"
    line 14: `key`: another fact has this name
    line 14: `key`: must be small letters, digits and hyphens
    line 10: `kind`: unknown variant `maybe`, expected one of `yes-no`, `outcome`, `number`
    line 13: `unit`: is missing here
    line 19: `most`: must be above `least`
    line 19: `most`: must be a number
    line 23: `values`: is missing here
    line 27: `values`: must be two words or more, each once, of small letters, digits and hyphens; "unknown" is understood
    line 27: `values`: must be two words or more, each once, of small letters, digits and hyphens; "unknown" is understood
    line 20: `measured`: no capture tells `live-plate.suply-v`; near to it: live-plate.supply-v, live-adapter.supply-v, live-plate.supply-kind; there are check.verdict, check.found, check.hazard, to-earth.verdict, live-adapter.hazard, live-adapter.second-source, live-adapter.foreign, live-adapter.fault, live-adapter.supply-v, live-adapter.supply-kind, live-adapter.pair-v, live-adapter.traffic, live-plate.hazard, live-plate.second-source, live-plate.foreign, live-plate.fault, live-plate.supply-v, live-plate.supply-kind, live-plate.pair-v, live-plate.traffic
    line 20: `measured`: `live-plate.hazard` is yes, no, and this fact cannot be that
    line 8: `key`: nobody can give it: it needs `measured`, `question` or both, or `less` or `earlier`
    line 11: `question`: must say something
    line 49: `all`: must be like "FACT is VALUE", "FACT is not VALUE", "FACT is unknown", "FACT below NUMBER" or "FACT above NUMBER"
    line 49: `all`: there is no fact `powr`; near to it: power
    line 49: `all`: `power` cannot be `off`: it is yes, no
    line 49: `all`: `power` has no side of `3`: it is yes, no
    line 76: `any`: `volts` is a number: say "below" or "above"
    line 76: `any`: `volts` has no side of `200`: it is a number from 0 to 60, in V
    line 59: `rules_out`: there is no suspect `suply`; near to it: supply
    line 63: `ask`: there is no fact `powr`; near to it: power
    line 62: `name`: needs one of `ask`, `do` and `conclude`
    line 48: `name`: needs `hands`: "none", "live", "wires", "pair" or "keep-off"
    line 51: `hands`: unknown variant `gloves`, expected one of `none`, `live`, `wires`, `pair`, `keep-off`
    line 66: `name`: needs `tell`: how its outcome is told
    line 68: `measure`: needs `settles`: what is known after it
    line 55: `name`: needs `wiring`: "at-fault", "cleared" or "undecided"
    line 58: `wiring`: unknown variant `bad`, expected one of `at-fault`, `cleared`, `undecided`
    line 59: `settles`: is for a step with `do`
    `version`: is missing
    line 36: `suspects`: unknown field `suspects`, expected one of `name`, `version`, `about`, `sheets`, `source`, `fact`, `never`, `suspect`, `step`
    line 37: `name`: needs `all` or `any`: what rules it out
    "#);
}

/// What each line says is right, and yet it does not come to an end, or not by all of its steps.
#[test]
fn an_error_of_the_whole_names_the_step() {
    let last =
        "[[step]]\nname = 'rest'\nconclude = 'It is something else.'\nwiring = 'undecided'\n";
    let errors = [
        // It does not end.
        error(last, ""),
        error("name = 'rest'", "name = 'rest'\nall = ['power is yes']"),
        error("conclude = 'It is something else.'\nwiring = 'undecided'", "ask = 'cable'"),
        // A step that nothing leads to.
        error("name = 'proven'", "name = 'proven'\nany = ['power is no']"),
        error("all = ['cable is works']\n", ""),
        // Asked twice.
        error("name = 'try'", "name = 'again'\nask = 'power'\n\n[[step]]\nname = 'try'"),
        error("settles = ['cable']", "settles = ['cable', 'cable']"),
        // Given for ever.
        error("question = 'How many?'\n", "").replace("read", "read, as it is measured"),
        read(
            &SMALL
                .replace("question = 'How many?'\n", "")
                .replace("measure = 'live-plate'", "measure = 'check'"),
        ),
        // What nothing depends on.
        read(&SMALL.replace("'power is no'", "'cable is fails'")),
        error("name = 'try'", "name = 'proven'"),
    ];
    insta::assert_snapshot!(errors.join("\n"), @r#"
    line 75: `name`: the last step must be an end without conditions: it is what is said when nothing else is left, in whatever order things are told
    line 85: `name`: the last step must be an end without conditions: it is what is said when nothing else is left, in whatever order things are told
    line 85: `name`: the last step must be an end without conditions: it is what is said when nothing else is left, in whatever order things are told
    line 55: `name`: no answers lead to this step: another one always comes first, or its conditions never hold together
    line 24: `key`: nothing depends on `cable`: no condition has it
    line 75: `name`: no answers lead to this step: another one always comes first, or its conditions never hold together
    line 78: `settles`: `cable` stands here twice
    read, as it is measured
    line 68: `settles`: this step would be given for ever: it does not measure `volts`, and that has no `question`
    line 8: `key`: nothing depends on `power`: no condition has it
    line 75: `name`: another step has this name
    "#);
}

/// A step that touches more than it says is refused, whatever it is called; so is a sheet that there is none of.
#[test]
fn a_weaker_caution_is_refused() {
    let errors = [
        error("hands = 'live'", "hands = 'none'"),
        error("hands = 'live'", "hands = 'wires'"),
        error("power = 'on', ends = 'plate-open'", "power = 'off', ends = 'lifted'"),
        error("bench = { power = 'on', ends = 'plate-open' }\n", ""),
        error("bench = { power = 'off' }\n", ""),
        error("'Try another cable.'", "'Exchange the two.'").replace("read", "read, with wires"),
        error("hands = 'wires'", "hands = 'none'").replace("read", "read, nothing said of wires"),
        read(&SMALL.replacen("Bring it back.", "Lift it.", 1).replacen(
            "hands = 'wires'",
            "hands = 'none'",
            1,
        )),
        error("'Bring it back.'", "'Reset the breaker.'"),
        error("name = 'restore'", "name = 'restore-power'"),
        error("name = 'restore'", "name = 'exchange-pair'"),
        error("all = ['hazard is yes']\n", "all = ['hazard is yes', 'power is no']\n"),
        error("['service-24vac']", "['service-24vac', 'servce-24vac']"),
        error("['service-24vac']", "[]"),
        error("bench = { power = 'off' }", "bench = { power = 'out' }"),
        error("hands = 'live'", "hands = 'live'\nremedy = ['live-plate']"),
        error(
            "measured = 'live-plate.supply-v'\nquestion = 'How many?'",
            "less = ['power', 'volts']",
        ),
    ];
    insta::assert_snapshot!(errors.join("\n"), @r#"
    line 71: `hands`: "live-plate" has hands on more: say "live", which gives its caution
    line 71: `hands`: "live-plate" has hands on more: say "live", which gives its caution
    line 72: `bench`: "live-plate" is measured with power = "on", ends = "landed" or "plate-open": say so
    line 66: `bench`: is missing here: "live-plate" is measured with power = "on", ends = "landed" or "plate-open": say so
    line 48: `bench`: is missing here: with "wires" hands say power = "off"
    read, with wires
    read, nothing said of wires
    line 51: `hands`: the text speaks of "lift", and no hands are on anything: say "wires" or "live", which gives its caution
    line 48: `caution`: is missing here: the text speaks of "breaker"; say that it is mains, and whose work that is
    line 48: `caution`: the built-in step of this name has the caution "Breakers and disconnects are mains: for whoever is licensed for that.": keep it; more may be added
    line 51: `hands`: the built-in step of this name has "pair": say that, which gives its caution
    line 68: `measure`: nothing stops who measures "live-plate": a fact that is measured by "live-plate.hazard", and a step with hands "keep-off" for it, before every other kind of step
    line 4: `sheets`: there is no limit sheet `servce-24vac`; near to it: service-24vac, service-12vdc; there are service-24vac, acceptance-24vac, service-12vdc, two-wire-bus, made-up-lead, reel. Give one of your own with --sheet FILE
    line 4: `sheets`: names none: name each limit sheet whose runs these steps are for
    line 52: `bench`: unknown variant `out`, expected `on` or `off`
    line 72: `remedy`: is "check" or "to-earth", of a step with `do` or `conclude`
    line 20: `less`: `power` is no number in the same unit that is measured or told: name two such facts
    "#);
    let own = SMALL.replace("'service-24vac'", "'my-sheet'");
    assert!(read(&own).contains("there is no limit sheet `my-sheet`"));
    assert!(Steps::read_for(&own, &["my-sheet"]).is_ok());
}

/// What is open again, what cannot be together, and what is measured again.
#[test]
fn rounds_and_contradictions_are_checked() {
    let until = |until: &str| {
        let to = format!("question = 'Does it work?'\nuntil = {until}");
        error("question = 'Does it work?'", &to)
    };
    assert_eq!(until("['power is no']"), "read");
    assert!(
        until("['powr is no']").ends_with("`until`: there is no fact `powr`; near to it: power")
    );
    assert!(until("['cable is works']").contains("must be about another fact"));
    let never = |never: &str| error("[[suspect]]", &format!("[[never]]\n{never}\n[[suspect]]"));
    let both = "all = ['power is no', 'volts above 20']\ntext = 'No.'\n";
    assert_eq!(never(&format!("{both}drops = 'volts'")), "read");
    assert!(never(&format!("{both}drops = 'cable'")).contains("must be one of the facts in `all`"));
    assert!(
        error("hands = 'live'", "hands = 'live'\nagain = 'check'")
            .contains("`again`: is for an end")
    );
    let before =
        "[[fact]]\nkey = 'before'\nabout = 'b'\nkind = 'yes-no'\nearlier = 'cable'\n\n[[suspect]]";
    assert!(
        error("[[suspect]]", before).contains("`earlier`: `cable` is no fact that is measured")
    );
}

/// In the built-in file no caution can be dropped and no hands be taken off unnoticed.
#[test]
fn no_built_in_caution_can_be_dropped() {
    let lines: Vec<&str> = BUILT_IN.lines().collect();
    let mut tried = 0;
    for at in 0..lines.len() {
        let to = match lines[at] {
            line if line.starts_with("caution = ") => "",
            "hands = \"live\""
            | "hands = \"wires\""
            | "hands = \"pair\""
            | "hands = \"keep-off\"" => "hands = \"none\"",
            _ => continue,
        };
        let weaker = [&lines[..at], &[to], &lines[at + 1..]].concat().join("\n");
        let error = Steps::read_unwalked(&weaker).expect_err(lines[at]);
        let key = if to.is_empty() { "caution" } else { "hands" };
        assert_eq!(error.key.as_deref(), Some(key), "{}: {error}", at + 1);
        assert!(error.line.is_some(), "{error}");
        tried += 1;
    }
    assert!(tried > 30, "{tried}");
}

/// A line that is lost never goes unnoticed, unless it is blank, a remark, or only adds.
#[test]
fn every_line_counts() {
    let whole = Steps::read_unwalked(BUILT_IN).expect("built in");
    let lines: Vec<&str> = BUILT_IN.lines().collect();
    for lost in 0..lines.len() {
        if lines[lost].is_empty() || lines[lost].starts_with('#') {
            continue;
        }
        let rest = [&lines[..lost], &lines[lost + 1..]].concat().join("\n");
        assert_ne!(Steps::read_unwalked(&rest).as_ref(), Ok(&whole), "{}", lines[lost]);
    }
}

/// One byte lost or changed gives steps that end, or an error that has a reason.
#[test]
fn a_damaged_file_is_an_error_or_still_ends() {
    for at in (0..SMALL.len()).filter(|at| SMALL.is_char_boundary(*at)) {
        for put in ["", "-", "9", "'", "[", "\n"] {
            match Steps::read(&format!("{}{put}{}", &SMALL[..at], &SMALL[at + 1..])) {
                Ok(steps) => assert!(
                    steps.walked.ways > 0 && steps.steps.last().is_some_and(|last| last.is_end())
                ),
                Err(error) => assert!(!error.reason.is_empty(), "{at} {put}"),
            }
        }
    }
}
