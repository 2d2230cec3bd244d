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

words! {
    /// The unit of a mesh file's numbers, which such files do not say.
    what "a unit of length";
    pub enum FileUnit {
        /// Millimetres.
        Millimetre = "mm",
        /// Centimetres.
        Centimetre = "cm",
        /// Metres.
        Metre = "m",
        /// Inches.
        Inch = "in",
        /// Feet.
        Foot = "ft",
    }
}

words! {
    /// What size a mesh is drawn in.
    what "the size of a mesh";
    pub enum FileSize {
        /// The model's own.
        Model = "model",
        /// That of the full-size craft.
        FullSize = "full size",
    }
}

words! {
    /// An axis of a mesh file.
    what "an axis of a mesh";
    pub enum FileAxis {
        /// Along x.
        PlusX = "+x",
        /// Against x.
        MinusX = "-x",
        /// Along y.
        PlusY = "+y",
        /// Against y.
        MinusY = "-y",
        /// Along z.
        PlusZ = "+z",
        /// Against z.
        MinusZ = "-z",
    }
}

words! {
    /// Which half of a symmetric airframe a mesh is.
    what "a half of a mesh";
    pub enum Half {
        /// The left half, mirrored to the right.
        Left = "left",
        /// The right half, mirrored to the left.
        Right = "right",
    }
}
