//! What lint looks for in a file besides the goals of rule sets: its own codes, which stay what they are.

use crate::report::Severity;

/// A check of a file's own quality.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OwnCode {
    /// Its name in reports, settings and comments.
    pub code: &'static str,
    /// What it weighs where nothing else is set.
    pub severity: Severity,
    /// What is wrong when it is told.
    pub about: &'static str,
    /// Why that matters.
    pub why: &'static str,
    /// What to do.
    pub to_mend: &'static str,
}

/// A time rounds to another pattern, which misses a goal that the written one meets.
pub const TICK_TURNS_VERDICT: &str = "tick-turns-verdict";
/// A time rounds to another pattern.
pub const TICK_CHANGES_PATTERN: &str = "tick-changes-pattern";
/// A pulse is shorter than the controller can be sure to give.
pub const PULSE_UNDER_LOOP: &str = "pulse-under-loop";
/// Pulse-width dimming is slow enough to be seen.
pub const DIMMING_SEEN: &str = "dimming-seen";
/// More than three pulses of a channel begin within a second.
pub const FLASHES_IN_A_SECOND: &str = "flashes-in-a-second";
/// Channels of one clock come together again only after minutes.
pub const PATTERN_OF_MINUTES: &str = "pattern-of-minutes";
/// A channel of a sequence does not say which light it drives.
pub const DRIVES_UNSAID: &str = "drives-unsaid";
/// No lamp and no phase uses a channel.
pub const CHANNEL_UNUSED: &str = "channel-unused";
/// No lamp uses an emitter.
pub const EMITTER_UNUSED: &str = "emitter-unused";
/// A lamp is lit in no phase.
pub const LAMP_IN_NO_PHASE: &str = "lamp-in-no-phase";
/// The phases leave out the loss of signal.
pub const SIGNAL_LOST_UNSAID: &str = "signal-lost-unsaid";
/// A comment lets nothing pass.
pub const NOTHING_LET_PASS: &str = "nothing-let-pass";
/// A comment names a code and does not say why.
pub const LET_PASS_WITHOUT_REASON: &str = "let-pass-without-reason";

/// Every own code.
pub const ALL: &[OwnCode] = &[
    OwnCode {
        code: TICK_TURNS_VERDICT,
        severity: Severity::Error,
        about: "a pattern meets a goal as written and misses it once its times are rounded to the controller's ticks",
        why: "the controller shows the rounded pattern, and that is what a judge counts",
        to_mend: "write times that are whole ticks; a finding says which period of whole ticks keeps the limits",
    },
    OwnCode {
        code: TICK_CHANGES_PATTERN,
        severity: Severity::Warning,
        about: "rounding to the controller's ticks changes a lit time or a period by more than a tenth",
        why: "the lamp shows another pattern than the one written",
        to_mend: "write times that are whole ticks, or give a finer `tick`",
    },
    OwnCode {
        code: PULSE_UNDER_LOOP,
        severity: Severity::Warning,
        about: "a pulse is shorter than two turns of the controller's program",
        why: "it comes out late, twice as long, or not at all, and differently each time",
        to_mend: "lengthen the pulse, or shorten the program: reading a receiver's pulse alone may take 20 ms",
    },
    OwnCode {
        code: DIMMING_SEEN,
        severity: Severity::Warning,
        about: "pulse-width dimming is slower than 200 Hz",
        why: "it is seen as flicker when the eye moves, and as bands by a camera",
        to_mend: "raise `pwm` to 200 Hz or more",
    },
    OwnCode {
        code: FLASHES_IN_A_SECOND,
        severity: Severity::Warning,
        about: "more than three pulses of one channel begin within a second",
        why: "flashing light can set off seizures in photosensitive people (WCAG 2.2, success criterion 2.3.1, a rule for screens, by analogy)",
        to_mend: "flash fewer times in a second, or warn those who watch and keep a steady mode at hand",
    },
    OwnCode {
        code: PATTERN_OF_MINUTES,
        severity: Severity::Note,
        about: "two anti-collision channels of one clock come back to where they began only after more than 10 minutes",
        why: "what is seen together changes all the time, so no short look tells the pattern",
        to_mend: "make one period a multiple of the other",
    },
    OwnCode {
        code: DRIVES_UNSAID,
        severity: Severity::Note,
        about: "a channel of a sequence does not say which light it drives",
        why: "rules speak of lights, so none is held against it, and a clean report says nothing of it",
        to_mend: "say it with `drives:`, like `drives: strobe`",
    },
    OwnCode {
        code: CHANNEL_UNUSED,
        severity: Severity::Warning,
        about: "a channel of this file lights no lamp in any phase",
        why: "a pattern nobody sees is usually a name that was changed in one place only",
        to_mend: "give it to a lamp or a phase, or take it out",
    },
    OwnCode {
        code: EMITTER_UNUSED,
        severity: Severity::Warning,
        about: "an emitter is described and no lamp has it",
        why: "the figures measured for it judge nothing",
        to_mend: "name it in a lamp, or take it out",
    },
    OwnCode {
        code: LAMP_IN_NO_PHASE,
        severity: Severity::Warning,
        about: "phases are given and a lamp is lit in none of them",
        why: "a lamp that is never lit might as well not be fitted",
        to_mend: "add it to a phase",
    },
    OwnCode {
        code: SIGNAL_LOST_UNSAID,
        severity: Severity::Warning,
        about: "phases are given and none says what is lit when the signal is lost",
        why: "lamps that freeze or go dark in the air make a model hard to see just when that matters",
        to_mend: "add `signal lost: [position, anti-collision]` to the phases",
    },
    OwnCode {
        code: NOTHING_LET_PASS,
        severity: Severity::Warning,
        about: "a comment lets a code pass that is not found on its line, is no code, or is not spelt `let pass CODE: why`",
        why: "it lets nothing pass today, and would hide the finding that comes next year",
        to_mend: "write `# let pass CODE: why` on the line of the finding or the one above, or take the comment out",
    },
    OwnCode {
        code: LET_PASS_WITHOUT_REASON,
        severity: Severity::Warning,
        about: "a comment names a code and gives no reason, so that nothing is let pass",
        why: "the next reader could not tell whether it still holds",
        to_mend: "write `# let pass CODE: why`",
    },
];

/// The own code of a name.
#[must_use]
pub fn own_code(name: &str) -> Option<&'static OwnCode> {
    ALL.iter().find(|c| c.code == name)
}
