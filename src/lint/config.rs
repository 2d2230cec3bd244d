//! The settings of lint: a small file of what each code weighs.

use super::codes;
use crate::report::Severity;
use crate::rules::RuleSet;
use crate::source::{Code, Decode, Located, Named, Rejected, Sink, Text, header, nearest, parse, record};
use std::collections::BTreeMap;

record! {
    /// Settings of lint.
    what "lint settings";
    pub struct LintFile {
        /// `lint 1`: what this file is.
        pub lampwright: Located<Text>,
        /// The rule set for sequences that name none.
        pub judge_by: Option<Located<Text>>,
        /// What a code weighs: `error`, `warning`, `note`, or `off`.
        #[schemars(default)]
        pub severity: Named<Located<Severity>>,
    }
}

/// What each code weighs, where that was set.
#[derive(Debug, Clone, Default)]
pub struct Settings {
    /// The file they were read from.
    pub file: Option<String>,
    /// The rule set for sequences that name none.
    pub judge_by: Option<String>,
    /// Weights by code.
    pub severity: BTreeMap<String, Severity>,
}

impl Settings {
    /// Reads a settings file.
    ///
    /// # Errors
    /// Everything that is wrong in it; a code that nothing here can find is.
    pub fn read(file: &str, text: &str, sets: &[RuleSet]) -> Result<Self, Rejected> {
        let mut sink = Sink::new();
        let declared = parse(file, text, &mut sink).and_then(|node| {
            header(&node, "lint", &mut sink)?;
            LintFile::decode(&node, &mut sink)
        });
        let settings = declared.map(|declared| {
            let own = codes::ALL.iter().map(|c| c.code);
            let known: Vec<&str> =
                own.chain(sets.iter().flat_map(|s| s.requirements.iter().map(|r| r.id.as_str()))).collect();
            for (name, _) in declared.severity.0.iter().filter(|(name, _)| !known.contains(&name.value.as_str())) {
                let instead = nearest(&name.value, known.iter().copied()).map_or_else(
                    || "`lampwright explain lint` lists them".to_string(),
                    |near| format!("did you mean `{near}`? `lampwright explain lint` lists them"),
                );
                sink.say(Code::UnknownName, &name.at, format!("no code is called `{}`", name.value), instead);
            }
            let asked = declared.judge_by.as_ref().filter(|asked| !sets.iter().any(|s| s.id == asked.0));
            if let Some(asked) = asked {
                let instead = nearest(&asked.0, sets.iter().map(|s| s.id.as_str())).map_or_else(
                    || "`lampwright rules list` lists them".to_string(),
                    |near| format!("did you mean `{near}`?"),
                );
                sink.say(Code::UnknownName, &asked.at, format!("no rule set is called `{}`", asked.0), instead);
            }
            Self {
                file: Some(file.to_string()),
                judge_by: declared.judge_by.as_ref().map(|j| j.0.clone()),
                severity: declared.severity.0.iter().map(|(name, s)| (name.value.clone(), s.value)).collect(),
            }
        });
        sink.finish(settings)
    }
}
