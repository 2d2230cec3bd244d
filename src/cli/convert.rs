//! `lampwright convert`: a sequence file from a plain list, a table of masks, or times on and off.

use super::{Ended, output};
use crate::aircraft::read_sequence;
use crate::source::formats::{LitAndDark, TimeUnit, durations, intervals, masks};
use crate::source::{Disk, Rejected, read_text};
use crate::units::Micros;
use std::path::PathBuf;

#[derive(clap::Args)]
pub(super) struct Args {
    /// The file to read.
    file: PathBuf,
    /// What it holds: `durations`, times lit and dark in turn; `masks`, on each line a digit a channel and a time; `times`, a
    /// CSV of `channel,on,off` within one period.
    #[arg(long, value_parser = ["durations", "masks", "times"])]
    from: String,
    /// The unit of its bare numbers.
    #[arg(long, value_parser = ["ms", "s", "us"], default_value = "ms")]
    unit: String,
    /// The names of its channels, in the order of the digits.
    #[arg(long, value_delimiter = ',', default_value = "light")]
    channels: Vec<String>,
    /// A list of durations begins dark.
    #[arg(long)]
    starts_dark: bool,
    /// The period of a table of times, like `1200 ms`.
    #[arg(long, value_name = "TIME", value_parser = period)]
    period: Option<Micros>,
    /// Write the sequence to this file instead of the terminal.
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

fn period(text: &str) -> Result<Micros, String> {
    crate::units::parse::<Micros>(text).map_err(|e| format!("{}; {}", e.what, e.instead))
}

pub(super) fn run(args: &Args) -> Ended {
    let text = match read_text(&Disk, &args.file) {
        Ok(text) => text,
        Err(error) => return Ended::Failed(error.to_string()),
    };
    let sequence = match channels(args, &text) {
        Ok(channels) => written(&channels),
        Err(why) => return Ended::Failed(why),
    };
    // What is written must read back: a pattern longer than a day, or always dark, is told here.
    if let Err(rejected) = read_sequence("the converted sequence", &sequence) {
        return Ended::Failed(rejected.show(output::colour_err()));
    }
    match &args.output {
        None => output::print(sequence.as_bytes(), Ended::Well),
        Some(path) => match output::write_file(path, sequence.as_bytes()) {
            Ok(()) => Ended::Well,
            Err(error) => Ended::Failed(error.to_string()),
        },
    }
}

fn channels(args: &Args, text: &str) -> Result<Vec<LitAndDark>, String> {
    let file = args.file.display().to_string();
    let unit = match args.unit.as_str() {
        "s" => TimeUnit::Seconds,
        "us" => TimeUnit::Microseconds,
        _ => TimeUnit::Milliseconds,
    };
    let names: Vec<String> = args.channels.iter().map(|name| name.trim().to_string()).collect();
    let shown = |rejected: Rejected| rejected.show(output::colour_err());
    match (args.from.as_str(), args.period) {
        ("masks", _) => masks(&file, text, &names, unit).map_err(shown),
        ("times", Some(period)) => intervals(&file, text, period.0, unit).map_err(shown),
        ("times", None) => Err("times on and off need their period: add `--period \"1200 ms\"`".to_string()),
        _ => {
            let name = names.first().map_or("light", String::as_str);
            durations(&file, text, name, unit, !args.starts_dark).map(|channel| vec![channel]).map_err(shown)
        }
    }
}

fn written(channels: &[LitAndDark]) -> String {
    let mut out =
        String::from("lampwright: sequence 1\n# Say with `drives:` which light each channel is for.\nchannels:\n");
    for channel in channels {
        // JSON strings are YAML strings, whatever a name holds.
        let name = serde_json::Value::from(channel.name.as_str());
        out.push_str(&format!("  {name}:\n    steps:\n"));
        for (lit, us) in &channel.steps {
            let word = if *lit { "lit" } else { "dark" };
            // Exact, where a time of many digits would be shortened for reading.
            let time = if us % 1000 == 0 { format!("{} ms", us / 1000) } else { format!("{us} us") };
            out.push_str(&format!("      - {word}: {time}\n"));
        }
    }
    out
}
