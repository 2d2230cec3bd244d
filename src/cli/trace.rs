//! `lampwright trace`: a recorded light held against the sequence that should have made it.

use super::rules::para;
use super::{Ended, output};
use crate::aircraft::{Sequence, SequenceChannel, read_sequence};
use crate::lint::{Rules, Traced, counted, trace};
use crate::source::formats::{Changes, Signal, TimeUnit, Values, recording_csv, vcd};
use crate::source::{Disk, Files, nearest, one_of, read_text};
use crate::timing::Recorded;
use crate::units::Micros;
use serde_json::json;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The most bytes of a recording.
const MOST: u64 = 256 * 1024 * 1024;

#[derive(clap::Args)]
pub(super) struct Args {
    /// The recording: a VCD file, or a CSV of changes or of samples with the time in its first column.
    #[arg(required_unless_present = "counted")]
    recording: Option<PathBuf>,
    /// The sequence file it should show.
    #[arg(long, value_name = "FILE")]
    sequence: PathBuf,
    /// Which signal is which channel, as `SIGNAL=CHANNEL`; several with commas. Else signals and channels of one name, `_`
    /// for a blank.
    #[arg(long, value_delimiter = ',', value_name = "SIGNAL=CHANNEL")]
    signal: Vec<String>,
    /// A count by eye in place of a recording, like `12 flashes in 15 s`; with `--channel`.
    #[arg(long, value_name = "COUNT", value_parser = count, conflicts_with = "recording")]
    counted: Option<(u32, f64)>,
    /// The channel that was counted.
    #[arg(long, value_name = "NAME", requires = "counted")]
    channel: Option<String>,
    /// How often the recorder looked, like `1 ms`, where the file does not tell.
    #[arg(long, value_name = "TIME", value_parser = time)]
    sampling: Option<Micros>,
    /// The recorder averages over its step, as a camera with a long exposure does, so that dimming does not show.
    #[arg(long)]
    averages: bool,
    /// The unit of the times of a CSV that names none.
    #[arg(long, value_parser = ["s", "ms", "us", "ns"])]
    unit: Option<String>,
    /// How to print it.
    #[arg(long, value_parser = ["text", "json"], default_value = "text")]
    format: String,
    /// Also end with status 1 where the recording differs from the file, tells too little, or lacks a channel of it.
    #[arg(long)]
    strict: bool,
}

fn time(text: &str) -> Result<Micros, String> {
    crate::units::parse::<Micros>(text).map_err(|e| format!("{}; {}", e.what, e.instead))
}

fn count(text: &str) -> Result<(u32, f64), String> {
    let wrong = || "write it like `12 flashes in 15 s`".to_string();
    let (flashes, span) =
        text.split_once(" flashes in ").or_else(|| text.split_once(" flash in ")).ok_or_else(wrong)?;
    let flashes: u32 = flashes.trim().parse().map_err(|_| wrong())?;
    let span = time(span)?;
    if span.0 == 0 { Err(wrong()) } else { Ok((flashes, span.seconds())) }
}

/// What was held against what, and what was left over.
#[derive(Default)]
struct Found {
    traced: Vec<(String, Traced)>,
    /// Signals no channel is called like.
    signals: Vec<String>,
    /// Channels no signal is called like.
    channels: Vec<String>,
}

pub(super) fn run(args: &Args) -> Ended {
    match traced(args) {
        Ok(found) => {
            let text = if args.format == "json" { as_json(&found) } else { as_text(&found) };
            output::print(text.as_bytes(), ended(&found, args.strict))
        }
        Err(why) => Ended::Failed(why),
    }
}

fn ended(found: &Found, strict: bool) -> Ended {
    let published = |t: &Traced, met: Option<bool>| t.goals.iter().any(|g| g.published && g.met == met);
    let missed = found.traced.iter().any(|(_, t)| published(t, Some(false)));
    let open =
        |t: &Traced| published(t, None) || t.compared.is_empty() || t.compared.iter().any(|c| c.agrees != Some(true));
    let short = !found.channels.is_empty() || found.traced.iter().any(|(_, t)| open(t));
    if missed || strict && short { Ended::Missed } else { Ended::Well }
}

fn traced(args: &Args) -> Result<Found, String> {
    let text = read_text(&Disk, &args.sequence).map_err(|e| e.to_string())?;
    let sequence =
        read_sequence(&args.sequence.display().to_string(), &text).map_err(|r| r.show(output::colour_err()))?;
    let rules = Rules::bundled().map_err(|e| e.to_string())?;
    if let Some((flashes, seconds)) = args.counted {
        let name = args
            .channel
            .as_deref()
            .or_else(|| only_channel(&sequence))
            .ok_or("say with `--channel` which one was counted")?;
        let channel = channel(&sequence, name)?;
        let traced = vec![("counted".to_string(), counted(flashes, seconds, channel, &sequence, &rules))];
        return Ok(Found { traced, ..Found::default() });
    }
    let Some(path) = &args.recording else { return Err("name a recording".to_string()) };
    let mut signals = read(path, args.unit.as_deref())?;
    if let Some(step) = args.sampling {
        signals.iter_mut().for_each(|s| coarsened(s, step.seconds()));
    }
    let pwm_hz = sequence.controller.pwm.as_ref().filter(|_| !args.averages).map(|p| p.per_min() / 60.0);
    let pairs = pairs(args, &signals, &sequence)?;
    let is_named = |channel: &SequenceChannel| pairs.iter().any(|(_, c)| c.channel.name == channel.channel.name);
    let is_taken = |signal: &Signal| pairs.iter().any(|(s, _)| std::ptr::eq(*s, signal));
    Ok(Found {
        signals: signals.iter().filter(|s| !is_taken(s)).map(|s| s.name.clone()).collect(),
        channels: sequence.channels.iter().filter(|c| !is_named(c)).map(|c| c.channel.name.clone()).collect(),
        traced: pairs
            .iter()
            .map(|(signal, channel)| {
                (signal.name.clone(), trace(&Recorded::of(signal, pwm_hz), channel, &sequence, &rules))
            })
            .collect(),
    })
}

fn only_channel(sequence: &Sequence) -> Option<&str> {
    match sequence.channels.as_slice() {
        [only] => Some(&only.channel.name),
        _ => None,
    }
}

fn read(path: &Path, unit: Option<&str>) -> Result<Vec<Signal>, String> {
    let bytes = Disk.read(path, MOST).map_err(|e| e.to_string())?;
    let told = |why: String| format!("{}: {why}", path.display());
    if path.extension().is_some_and(|e| e.eq_ignore_ascii_case("vcd")) {
        return vcd(bytes.as_slice()).map_err(told);
    }
    // Some exports are in the code page of their machine: only the header can hold such letters.
    let text = String::from_utf8(bytes).unwrap_or_else(|e| e.as_bytes().iter().map(|b| char::from(*b)).collect());
    let unit = unit.map(|u| match u {
        "s" => TimeUnit::Seconds,
        "us" => TimeUnit::Microseconds,
        "ns" => TimeUnit::Nanoseconds,
        _ => TimeUnit::Milliseconds,
    });
    recording_csv(&text, unit).map_err(told)
}

fn coarsened(signal: &mut Signal, step: f64) {
    if let Values::Changes(changes) = signal.values.as_ref() {
        let coarser = Changes { early_s: changes.early_s.max(step), ..changes.clone() };
        signal.values = Arc::new(Values::Changes(coarser));
    }
}

fn channel<'s>(sequence: &'s Sequence, name: &str) -> Result<&'s SequenceChannel, String> {
    sequence.channels.iter().find(|c| c.channel.name == name).ok_or_else(|| {
        let names: Vec<&str> = sequence.channels.iter().map(|c| c.channel.name.as_str()).collect();
        let near = nearest(name, names.iter().copied());
        let instead = near.map_or_else(|| format!("it has {}", one_of(&names)), |n| format!("did you mean `{n}`?"));
        format!("the sequence has no channel called `{name}`; {instead}")
    })
}

/// Signals with the channels they should show.
fn pairs<'a>(
    args: &Args,
    signals: &'a [Signal],
    sequence: &'a Sequence,
) -> Result<Vec<(&'a Signal, &'a SequenceChannel)>, String> {
    if !args.signal.is_empty() {
        let pair = |said: &String| {
            let (signal, name) =
                said.split_once('=').ok_or_else(|| format!("`{said}` is not like `SIGNAL=CHANNEL`"))?;
            Ok((self::signal(signals, signal)?, channel(sequence, name)?))
        };
        return args.signal.iter().map(pair).collect();
    }
    if let ([signal], [channel]) = (signals, sequence.channels.as_slice()) {
        return Ok(vec![(signal, channel)]);
    }
    let found: Vec<_> = signals
        .iter()
        .filter_map(|s| Some((s, sequence.channels.iter().find(|c| plain(&c.channel.name) == plain(own(s)))?)))
        .collect();
    if found.is_empty() {
        return Err(format!(
            "no signal is called what a channel is called; say which is which with `--signal SIGNAL=CHANNEL` (the recording has {})",
            some_of(signals)
        ));
    }
    Ok(found)
}

/// The last part of a dotted name is the signal's own.
fn own(signal: &Signal) -> &str {
    signal.name.rsplit('.').next().unwrap_or(&signal.name)
}

/// A name as it may be written where names hold no blanks.
fn plain(name: &str) -> String {
    name.to_lowercase().replace(['_', '-'], " ")
}

/// The signal of a name, whole or the last part of it where only one has that.
fn signal<'a>(signals: &'a [Signal], name: &str) -> Result<&'a Signal, String> {
    if let Some(found) = signals.iter().find(|s| s.name == name) {
        return Ok(found);
    }
    let mut own = signals.iter().filter(|s| own(s) == name);
    match (own.next(), own.next()) {
        (Some(found), None) => Ok(found),
        (Some(_), Some(_)) => {
            Err(format!("several signals are called `{name}`: write the whole name, of {}", some_of(signals)))
        }
        (None, _) => Err(format!("the recording has no signal called `{name}`; it has {}", some_of(signals))),
    }
}

/// The first names of a recording, as many as a message bears.
fn some_of(signals: &[Signal]) -> String {
    const SHOWN: usize = 10;
    let names: Vec<&str> = signals.iter().take(SHOWN).map(|s| s.name.as_str()).collect();
    match signals.len().checked_sub(SHOWN) {
        Some(more) if more > 0 => format!("{}, and {more} more", names.join(", ")),
        _ => one_of(&names),
    }
}

fn word(met: Option<bool>) -> &'static str {
    match met {
        Some(true) => "met",
        Some(false) => "missed",
        None => "cannot tell",
    }
}

fn as_text(found: &Found) -> String {
    let mut out = String::new();
    for (signal, traced) in &found.traced {
        out.push_str(&format!("{signal}, as channel {}\n", traced.channel));
        if let Some(why) = &traced.unreadable {
            para(&mut out, 2, "cannot tell", &why.to_string());
        }
        for goal in &traced.goals {
            let text = format!("{}: {}, asked {} ({})", goal.title, goal.found, goal.required, goal.by);
            para(&mut out, 2, word(goal.met), &text);
        }
        for one in &traced.compared {
            let text = format!("{}: {}, the file says {}", one.what, one.shown, one.file);
            para(&mut out, 2, likeness(one.agrees), &text);
        }
        if let Some(shown) = &traced.shown {
            let jitter = crate::rules::show_range(shown.jitter_ms, crate::rules::Unit::Millisecond);
            let text = format!("{} whole flashes; the time from one to the next strays {jitter}", shown.flashes);
            para(&mut out, 2, "besides", &text);
        }
        for note in &traced.notes {
            para(&mut out, 2, "besides", note);
        }
    }
    for (who, names) in
        [("signals no channel is called like", &found.signals), ("channels not recorded", &found.channels)]
    {
        if !names.is_empty() {
            para(&mut out, 0, "left over", &format!("{who}: {}", names.join(", ")));
        }
    }
    out
}

fn likeness(agrees: Option<bool>) -> &'static str {
    match agrees {
        Some(true) => "as written",
        Some(false) => "differs",
        None => "cannot tell",
    }
}

fn as_json(found: &Found) -> String {
    let each = |(signal, t): &(String, Traced)| {
        let goals: Vec<_> = t
            .goals
            .iter()
            .map(|g| json!({"id": g.id, "by": g.by, "title": g.title, "published": g.published, "found": g.found, "required": g.required, "verdict": word(g.met).replace(' ', "_")}))
            .collect();
        let compared: Vec<_> = t
            .compared
            .iter()
            .map(|c| json!({"what": c.what, "file": c.file, "shown": c.shown, "agrees": c.agrees}))
            .collect();
        json!({
            "signal": signal,
            "channel": t.channel,
            "cannot_tell": t.unreadable.map(|why| why.to_string()),
            "goals": goals,
            "compared": compared,
            "flashes": t.shown.as_ref().map(|s| s.flashes),
            "notes": t.notes,
        })
    };
    let whole = json!({
        "format": "lampwright trace 1",
        "signals": found.traced.iter().map(each).collect::<Vec<_>>(),
        "signals_left_over": found.signals,
        "channels_not_recorded": found.channels,
    });
    serde_json::to_string_pretty(&whole).map_or_else(|e| format!("{e}\n"), |text| text + "\n")
}
