//! The fixed phrases of figures, in one place.

/// Names of a number's unit in a rate.
pub(in crate::render) const PER_MIN: &str = "per min";
/// The same, short.
pub(in crate::render) const A_MINUTE: &str = "/min";

/// A range, or one number where both ends read the same.
pub(in crate::render) fn range(low: &str, high: &str) -> String {
    if low == high { low.to_string() } else { format!("{low} {} {high}", all::TO) }
}

/// How many more there are than are told.
pub(in crate::render) fn and_more(count: usize) -> String {
    format!("and {count} more")
}

// The chart of colours.
pub(in crate::render) const COLOURS_TOLD: &str =
    "CIE 1931 x, y diagram with the spectrum's colours, published regions and the lamps.";
pub(in crate::render) const COLOURS_OUTSIDE: &str = "outside the diagram";
pub(in crate::render) const COLOURS_UNKNOWN: &str = "colour not known";
pub(in crate::render) const COLOURS_GOALS: &str = "colour goals:";
pub(in crate::render) const COLOURS_HOLLOW: &str =
    "Black mark: one colour. Hollow mark: any colour of the line or area it stands on.";

// The strip of time.
pub(in crate::render) const TIMING_TOLD: &str = "Level of each channel over a common axis of time.";
pub(in crate::render) const TIMING_STEADY: &str = "steady";
pub(in crate::render) const TIMING_DARK: &str = "dark";
pub(in crate::render) const TIMING_CLOCK: &str = "clock";
pub(in crate::render) const TIMING_PERIOD: &str = "every";
pub(in crate::render) const TIMING_DRIFT: &str =
    "Channels on different clocks drift: their starts against each other are not what is drawn.";
pub(in crate::render) const TIMING_IN_MS: &str = "time in ms";
pub(in crate::render) const TIMING_IN_S: &str = "time in s";
pub(in crate::render) const TIMING_KEY: &str =
    "Bracket: one flash, with its number of pulses. Dotted rule: where the channel's own period begins anew.";
pub(in crate::render) const TIMING_SEEN: &str = "Flashes per minute, as seen from";
pub(in crate::render) const TIMING_NONE_SEEN: &str = "none seen";
pub(in crate::render) const TIMING_OR_DARK: &str = "or dark";
pub(in crate::render) const TIMING_UNKNOWN: &str = "cannot be told";
pub(in crate::render) const TIMING_PEAK: &str = "peak";
pub(in crate::render) const TIMING_EFFECTIVE: &str = "effective";

/// How many channels a first page leaves out.
pub(in crate::render) fn timing_more(count: usize) -> String {
    format!("{} on the evidence pages.", and_more(count))
}

/// How much of the slower patterns is shown.
pub(in crate::render) fn timing_cut(seconds: &str) -> String {
    format!("The axis shows the first {seconds} s; slower patterns go on.")
}

// The three views.
pub(in crate::render) const VIEWS_TOLD: &str = "The model to one scale, with its lamps numbered as in the lamp table.";
pub(in crate::render) const VIEWS_PLAN: &str = "from above";
pub(in crate::render) const VIEWS_SIDE: &str = "from the left";
pub(in crate::render) const VIEWS_FRONT: &str = "from ahead";
pub(in crate::render) const VIEWS_DECLARED: &str = "declared span and length only";
pub(in crate::render) const VIEWS_NO_PLACE: &str = "No place is given for any lamp: add `place:` to see them here.";
pub(in crate::render) const VIEWS_PARTLY: &str =
    "No lamp's place is given in full: a view needs two of its distances forward, to the right and up.";
pub(in crate::render) const VIEWS_SECTORS: &str =
    "Sectors: where light is asked; hatched: where it is hidden on the horizon.";

// The view at night.
pub(in crate::render) const NIGHT_TOLD: &str =
    "The lamps as an observer sees them at night, each at its greatest level.";
pub(in crate::render) const NIGHT_NONE: &str = "No lamp is seen from here.";

/// Words of several figures.
pub(in crate::render) mod all {
    pub(in crate::render) const AHEAD: &str = "ahead";
    pub(in crate::render) const RIGHT: &str = "right";
    pub(in crate::render) const AFT: &str = "aft";
    pub(in crate::render) const LEFT: &str = "left";
    pub(in crate::render) const UP: &str = "up";
    pub(in crate::render) const DOWN: &str = "down";
    pub(in crate::render) const WORST: &str = "worst direction";
    pub(in crate::render) const FROM: &str = "from";
    pub(in crate::render) const TO: &str = "to";
}

/// Margins of goals.
pub(in crate::render) mod margins {
    pub(in crate::render) const NONE: &str = "No goals.";
    pub(in crate::render) const SHARE: &str = "Margin as a share of the limit";
    pub(in crate::render) const IN_UNIT: &str = "Margin in";
    pub(in crate::render) const WITHOUT: &str = "Without a margin";
    pub(in crate::render) const GOALS: &str = "goals";
    pub(in crate::render) const HOW_TO_READ: &str = "A bar runs over all a margin may be, from the least to the most: the limit is kept right of zero and not kept left of it.";
    pub(in crate::render) const BY_THE_LIST: &str = "A goal may be met with a bar across the line where what falls short is too small to decide, or open for another reason; its row in the list of goals says why.";
    pub(in crate::render) const BEYOND: &str = "An arrow with a number: it goes on to there.";
}

/// Luminous intensity around a plane.
pub(in crate::render) mod polar {
    pub(in crate::render) const HORIZONTAL: &str = "Luminous intensity around the horizontal plane";
    pub(in crate::render) const VERTICAL: &str = "Luminous intensity around the upright plane through";
    pub(in crate::render) const FOUND: &str = "found, from least to most";
    pub(in crate::render) const FLOOR: &str = "asked at the least";
    pub(in crate::render) const CEILING: &str = "allowed at the most";
    pub(in crate::render) const UNIT: &str = "cd at full size";
    pub(in crate::render) const RINGS: &str = "Rings: cd at full size, each ten times the one inside it; at the centre";
    pub(in crate::render) const AND_LESS: &str = "cd and less.";
    pub(in crate::render) const UNBOUNDED: &str =
        "Where the band runs to the rim nothing is known that bounds it from above.";
    pub(in crate::render) const NOT_ASKED: &str = "Nothing is asked in this plane.";
    pub(in crate::render) const NOTHING: &str = "Nothing was found.";
}

/// The whole sphere.
pub(in crate::render) mod sphere {
    pub(in crate::render) const MAP: &str =
        "The whole sphere around the craft, equal areas drawn equal, ahead in the middle";
    pub(in crate::render) const SEEN: &str = "seen, bright enough";
    pub(in crate::render) const NOT_ASKED: &str = "seen; nothing is asked there";
    pub(in crate::render) const UNSURE: &str = "seen, bright enough cannot be told";
    pub(in crate::render) const SHORT: &str = "less than asked";
    pub(in crate::render) const SPILL: &str = "more than allowed";
    pub(in crate::render) const SHADED: &str = "in half-shadow";
    pub(in crate::render) const MASKED: &str = "hidden by masks or lamp bodies";
    pub(in crate::render) const AIRFRAME: &str = "hidden by the airframe";
    pub(in crate::render) const WORST: &str = "Worst directions";
}
