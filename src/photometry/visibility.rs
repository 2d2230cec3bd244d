//! How far a light shows (Allard's law), and what a model's lamp stands for at full size.

use crate::units::{Illuminance, Intensity, Length};

/// The illuminance at the eye at which a point light is just seen at night, in lx: agreed in Paris in 1933, in the IALA
/// dictionary and the IES definition of nominal range.
pub const NIGHT_THRESHOLD_LX: f64 = 2e-7;
/// The share of light left over the meteorological visibility: 5 % (CIE e-ILV 17-31-018). The older meteorological
/// range of 2 % is another quantity.
pub const VISIBILITY_CONTRAST: f64 = 0.05;
/// The meteorological visibility of nominal range, in metres: 10 nautical miles (IES definition of nominal range).
pub const NOMINAL_VISIBILITY_M: f64 = 18_520.0;
/// The transmissivity per nautical mile of COLREG 1972 Annex I section 8 = 33 CFR 84.14.
pub const COLREG_TRANSMISSIVITY_PER_NMI: f64 = 0.8;

const NAUTICAL_MILE_M: f64 = 1852.0;

/// How much light the air takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Transmission {
    extinction_per_m: f64,
}

impl Transmission {
    /// Air that takes nothing.
    pub const CLEAR: Self = Self { extinction_per_m: 0.0 };

    /// The air of a meteorological visibility, at the end of which 5 % is left: sigma V = -ln 0.05; `None` for one that
    /// is not above 0 (infinite is clear air).
    #[must_use]
    pub fn from_visibility(visibility: Length) -> Option<Self> {
        let v = visibility.m();
        (v > 0.0).then(|| Self { extinction_per_m: -VISIBILITY_CONTRAST.ln() / v }).filter(|t| t.is_usable())
    }

    /// The air that lets a share through per nautical mile; `None` for one that is not above 0 and at most 1.
    #[must_use]
    pub fn from_transmissivity_per_nmi(share: f64) -> Option<Self> {
        (share > 0.0 && share <= 1.0).then(|| Self { extinction_per_m: -share.ln() / NAUTICAL_MILE_M })
    }

    /// The extinction coefficient per metre.
    #[must_use]
    pub fn extinction_per_m(self) -> f64 {
        self.extinction_per_m
    }

    /// The share left after a distance.
    #[must_use]
    pub fn share_over(self, distance: Length) -> f64 {
        // max() turns a distance that is no number into none; no loss over an infinite one would be 0 x infinity.
        if self.extinction_per_m == 0.0 { 1.0 } else { (-self.extinction_per_m * distance.m().max(0.0)).exp() }
    }

    fn is_usable(&self) -> bool {
        self.extinction_per_m.is_finite()
    }
}

/// The intensity a light needs to be seen at a distance: Allard, I = E d^2 / T^d (CIE e-ILV 17-31-025).
///
/// For a flashing light it is the effective intensity. A distance or threshold that is negative or no number counts as
/// 0; it can be infinite, where the air lets nothing through.
///
/// ```
/// use lampwright::photometry::{COLREG_TRANSMISSIVITY_PER_NMI, NIGHT_THRESHOLD_LX, Transmission, intensity_for_range};
/// use lampwright::units::{Illuminance, Length};
/// // COLREG 1972 Annex I section 8 prints 12 cd for 3 nautical miles.
/// let air = Transmission::from_transmissivity_per_nmi(COLREG_TRANSMISSIVITY_PER_NMI).expect("a share");
/// let needed = intensity_for_range(Length::from_m(3.0 * 1852.0), Illuminance::from_lx(NIGHT_THRESHOLD_LX), air);
/// assert_eq!(needed.cd().round(), 12.0);
/// ```
#[must_use]
pub fn intensity_for_range(range: Length, threshold: Illuminance, air: Transmission) -> Intensity {
    let (d, e) = (range.m().max(0.0), threshold.lx().max(0.0));
    if d == 0.0 || e == 0.0 {
        return Intensity::from_cd(0.0);
    }
    let share = air.share_over(range);
    // Where nothing gets through, a tiny E d^2 would make it 0 / 0.
    Intensity::from_cd(if share > 0.0 { e * d * d / share } else { f64::INFINITY })
}

/// How far a light of an intensity is seen: the root of I T^d = E d^2, by bisection; `None` for no light, or where
/// the threshold is 0 and it is seen at any distance.
#[must_use]
pub fn range_of_intensity(intensity: Intensity, threshold: Illuminance, air: Transmission) -> Option<Length> {
    let (i, e) = (intensity.cd(), threshold.lx());
    if !(i > 0.0 && i.is_finite() && e > 0.0 && e.is_finite()) {
        return None;
    }
    // The air only shortens it: without loss it is sqrt(I / E).
    let (mut near, mut far) = (0.0, (i / e).sqrt());
    if !f64::is_finite(far) {
        return None;
    }
    let seen = |d: f64| i * air.share_over(Length::from_m(d)) >= e * d * d;
    if seen(far) {
        return Some(Length::from_m(far));
    }
    for _ in 0..200 {
        let middle = 0.5 * (near + far);
        if seen(middle) { near = middle } else { far = middle }
    }
    Some(Length::from_m(near))
}

/// The full-size intensity a lamp on a model of scale 1:N stands for: I N^2, for seen from d / N it gives the same
/// illuminance as the full-size light from d.
///
/// ```
/// use lampwright::{photometry::full_size_equivalent, units::Intensity};
/// // 0.625 cd on a 1:8 model stand for 40 cd.
/// assert_eq!(full_size_equivalent(Intensity::from_cd(0.625), 8.0).cd(), 40.0);
/// ```
#[must_use]
pub fn full_size_equivalent(intensity: Intensity, scale: f64) -> Intensity {
    Intensity::from_cd(intensity.cd() * scale * scale)
}
