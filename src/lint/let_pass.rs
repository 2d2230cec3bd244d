//! Comments that let a finding pass: `# let pass CODE: why`, on its line or the one above.

mod comments;

use super::codes::{self, LET_PASS_WITHOUT_REASON, NOTHING_LET_PASS};
use super::{Found, Looked, Rules};
use crate::source::{Files, nearest, read_text};
use comments::{Comment, Said, comments};
use std::collections::BTreeMap;
use std::path::Path;

/// Marks what comments let pass, and tells of comments that let nothing pass. A reason written at a pattern of the
/// sequence file serves where the pattern is judged through an aircraft; of that file's other comments nothing is told.
pub(super) fn apply(file: &str, text: &str, files: &dyn Files, rules: &Rules, looked: &mut Looked) {
    // Of a file that could not be used it is not known what would be found.
    if looked.found.iter().any(|f| f.unusable) {
        return;
    }
    let mut own = comments(file, text);
    let mut others = of_other_files(file, files, looked);
    for one in &mut looked.found {
        let here = one.at.clone();
        for at in std::iter::once(&here).chain(&one.pattern_at.clone()) {
            let list = if &*at.file == file { Some(&mut own) } else { others.get_mut(&*at.file) };
            let fits = |c: &&mut Comment| c.code() == Some(one.code.as_str()) && c.stands_at(at.line);
            if let Some(comment) = list.and_then(|list| list.iter_mut().find(fits)) {
                comment.used = true;
                one.let_pass = one.let_pass.take().or_else(|| comment.reason());
            }
        }
    }
    let told: Vec<Found> = own.iter().filter_map(|c| told(c, looked, rules)).collect();
    looked.found.extend(told);
}

/// The comments of the files besides this one that findings speak of, whose texts are kept to be shown.
fn of_other_files(file: &str, files: &dyn Files, looked: &mut Looked) -> BTreeMap<String, Vec<Comment>> {
    let mut found = BTreeMap::new();
    for at in looked.found.iter().flat_map(|f| std::iter::once(&f.at).chain(&f.pattern_at)) {
        let other = at.file.to_string();
        if other.is_empty() || other == file || found.contains_key(&other) {
            continue;
        }
        let Ok(text) = read_text(files, Path::new(&other)) else { continue };
        looked.sources.add(&other, &text);
        found.insert(other.clone(), comments(&other, &text));
    }
    found
}

/// What is wrong with a comment.
fn told(comment: &Comment, looked: &Looked, rules: &Rules) -> Option<Found> {
    let nothing = |message: String| Some(Found::own(NOTHING_LET_PASS, &comment.at, message));
    match &comment.said {
        Said::Spelt(written) => {
            nothing(format!("this comment lets nothing pass: it begins `{written}`, and not `let pass CODE:`"))
        }
        Said::NoCode => nothing("this comment names no code, so it lets nothing pass".to_string()),
        Said::Several(list) => nothing(format!("`{list}` are several codes, and a comment lets one pass")).map(|f| {
            f.with_help("write a comment for each code: `# let pass CODE: why`, one line each, above the finding")
        }),
        Said::Reasonless(code) => {
            let message = format!("`{code}` is not let pass: the comment gives no reason");
            Some(Found::own(LET_PASS_WITHOUT_REASON, &comment.at, message))
        }
        Said::Whole { .. } if comment.used => None,
        Said::Whole { code, .. } => not_here(comment, code, looked, rules),
    }
}

/// A code that is not found where a comment lets it pass, or is no code.
fn not_here(comment: &Comment, code: &str, looked: &Looked, rules: &Rules) -> Option<Found> {
    let here = looked.found.iter().filter(|f| comment.stands_at(f.at.line)).map(|f| f.code.as_str());
    let here: Vec<&str> = here.collect();
    // What a channel misses that says no light is only found through the aircraft that uses it.
    let of_a_light = codes::own_code(code).is_none() && looked.found.iter().any(|f| f.code == codes::DRIVES_UNSAID);
    if is_code(code, rules) && of_a_light {
        return None;
    }
    if is_code(code, rules) {
        let message = format!("there is no `{code}` here to let pass");
        return Some(Found::own(NOTHING_LET_PASS, &comment.at, message));
    }
    let near = nearest(code, here.into_iter()).or_else(|| nearest(code, all_codes(rules)));
    let help = near.map_or_else(
        || "`lampwright explain lint` lists the codes".to_string(),
        |near| format!("did you mean `{near}`? `lampwright explain lint` lists the codes"),
    );
    let message = format!("no code is called `{code}`, so this comment lets nothing pass");
    Some(Found::own(NOTHING_LET_PASS, &comment.at, message).with_help(&help))
}

fn is_code(code: &str, rules: &Rules) -> bool {
    all_codes(rules).any(|known| known == code)
}

fn all_codes(rules: &Rules) -> impl Iterator<Item = &str> {
    codes::ALL.iter().map(|c| c.code).chain(rules.codes())
}
