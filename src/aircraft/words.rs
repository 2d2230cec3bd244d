//! The words of aircraft files.

use crate::source::words;

words! {
    /// Where a figure comes from, the surest first.
    what "where a figure comes from";
    pub enum Origin {
        /// Measured on this part.
        Measured = "measured",
        /// From the part's data sheet.
        DataSheet = "data sheet",
        /// Typical of the class of emitter.
        Typical = "typical",
        /// A guess, or not said.
        Guess = "guess",
    }
}

words! {
    /// What stands before the emitter.
    what "a cover";
    pub enum CoverKind {
        /// Clear plastic.
        Clear = "clear",
        /// Clear plastic, scratched or dusty.
        Worn = "worn",
        /// Sanded or frosted.
        Frosted = "frosted",
        /// Milky.
        Opal = "opal",
        /// Printed in clear material, not polished.
        Printed = "printed",
        /// Tinted red.
        Red = "red",
        /// Tinted green.
        Green = "green",
    }
}

words! {
    /// Why a lamp is there, where not for realism.
    what "who requires the lamp";
    pub enum RequiredBy {
        /// The rules at the flying site.
        LocalRule = "local rule",
    }
}
