//! The report a person reads, at 80 columns: what is missed first, then what cannot be told, then what is met.

use super::Render;
use super::parts::lint_text::lint_text;
use super::words::goals::{details, margin};
use crate::judge::Verdict;
use crate::report::{GoalReport, LintReport, Report, RuleSetHead, Tally};
use crate::rules::RuleKind;
use anstyle::{AnsiColor, Style};
use std::io::{self, Write};

const WIDTH: usize = 80;
const LABEL: usize = 12;

/// See [`Render`].
pub struct PlainText;

impl Render for PlainText {
    fn name(&self) -> &'static str {
        "text"
    }

    fn write(&self, report: &Report, colour: bool, out: &mut dyn Write) -> io::Result<()> {
        Page { out, colour }.report(report)
    }

    fn write_lint(&self, report: &LintReport, colour: bool, out: &mut dyn Write) -> io::Result<()> {
        lint_text(report, colour, out)
    }
}

struct Page<'a> {
    out: &'a mut dyn Write,
    colour: bool,
}

impl Page<'_> {
    fn report(&mut self, report: &Report) -> io::Result<()> {
        self.head(report)?;
        for verdict in [Verdict::Missed, Verdict::CannotTell, Verdict::Met, Verdict::NotApplicable] {
            self.section(report, verdict)?;
        }
        self.phases(report)?;
        self.local_rules(report)?;
        self.tail(report)
    }

    fn heading(&mut self, text: &str) -> io::Result<()> {
        self.line("")?;
        let heading = self.styled(text, Style::new().bold().underline());
        self.line(&heading)
    }

    /// Which lamps are lit when, and which never.
    fn phases(&mut self, report: &Report) -> io::Result<()> {
        if report.phases.is_empty() {
            return Ok(());
        }
        self.heading("Lights by phase")?;
        for phase in &report.phases {
            let lights = if phase.summary.is_empty() { "all dark".to_string() } else { phase.summary.join(", ") };
            self.labelled(2, &format!("{:<15}", phase.phase), &lights)?;
        }
        Ok(())
    }

    /// What the rules for model aircraft ask, apart from the goals of realism.
    fn local_rules(&mut self, report: &Report) -> io::Result<()> {
        for rule in &report.local_rules {
            let since = rule.since.as_ref().map_or(String::new(), |d| format!(", since {d}"));
            self.heading(&format!("Local rule, on the model itself, not for realism: {}", rule.head.id))?;
            self.labelled(2, "rule", &format!("{}{since} ({})", rule.head.title, rule.head.why))?;
            for goal in &rule.goals {
                self.brief_head(goal)?;
                if matches!(goal.verdict, Verdict::Missed | Verdict::CannotTell) {
                    for (label, text) in details(goal) {
                        self.labelled(4, label, &text)?;
                    }
                }
            }
            for [section, about, status] in &rule.head.unchecked {
                self.labelled(2, "unchecked", &format!("{section}, {about}: {status}"))?;
            }
        }
        Ok(())
    }

    fn styled(&self, text: &str, style: Style) -> String {
        if self.colour { format!("{style}{text}{style:#}") } else { text.to_string() }
    }

    fn word(&self, verdict: Verdict) -> String {
        let style = match verdict {
            Verdict::Missed => AnsiColor::Red.on_default().bold(),
            Verdict::CannotTell => AnsiColor::Yellow.on_default().bold(),
            Verdict::Met => AnsiColor::Green.on_default().bold(),
            Verdict::NotApplicable => Style::new().dimmed(),
        };
        self.styled(verdict.as_str(), style)
    }

    fn line(&mut self, text: &str) -> io::Result<()> {
        writeln!(self.out, "{}", text.trim_end())
    }

    /// A labelled paragraph, indented under its label.
    fn labelled(&mut self, indent: usize, label: &str, text: &str) -> io::Result<()> {
        let first = format!("{}{label:<LABEL$}", " ".repeat(indent));
        let next = " ".repeat(indent + LABEL);
        let options = textwrap::Options::new(WIDTH)
            .initial_indent(&first)
            .subsequent_indent(&next)
            .break_words(false)
            .word_splitter(textwrap::WordSplitter::NoHyphenation);
        for line in textwrap::wrap(text, options) {
            self.line(&line)?;
        }
        Ok(())
    }

    fn head(&mut self, report: &Report) -> io::Result<()> {
        let craft = &report.aircraft;
        let bold = Style::new().bold();
        let title = self.styled(&format!("{}, 1:{}", craft.title, crate::units::short(craft.scale)), bold);
        self.line(&title)?;
        self.line(&format!(
            "standing for: {}",
            if craft.prototype.is_empty() { "not said" } else { &craft.prototype }
        ))?;
        if !craft.file.is_empty() {
            self.line(&format!("file: {}", craft.file))?;
        }
        if let Some(airframe) = &craft.airframe {
            self.line(&format!("airframe: {airframe}"))?;
        }
        self.line("")?;
        self.rule_sets(&report.rule_sets)?;
        let what = |t: &Tally| {
            format!(
                "{} missed, {} cannot be told, {} met, {} not applicable",
                t.missed, t.cannot_tell, t.met, t.not_applicable
            )
        };
        self.line("")?;
        self.labelled(0, "required", &what(&report.required))?;
        self.labelled(0, "all goals", &what(&report.all))
    }

    /// Each rule set once, with every standing it was tried at.
    fn rule_sets(&mut self, sets: &[RuleSetHead]) -> io::Result<()> {
        for (n, set) in sets.iter().enumerate() {
            if sets.iter().take(n).any(|s| s.id == set.id) {
                continue;
            }
            let standings: Vec<&str> = sets.iter().filter(|s| s.id == set.id).map(|s| s.standing_at.as_str()).collect();
            let dated = match standings.as_slice() {
                _ if set.kind != RuleKind::Published => String::new(),
                [one] => format!(", as it stands for {one}"),
                several => format!(", at {} standings, for {}", several.len(), several.join("; ")),
            };
            self.labelled(0, &format!("{} ", set.id), &format!("{}{dated} ({})", set.title, set.why))?;
            for beside in sets.iter().filter(|s| s.id == set.id).flat_map(|s| &s.beside) {
                self.labelled(0, "", beside)?;
            }
        }
        Ok(())
    }

    fn section(&mut self, report: &Report, verdict: Verdict) -> io::Result<()> {
        let groups = grouped(report, verdict);
        if groups.is_empty() {
            return Ok(());
        }
        let count: usize = groups.iter().map(Vec::len).sum();
        let heading = match verdict {
            Verdict::Missed => format!("Missed: {count}"),
            Verdict::CannotTell => format!("Cannot tell: {count}, with what to add"),
            Verdict::Met => format!("Met: {count}"),
            Verdict::NotApplicable => format!("Not applicable: {count}"),
        };
        self.heading(&heading)?;
        for group in groups {
            match verdict {
                Verdict::Missed | Verdict::CannotTell => self.full(&group)?,
                Verdict::Met => self.met(&group)?,
                Verdict::NotApplicable => {}
            }
        }
        if verdict == Verdict::NotApplicable { self.not_applicable(report) } else { Ok(()) }
    }

    /// Goals of one requirement that are met, on one line with the least margin.
    fn met(&mut self, group: &[&GoalReport]) -> io::Result<()> {
        let Some((first, others)) = group.split_first() else { return Ok(()) };
        if others.is_empty() {
            return self.brief(first, &margin(first));
        }
        let title = first.title.split(": ").next().unwrap_or(&first.title);
        let least = group.iter().min_by(|a, b| low(a).total_cmp(&low(b))).map_or(String::new(), |g| margin(g));
        let whole = GoalReport { title: format!("{title}: {} goals", group.len()), ..(*first).clone() };
        self.brief(&whole, &least)
    }

    /// Goals that do not apply, by why.
    fn not_applicable(&mut self, report: &Report) -> io::Result<()> {
        let mut by_reason: Vec<(&str, Vec<&str>)> = Vec::new();
        for goal in report.goals.iter().filter(|g| g.verdict == Verdict::NotApplicable) {
            let reason = goal.reason.as_ref().map_or("", |r| r.text.as_str());
            let id = goal.id.split('/').next().unwrap_or(&goal.id);
            match by_reason.iter_mut().find(|(r, _)| *r == reason) {
                Some((_, ids)) if ids.contains(&id) => {}
                Some((_, ids)) => ids.push(id),
                None => by_reason.push((reason, vec![id])),
            }
        }
        for (reason, ids) in by_reason {
            let text = format!("{reason}: {}", ids.join(", "));
            let options = textwrap::Options::new(WIDTH)
                .initial_indent("  ")
                .subsequent_indent("    ")
                .break_words(false)
                .word_splitter(textwrap::WordSplitter::NoHyphenation);
            for line in textwrap::wrap(&text, options) {
                self.line(&line)?;
            }
        }
        Ok(())
    }

    /// One line: verdict, title, paragraph, margin.
    fn brief(&mut self, goal: &GoalReport, note: &str) -> io::Result<()> {
        let published = goal.kind == RuleKind::Published;
        let right = if published { format!("{}  {note}", goal.citation) } else { note.to_string() };
        let tag = if published { String::new() } else { format!(" ({})", goal.kind) };
        let left = format!("{} {}{tag}", goal.verdict, goal.title);
        let plain = goal.verdict.as_str();
        let room = WIDTH.saturating_sub(2 + left.chars().count() + 2);
        let shown = left.replacen(plain, &self.word(goal.verdict), 1);
        if right.chars().count() <= room {
            let gap = " ".repeat(room - right.chars().count() + 2);
            self.line(&format!("  {shown}{gap}{right}"))
        } else {
            for (n, line) in textwrap::wrap(
                &left,
                textwrap::Options::new(WIDTH - 4).word_splitter(textwrap::WordSplitter::NoHyphenation),
            )
            .iter()
            .enumerate()
            {
                let line = if n == 0 { line.replacen(plain, &self.word(goal.verdict), 1) } else { format!("  {line}") };
                self.line(&format!("  {line}"))?;
            }
            for line in textwrap::wrap(
                &right,
                textwrap::Options::new(WIDTH - 6).word_splitter(textwrap::WordSplitter::NoHyphenation),
            ) {
                self.line(&format!("      {line}"))?;
            }
            Ok(())
        }
    }

    /// Everything about the worst of a group, and the names of the others.
    fn full(&mut self, group: &[&GoalReport]) -> io::Result<()> {
        let Some((goal, others)) = group.split_first() else { return Ok(()) };
        self.line("")?;
        self.brief_head(goal)?;
        for (label, text) in details(goal) {
            self.labelled(4, label, &text)?;
        }
        if !others.is_empty() {
            let name = |g: &GoalReport| g.id.split_once('/').map_or(g.id.clone(), |(_, name)| name.to_string());
            let names: Vec<String> = others.iter().map(|g| name(g)).collect();
            self.labelled(4, "so too", &names.join(", "))?;
        }
        Ok(())
    }

    fn brief_head(&mut self, goal: &GoalReport) -> io::Result<()> {
        let note = if goal.lamps.is_empty() { String::new() } else { goal.lamps.join(", ") };
        self.brief(goal, &note)
    }

    fn tail(&mut self, report: &Report) -> io::Result<()> {
        self.line("")?;
        self.labelled(
            0,
            "more",
            "`lampwright explain ID` tells what a goal asks, `explain ID --for FILE` how it was reckoned",
        )?;
        if !report.lamps_unjudged.is_empty() {
            self.labelled(0, "unjudged", &format!("no requirement looked at {}", report.lamps_unjudged.join(", ")))?;
        }
        if let Some(place) = &report.no_local_rule {
            let text = format!("none is at hand for models flown in {place}: ask your club and your authority");
            self.labelled(0, "local rule", &text)?;
        }
        if !report.local_rule_lamps.is_empty() {
            let names = report.local_rule_lamps.join(", ");
            self.labelled(
                0,
                "local rule",
                &format!("{names}: required where the model flies, not for realism; left out of the goals"),
            )?;
        }
        for set in &report.rule_sets {
            let mut by_status: Vec<(&str, Vec<&str>)> = Vec::new();
            for [section, _, status] in &set.unchecked {
                match by_status.iter_mut().find(|(s, _)| s == status) {
                    Some((_, list)) => list.push(section),
                    None => by_status.push((status, vec![section])),
                }
            }
            for (status, sections) in by_status {
                self.labelled(0, "unchecked", &format!("{}, {status}: {}", set.id, sections.join("; ")))?;
            }
        }
        for caution in &report.cautions {
            self.labelled(0, "caution", &format!("{} ({})", caution.text, caution.source))?;
        }
        self.labelled(0, "notice", &report.notice)
    }
}

/// The least margin a goal may have.
fn low(goal: &GoalReport) -> f64 {
    goal.margin.map_or(0.0, |m| m.low)
}

/// Goals of a verdict by requirement, published first, the worst of each requirement first.
fn grouped(report: &Report, verdict: Verdict) -> Vec<Vec<&GoalReport>> {
    let mut groups: Vec<Vec<&GoalReport>> = Vec::new();
    let mut goals: Vec<&GoalReport> = report.goals.iter().filter(|g| g.verdict == verdict).collect();
    goals.sort_by_key(|g| !g.binding);
    let key = |g: &GoalReport| {
        let reason = g.reason.as_ref().map_or("", |r| r.kind);
        (g.rule_set.clone(), g.id.split('/').next().unwrap_or("").to_string(), reason, g.lamps.clone())
    };
    for goal in goals {
        match groups.iter_mut().find(|group| group.first().is_some_and(|first| key(first) == key(goal))) {
            Some(group) => group.push(goal),
            None => groups.push(vec![goal]),
        }
    }
    if verdict != Verdict::Met {
        groups.iter_mut().for_each(|group| group.sort_by(|a, b| low(a).total_cmp(&low(b))));
    }
    groups
}
