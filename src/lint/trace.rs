//! A recorded light held against the channel it should show, and against the goals a recording can answer.

use super::Rules;
use crate::aircraft::{Sequence, SequenceChannel};
use crate::measure::against;
use crate::rules::{GoalSpec, RuleKind, Unit, show_range_to};
use crate::scene::Readings;
use crate::timing::{Flash, FlashReading, Pulse, Recorded, Shown, Unreadable, milliseconds};
use crate::units::Interval;

/// What became of a recording.
#[derive(Debug, Clone)]
pub struct Traced {
    /// The channel it was held against.
    pub channel: String,
    /// What it shows; nothing where it does not flash, or too seldom.
    pub shown: Option<Shown>,
    /// Why it tells nothing at all.
    pub unreadable: Option<Unreadable>,
    /// What else is to be known of it, a sentence each.
    pub notes: Vec<String>,
    /// The goals a recording can answer.
    pub goals: Vec<TracedGoal>,
    /// How it compares with the file, figure by figure.
    pub compared: Vec<Compared>,
}

/// A goal and what the recording says of it.
#[derive(Debug, Clone, PartialEq)]
pub struct TracedGoal {
    /// The requirement.
    pub id: String,
    /// Its rule set and paragraph.
    pub by: String,
    /// Its title.
    pub title: String,
    /// Whether it is a published one.
    pub published: bool,
    /// What was found.
    pub found: String,
    /// What is asked.
    pub required: String,
    /// Met, missed, or none of them: the limit lies within what was found, or the recording is too coarse.
    pub met: Option<bool>,
}

/// A figure of the file beside the recording's.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What it is.
    pub what: &'static str,
    /// What the file says.
    pub file: String,
    /// What the recording shows.
    pub shown: String,
    /// Whether the file's figure lies within what the recording allows; nothing where the recording is too coarse to say.
    pub agrees: Option<bool>,
}

/// Holds a recording against a channel of a sequence.
#[must_use]
pub fn trace(
    recorded: &Result<Recorded, Unreadable>,
    channel: &SequenceChannel,
    sequence: &Sequence,
    rules: &Rules,
) -> Traced {
    let sets = rules.for_sequence(sequence.judge_by.as_ref().map(|j| j.value.as_str()));
    let reading = sets.last().map_or_else(FlashReading::default, |set| Readings::of(set).flash);
    let asked = Asked { channel, sequence, rules };
    let name = channel.channel.name.clone();
    let mut traced = Traced {
        channel: name,
        shown: None,
        unreadable: None,
        notes: Vec::new(),
        goals: Vec::new(),
        compared: Vec::new(),
    };
    if channel.drives.is_none() {
        traced.notes.push("the file does not say which light it `drives:`, so no rule is held against it".to_string());
    }
    match recorded {
        Err(why) => traced.unreadable = Some(*why),
        Ok(recorded) => asked.answer(recorded, &reading, &mut traced),
    }
    traced
}

/// A count by hand: so many flashes in so many seconds, one more or less.
#[must_use]
pub fn counted(flashes: u32, seconds: f64, channel: &SequenceChannel, sequence: &Sequence, rules: &Rules) -> Traced {
    let per_min = one_off(f64::from(flashes), seconds);
    let file = channel.channel.waveform.flashes(&FlashReading::default()).flash_rate().per_min();
    let compared = vec![compare("flashes a minute", file, Some(per_min), Unit::PerMinute)];
    let asked = Asked { channel, sequence, rules };
    let goals = asked.goals(&|spec| (spec.quantity.value == "flash frequency").then_some(Some(per_min)));
    let (channel, notes) = (channel.channel.name.clone(), Vec::new());
    Traced { channel, shown: None, unreadable: None, notes, goals, compared }
}

/// So many flashes seen in a time are a rate to one flash more or less.
fn one_off(flashes: f64, seconds: f64) -> Interval {
    Interval { low: (flashes - 1.0).max(0.0) * 60.0 / seconds, high: (flashes + 1.0) * 60.0 / seconds }
}

/// The channel and the rules a recording answers to.
struct Asked<'a> {
    channel: &'a SequenceChannel,
    sequence: &'a Sequence,
    rules: &'a Rules,
}

/// The shortest times of a pattern, in seconds.
struct Finest {
    /// A flash, and the dark between two.
    flash: f64,
    /// A pulse, and the dark between two.
    part: f64,
}

impl Asked<'_> {
    fn answer(&self, recorded: &Recorded, reading: &FlashReading, traced: &mut Traced) {
        let waveform = &self.channel.channel.waveform;
        let in_pattern = waveform.flashes(reading).flashes.len();
        notes(recorded, &mut traced.notes);
        if in_pattern == 0 && recorded.edges().is_empty() {
            let shown = match recorded.lit_at_first {
                Some(false) => "always dark",
                Some(true) => "always lit",
                None => "does not flash, lit or dark",
            };
            // Samples that never change tell neither lit nor dark.
            let agrees = recorded.lit_at_first.map(|lit| lit == (waveform.peak_level() > 0.0));
            traced.compared.push(Compared { what: "steady", file: "steady".into(), shown: shown.into(), agrees });
            return;
        }
        if recorded.edges().is_empty() && recorded.lit_at_first.is_none() {
            traced.unreadable = Some(Unreadable::Level);
            return;
        }
        let finest = self.finest(reading);
        match recorded.shown(reading, in_pattern) {
            Some(found) => {
                self.of_flashes(recorded, &found, &finest, reading, traced);
                traced.shown = Some(found);
            }
            None => self.of_few(recorded, &finest, reading, traced),
        }
    }

    fn of_flashes(
        &self,
        recorded: &Recorded,
        found: &Shown,
        finest: &Finest,
        reading: &FlashReading,
        traced: &mut Traced,
    ) {
        // What is shorter than the recorder can see may be missing from what it shows.
        let unseen = recorded.unseen_under_s;
        let (whole, parts) = (found.sure && unseen <= finest.flash, found.sure && unseen <= finest.part);
        if !found.sure {
            let note = "whether some pulses are one flash or several is not to be told: record finer";
            traced.notes.push(note.to_string());
        } else if !parts {
            let (seen, part) = (recorded.unseen_under_s * 1e3, finest.part * 1e3);
            traced.notes.push(format!(
                "times under {} may have gone unseen, and the file has some of {}: {} samples a second show it in ten",
                show_range_to(Interval::exactly(seen), Unit::Millisecond, 3),
                show_range_to(Interval::exactly(part), Unit::Millisecond, 3),
                crate::units::rounded(TEN_SAMPLES / finest.part, 3),
            ));
        }
        traced.goals = self.goals(&|spec| match spec.quantity.value.as_str() {
            "flash frequency" => Some(whole.then_some(found.per_min)),
            "on-time" => Some(parts.then_some(found.longest_ms)),
            "duty" => Some(parts.then_some(found.duty)),
            _ => None,
        });
        traced.compared = self.compared(reading, found, whole, parts);
        let file = self.channel.channel.waveform.flashes(reading).flash_rate().per_min();
        traced.notes.extend(slower(file, found.per_min));
    }

    /// Too few flashes for a frequency of their own still tell that there were no more.
    fn of_few(&self, recorded: &Recorded, finest: &Finest, reading: &FlashReading, traced: &mut Traced) {
        let (flashes, seconds) = (recorded.whole_flashes(reading), recorded.to_s - recorded.from_s);
        if seconds <= 0.0 {
            return;
        }
        // The ends may have cut flashes whose beginning was seen.
        let begun = recorded.edges().iter().filter(|e| e.lit).count();
        let per_min = Interval { high: one_off(begun as f64, seconds).high, ..one_off(flashes as f64, seconds) };
        let whole = recorded.unseen_under_s <= finest.flash;
        let span = show_range_to(Interval::exactly(seconds * 1e3), Unit::Millisecond, 3);
        let times = if flashes == 1 { "1 whole flash".to_string() } else { format!("{flashes} whole flashes") };
        traced.notes.push(format!("{times} in {span}: record ten or more, 15 s at 40 a minute"));
        traced.goals =
            self.goals(&|spec| (spec.quantity.value == "flash frequency").then_some(whole.then_some(per_min)));
        let file = self.channel.channel.waveform.flashes(reading).flash_rate().per_min();
        traced.compared.push(compare("flashes a minute", file, whole.then_some(per_min), Unit::PerMinute));
    }

    fn finest(&self, reading: &FlashReading) -> Finest {
        let waveform = &self.channel.channel.waveform;
        let (pulses, flashes) = (waveform.pulses(reading), waveform.flashes(reading));
        let period = flashes.period_us;
        let lit = |p: &Pulse| milliseconds(p.end_us - p.onset_us);
        // A flash is seen by the longest pulse in it.
        let seen_by = |flash: &Flash| {
            let within = |p: &&Pulse| {
                let late = if p.onset_us < flash.onset_us { p.onset_us + period } else { p.onset_us };
                late < flash.end_us
            };
            pulses.iter().filter(within).map(lit).fold(0.0, f64::max)
        };
        let next = flashes.flashes.iter().skip(1).map(|f| f.onset_us);
        let next = next.chain(flashes.flashes.first().map(|f| f.onset_us + period));
        let between = flashes.flashes.iter().zip(next).map(|(flash, onset)| milliseconds(onset - flash.end_us));
        let parts = waveform.darks(reading).into_iter().map(milliseconds).chain(pulses.iter().map(lit));
        let whole = flashes.flashes.iter().map(seen_by).chain(between);
        let least = |times: &mut dyn Iterator<Item = f64>| times.fold(f64::INFINITY, f64::min) * 1e-3;
        Finest { flash: least(&mut whole.into_iter()), part: least(&mut parts.into_iter()) }
    }

    /// The goals for which there is a figure, or would be were the recording finer.
    fn goals(&self, figure: &dyn Fn(&GoalSpec) -> Option<Option<Interval>>) -> Vec<TracedGoal> {
        let Some(light) = self.channel.drives.as_ref().map(|d| d.value) else { return Vec::new() };
        let mut goals = Vec::new();
        for set in self.rules.for_sequence(self.sequence.judge_by.as_ref().map(|j| j.value.as_str())) {
            for requirement in &set.requirements {
                for spec in requirement.demand.goals().into_iter().filter(|s| s.light.holds(light)) {
                    let Some(found) = figure(spec) else { continue };
                    let any = Interval { low: 0.0, high: f64::INFINITY };
                    let Some((required, margin)) = against(&spec.limit, found.unwrap_or(any)) else { continue };
                    let met = if margin.low >= 0.0 { Some(true) } else { (margin.high < 0.0).then_some(false) };
                    let met = met.filter(|_| found.is_some());
                    let unit = unit_of(&spec.quantity.value);
                    let digits = if met.is_some() { 3 } else { 5 };
                    goals.push(TracedGoal {
                        id: requirement.id.clone(),
                        by: match requirement.kind {
                            RuleKind::Published => format!("{} {}", set.id, requirement.cite),
                            _ => requirement.cite.clone(),
                        },
                        title: requirement.title.clone(),
                        published: requirement.kind == RuleKind::Published,
                        found: found.map_or_else(|| TOO_COARSE.to_string(), |f| show_range_to(f, unit, digits)),
                        required: required.text,
                        met,
                    });
                }
            }
        }
        goals
    }

    fn compared(&self, reading: &FlashReading, found: &Shown, whole: bool, parts: bool) -> Vec<Compared> {
        let waveform = &self.channel.channel.waveform;
        let flashes = waveform.flashes(reading);
        let pulses: Vec<f64> = waveform.pulses(reading).iter().map(|p| milliseconds(p.end_us - p.onset_us)).collect();
        let counts = || flashes.flashes.iter().map(|f| f.pulses);
        let in_flash =
            |(low, high): (usize, usize)| if low == high { high.to_string() } else { format!("{low} to {high}") };
        let rate = flashes.flash_rate().per_min();
        let mut list = vec![compare("flashes a minute", rate, whole.then_some(found.per_min), Unit::PerMinute)];
        if let (Some(fewest), Some(most)) = (counts().min(), counts().max()) {
            list.push(Compared {
                what: "pulses in a flash",
                file: in_flash((fewest, most)),
                shown: in_flash(found.pulses),
                agrees: parts.then_some((fewest, most) == found.pulses),
            });
        }
        let longest = pulses.iter().copied().fold(0.0, f64::max);
        let shortest = pulses.iter().copied().fold(f64::INFINITY, f64::min);
        list.push(compare("longest pulse", longest, parts.then_some(found.longest_ms), Unit::Millisecond));
        if shortest.is_finite() && shortest < longest {
            list.push(compare("shortest pulse", shortest, parts.then_some(found.shortest_ms), Unit::Millisecond));
        }
        list.push(compare("share of time lit", waveform.duty(reading), parts.then_some(found.duty), Unit::Share));
        list
    }
}

/// A pulse is shown well by ten samples: common practice, no source.
const TEN_SAMPLES: f64 = 10.0;

const TOO_COARSE: &str = "recorded too coarsely";

fn unit_of(quantity: &str) -> Unit {
    match quantity {
        "on-time" => Unit::Millisecond,
        "duty" => Unit::Share,
        _ => Unit::PerMinute,
    }
}

fn notes(recorded: &Recorded, notes: &mut Vec<String>) {
    match recorded.spikes {
        0 => {}
        1 => notes.push("a spike of one sample was left out".to_string()),
        many => notes.push(format!("{many} spikes of one sample were left out")),
    }
    if recorded.unknown > 0 {
        let (from, to) = (recorded.from_s, recorded.to_s);
        notes.push(format!(
            "the recorder did not know the signal at times; only its longest known stretch counts, from {} s to {} s",
            crate::units::short(from),
            crate::units::short(to)
        ));
    }
}

/// What a clock that runs fast or slow does to everything: told where it is sure and no other pattern altogether.
fn slower(file: f64, found: Interval) -> Option<String> {
    const ANOTHER_PATTERN: f64 = 0.2;
    let longer = Interval { low: file / found.high - 1.0, high: file / found.low - 1.0 };
    if agrees(file, found) || longer.low.abs().max(longer.high.abs()) > ANOTHER_PATTERN {
        return None;
    }
    let (share, way) = if longer.low > 0.0 { (longer, "slow") } else { (longer.scaled(-1.0), "fast") };
    Some(format!("it runs {} {way}, as a clock that is off does", show_range_to(share, Unit::Share, 3)))
}

/// Whether a file's figure lies in a range, but for the rounding of the reckoning.
fn agrees(file: f64, shown: Interval) -> bool {
    const ROUNDING: f64 = 1e-9;
    shown.low - ROUNDING * shown.low.abs() <= file && file <= shown.high + ROUNDING * shown.high.abs()
}

fn compare(what: &'static str, file: f64, shown: Option<Interval>, unit: Unit) -> Compared {
    let written = |digits: i32| show_range_to(Interval::exactly(file), unit, digits.max(4));
    let Some(range) = shown else {
        return Compared { what, file: written(4), shown: TOO_COARSE.to_string(), agrees: None };
    };
    let agrees = agrees(file, range);
    // As many digits as it takes to see that two figures differ.
    let tells = |digits: &i32| agrees || show_range_to(range, unit, *digits) != written(*digits);
    let digits = (3..=8).find(tells).unwrap_or(8);
    Compared { what, file: written(digits), shown: show_range_to(range, unit, digits), agrees: Some(agrees) }
}
