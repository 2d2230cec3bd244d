//! What `lampwright explain` says of words that are no requirement: codes, rule sets, and what `convert` reads.

use super::rules::para;
use crate::rules::RuleSet;
use crate::source::Code;

/// The code of a mistake in a file.
pub(super) fn mistake(word: &str) -> Option<String> {
    let code = Code::find(word)?;
    let help = code.help();
    let mut out = String::new();
    para(&mut out, 0, "code", code.as_str());
    para(&mut out, 0, "weighs", "error: the file cannot be used, whatever the settings say");
    para(&mut out, 0, "told when", help.about);
    para(&mut out, 0, "wrong", help.wrong);
    para(&mut out, 0, "right", help.right);
    Some(out)
}

/// A rule set in few words.
pub(super) fn rule_set(sets: &[RuleSet], word: &str) -> Option<String> {
    let set = sets.iter().find(|set| set.id == word)?;
    let mut out = String::new();
    para(&mut out, 0, "rule set", &set.id);
    para(&mut out, 0, "title", &set.title);
    para(&mut out, 0, "document", &set.document.name);
    para(&mut out, 0, "judges", set.judges.as_str());
    para(
        &mut out,
        0,
        "asks",
        &format!("{} requirements; `lampwright rules show {}` has every one", set.requirements.len(), set.id),
    );
    Some(out)
}

/// What `convert` reads: the name, what it holds, an example, the command and what comes of it.
const FORMATS: &[(&str, [&str; 4])] = &[
    (
        "durations",
        [
            "times in turn lit and dark, for ever, parted by blanks or commas; `#` begins a comment, a last 0 only ends the list",
            "100 150 100 1500",
            "lampwright convert list.txt --from durations --unit ms --channels top",
            "top is lit 100 ms, dark 150 ms, lit 100 ms, dark 1500 ms: a double flash every 1850 ms; `--starts-dark` takes the first time as dark",
        ],
    ),
    (
        "masks",
        [
            "a step a line: a digit for each channel, 1 lit and 0 dark, and how long",
            "10 50; 00 100; 01 50; 00 800 (each on a line of its own)",
            "lampwright convert table.txt --from masks --unit ms --channels tips,tail",
            "tips is lit 50 ms and dark 950 ms; tail is dark 150 ms, lit 50 ms and dark 800 ms",
        ],
    ),
    (
        "times",
        [
            "a CSV of `channel,on,off`: a row a flash, when in the period it begins and ends; `--period` says how long that is",
            "channel,on,off; top,0,100; tail,500,600 (each on a line of its own)",
            "lampwright convert table.csv --from times --unit ms --period '1200 ms'",
            "top is lit 100 ms and dark 1100 ms; tail is dark 500 ms, lit 100 ms and dark 600 ms",
        ],
    ),
];

/// The names of what `convert` reads.
pub(super) fn formats<'a>() -> impl Iterator<Item = &'a str> {
    FORMATS.iter().map(|(name, _)| *name)
}

/// One form that `convert` reads.
pub(super) fn format(word: &str) -> Option<String> {
    let (name, [holds, example, command, gives]) = FORMATS.iter().find(|(name, _)| *name == word)?;
    let mut out = String::new();
    for (label, text) in
        [("convert from", name), ("holds", holds), ("for example", example), ("command", command), ("gives", gives)]
    {
        para(&mut out, 0, label, text);
    }
    Some(out)
}
