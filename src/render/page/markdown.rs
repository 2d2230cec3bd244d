//! The printed report as Markdown: lamps, timing and phases as tables before the goals.

use super::words;
use crate::render::Render;
use crate::render::markdown::{Markdown, cell};
use crate::render::words::goals::counted;
use crate::report::Documentation;
use std::io::{self, Write};

/// Writes the report.
///
/// # Errors
/// The writer's.
pub fn write(documentation: &Documentation, out: &mut dyn Write) -> io::Result<()> {
    let report = &documentation.report;
    let (craft, entry) = (&report.aircraft, &documentation.entry);
    writeln!(out, "# {}: {}, 1:{}", words::KICKER, cell(&craft.title), crate::units::short(craft.scale))?;
    heading(words::WHO, out)?;
    let told = words::entry(entry);
    if told.is_empty() {
        writeln!(out, "{}", words::NO_ENTRY)?;
    }
    for (name, value) in told {
        writeln!(out, "- {name}: {}", cell(value))?;
    }
    lamps(documentation, out)?;
    timing(documentation, out)?;
    heading(words::PHASES, out)?;
    if report.phases.is_empty() {
        writeln!(out, "{}", words::NO_PHASES)?;
    }
    for phase in &report.phases {
        let lit = if phase.summary.is_empty() { words::NOTHING.to_string() } else { phase.summary.join(", ") };
        writeln!(out, "- {}: {}", phase.phase.as_str(), cell(&lit))?;
    }
    heading(words::DIFFERENCES, out)?;
    if entry.differences.is_empty() {
        writeln!(out, "{}", words::NO_DIFFERENCES)?;
    }
    for (what, why) in &entry.differences {
        writeln!(out, "- **{}**: {}", cell(what), cell(why))?;
    }
    if !report.local_rule_lamps.is_empty() {
        writeln!(out, "- {}: {}", words::LOCAL_LAMPS, cell(&report.local_rule_lamps.join(", ")))?;
    }
    heading(words::GOALS, out)?;
    Markdown.write(report, false, out)?;
    method(documentation, out)
}

fn heading(text: &str, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "\n## {text}\n")
}

fn row(cells: &[&str], out: &mut dyn Write) -> io::Result<()> {
    let cells: Vec<String> = cells.iter().map(|text| cell(text)).collect();
    writeln!(out, "| {} |", cells.join(" | "))
}

fn lamps(documentation: &Documentation, out: &mut dyn Write) -> io::Result<()> {
    heading(words::LAMPS, out)?;
    row(&words::LAMP_HEADS, out)?;
    row(&["---"; 8], out)?;
    for lamp in &documentation.lamps {
        let place = lamp.place.as_ref().map_or(words::NO_PLACE.to_string(), |(model, full)| format!("{model}; {full}"));
        let verdict = match lamp.verdict {
            Some(of) => words::verdict(of).1,
            None if lamp.local => words::LOCAL_RULE,
            None => words::NOT_JUDGED,
        };
        let evidence = lamp.evidence.as_deref().unwrap_or(words::NOT_DOCUMENTED);
        let (number, colour) = (lamp.number.to_string(), format!("{} {}", lamp.hue.letter, lamp.emitter));
        let name = format!("{}, {}", lamp.name, lamp.light);
        row(&[&number, &name, verdict, &colour, &place, &lamp.pattern, evidence, &lamp.cites.join("; ")], out)?;
    }
    Ok(())
}

fn timing(documentation: &Documentation, out: &mut dyn Write) -> io::Result<()> {
    heading(words::WHEN, out)?;
    if documentation.timing.tracks.is_empty() {
        return writeln!(out, "{}", words::NOTHING_FLASHES);
    }
    row(&words::TIMING_HEADS, out)?;
    row(&["---"; 5], out)?;
    for track in &documentation.timing.tracks {
        let number = |v: f64| crate::units::rounded(v, 4);
        row(
            &[
                &track.name,
                &track.lamps.join(", "),
                &number(track.per_min),
                &format!("{} ms", number(track.period_ms)),
                &counted(track.pulses_per_flash, "pulse"),
            ],
            out,
        )?;
    }
    writeln!(out)?;
    for (place, rate) in &documentation.timing.seen_from {
        let rate = words::seen_rate(*rate);
        writeln!(out, "- seen from {place}: {rate}")?;
    }
    Ok(())
}

fn method(documentation: &Documentation, out: &mut dyn Write) -> io::Result<()> {
    heading(words::METHOD, out)?;
    let method = &documentation.method;
    writeln!(out, "{} {}\n", words::made_by(&method.day), words::DECLARED)?;
    for (name, hash) in method.inputs.iter().chain(&method.rule_sets) {
        writeln!(out, "- {}: SHA-256 `{hash}`", cell(name))?;
    }
    Ok(())
}
