//! The trade's words, as files write them.

use crate::source::words;

words! {
    /// A light by its function.
    what "a light";
    pub enum Light {
        /// Red, left wing tip.
        LeftPosition = "left position",
        /// Green, right wing tip.
        RightPosition = "right position",
        /// White, on the tail or one on each wing tip.
        RearPosition = "rear position",
        /// Anti-collision light, usually red and flashing, above and below the fuselage.
        Beacon = "beacon",
        /// Anti-collision light, usually white and in short flashes, at the wing tips and the tail.
        Strobe = "strobe",
        /// Landing light.
        Landing = "landing",
        /// Taxi light.
        Taxi = "taxi",
        /// Runway turn-off light.
        TurnOff = "turn-off",
        /// Light on the fin's markings.
        Logo = "logo",
        /// Recognition light.
        Recognition = "recognition",
        /// Formation light.
        Formation = "formation",
        /// Wing-inspection (ice) light.
        WingInspection = "wing inspection",
        /// Riding (anchor) light of a seaplane.
        Riding = "riding",
        /// White light forward, of an airship or of a seaplane under way.
        Nose = "nose",
        /// Yellow light above the tail light of a seaplane that tows.
        Towing = "towing",
        /// Red lights, one above the other, of a craft that cannot be steered.
        NotUnderCommand = "not under command",
        /// One light seen from everywhere, of a glider or a balloon.
        AllRound = "all-round",
        /// A light of no full-size craft, that marks a model or an unmanned aircraft at the flying site.
        Conspicuity = "conspicuity",
    }
}

impl Light {
    /// The side of the craft the light belongs to, where it has one.
    #[must_use]
    pub fn side(self) -> Option<Side> {
        match self {
            Self::LeftPosition => Some(Side::Left),
            Self::RightPosition => Some(Side::Right),
            _ => None,
        }
    }
}

words! {
    /// A light, or several that a rule speaks of together.
    what "a light or group of lights";
    pub enum LightGroup {
        /// The red light on the left.
        LeftPosition = "left position",
        /// The green light on the right.
        RightPosition = "right position",
        /// The white light aft.
        RearPosition = "rear position",
        /// All three position lights.
        Position = "position",
        /// Beacons and strobes together.
        AntiCollision = "anti-collision",
        /// Beacons alone.
        Beacon = "beacon",
        /// Strobes alone.
        Strobe = "strobe",
        /// Landing lights.
        Landing = "landing",
        /// Taxi lights.
        Taxi = "taxi",
        /// The riding light.
        Riding = "riding",
        /// The white light forward.
        Nose = "nose",
        /// The yellow light of a craft that tows.
        Towing = "towing",
        /// The red lights of a craft that cannot be steered.
        NotUnderCommand = "not under command",
        /// One light seen from everywhere.
        AllRound = "all-round",
        /// A light that marks a model at the flying site.
        Conspicuity = "conspicuity",
        /// Every lamp.
        Any = "any",
    }
}

impl LightGroup {
    /// Whether a light belongs to the group.
    #[must_use]
    pub fn holds(self, light: Light) -> bool {
        match self {
            Self::Position => matches!(light, Light::LeftPosition | Light::RightPosition | Light::RearPosition),
            Self::AntiCollision => matches!(light, Light::Beacon | Light::Strobe),
            Self::Any => true,
            _ => self.as_str() == light.as_str(),
        }
    }
}

words! {
    /// A side of the craft, seen from the pilot's seat.
    what "a side";
    pub enum Side {
        /// Port.
        Left = "left",
        /// Starboard.
        Right = "right",
    }
}

words! {
    /// What kind of craft the prototype is.
    what "a category";
    pub enum Category {
        /// Large aeroplanes carrying passengers or freight.
        TransportAeroplane = "transport aeroplane",
        /// Light and commuter aeroplanes.
        SmallAeroplane = "small aeroplane",
        /// Large helicopters.
        TransportRotorcraft = "transport rotorcraft",
        /// Light helicopters.
        SmallRotorcraft = "small rotorcraft",
        /// Sailplanes.
        Glider = "glider",
        /// Manned free balloons.
        Balloon = "balloon",
        /// Airships.
        Airship = "airship",
        /// Craft of armed forces.
        Military = "military",
    }
}

// `Authority`: the lines of rules/authorities.txt, written out by the build script.
include!(concat!(env!("OUT_DIR"), "/authorities.rs"));

words! {
    /// A phase of a flight, or of what comes before and after it.
    what "a phase";
    pub enum Phase {
        /// Standing, engines stopped.
        Parked = "parked",
        /// Standing, an engine running.
        EngineRunning = "engine running",
        /// Moving on the ground.
        Taxi = "taxi",
        /// On the runway, ready.
        LinedUp = "lined up",
        /// The take-off.
        TakeOff = "take-off",
        /// The climb.
        Climb = "climb",
        /// The cruise.
        Cruise = "cruise",
        /// The approach.
        Approach = "approach",
        /// The landing.
        Landing = "landing",
        /// Standing again, engines stopping.
        ShutDown = "shut down",
        /// The model's radio link is lost.
        SignalLost = "signal lost",
    }
}

words! {
    /// How many of a light's lamps are lit in a phase.
    what "how many are lit";
    pub enum Lit {
        /// All of them.
        Every = "every lamp",
        /// One at least.
        Some = "some lamp",
        /// None.
        No = "no lamp",
    }
}

words! {
    /// What a rule set judges.
    what "what a rule set judges";
    pub enum Judges {
        /// Whether the model, at its scale, looks as the full-size craft would.
        FullSizeAppearance = "full-size appearance",
        /// The model itself, as a local rule does.
        TheModelItself = "the model itself",
        /// Light sequences by themselves, whatever model they are for.
        Sequences = "sequences by themselves",
    }
}

words! {
    /// What a requirement rests on as a whole.
    what "a kind of rule";
    pub enum RuleKind {
        /// A published document.
        Published = "published",
        /// Common practice, no source.
        Practice = "practice",
        /// A goal of this program's own.
        Own = "own",
        /// A rule for model aircraft at the flying site.
        LocalRule = "local rule",
    }
}

words! {
    /// What becomes of a paragraph of the document.
    what "a paragraph status";
    pub enum ParagraphStatus {
        /// One or more requirements check it.
        Checked = "checked",
        /// It asks for something no declared data can show.
        NotCheckable = "not checkable from data",
        /// It has no meaning for a model.
        NotForModels = "does not apply to a model",
        /// Its figures were not at hand when the rule set was written.
        NotAtHand = "figures not at hand",
        /// It could be checked, and this version does not do it yet.
        NotYet = "not checked by this version",
    }
}
