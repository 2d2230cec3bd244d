//! The CIE 1931 2 degree standard observer: colour-matching functions and spectrum locus.

use super::Chromaticity;
use std::sync::LazyLock;

/// The first wavelength of the table, in nanometres.
pub const FIRST_NM: f64 = 360.0;
/// The last wavelength of the table, in nanometres.
pub const LAST_NM: f64 = 830.0;

/// CIE data through colour-science (BSD-3-Clause); the attribution is the first line of the file.
const TABLE: &str = include_str!("cie1931_2deg_1nm.csv");

/// One line of the table.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    /// Wavelength, a whole number of nanometres.
    pub nm: f64,
    /// x-bar, y-bar and z-bar.
    pub xyz: [f64; 3],
    /// The point of the spectrum locus.
    pub locus: Chromaticity,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| TABLE.lines().filter_map(row).collect());

fn row(line: &str) -> Option<Row> {
    let mut cells = line.split(',').map(|cell| cell.trim().parse::<f64>().ok());
    let mut next = || cells.next().flatten();
    let (nm, xyz) = (next()?, [next()?, next()?, next()?]);
    Some(Row { nm, xyz, locus: Chromaticity::of_tristimulus(xyz)? })
}

/// The whole table, in steps of 1 nm.
pub(super) fn rows() -> &'static [Row] {
    &ROWS
}

/// The lines whose wavelength lies in `[low_nm, high_nm]`.
pub(super) fn rows_between(low_nm: f64, high_nm: f64) -> &'static [Row] {
    let from = ROWS.partition_point(|r| r.nm < low_nm);
    let to = ROWS.partition_point(|r| r.nm <= high_nm);
    ROWS.get(from..to).unwrap_or_default()
}

/// The colour-matching functions x-bar, y-bar, z-bar at a wavelength in nanometres.
///
/// Linear between the 1 nm lines of the CIE table (CIE 15 / ISO 11664-1); `None` outside 360 to 830 nm.
///
/// ```
/// // y-bar has its maximum of 1 at 555 nm (CIE 15, table T.4).
/// let [_, y_bar, _] = lampwright::colorimetry::colour_matching(555.0).expect("in the table");
/// assert_eq!(y_bar, 1.0);
/// ```
#[must_use]
pub fn colour_matching(wavelength_nm: f64) -> Option<[f64; 3]> {
    let (a, b, share) = around(wavelength_nm)?;
    let [xa, ya, za] = a.xyz;
    let [xb, yb, zb] = b.xyz;
    Some([xa + share * (xb - xa), ya + share * (yb - ya), za + share * (zb - za)])
}

/// The chromaticity of monochromatic light of a wavelength in nanometres.
///
/// Linear in (x, y) between the points of the 1 nm table; `None` outside 360 to 830 nm.
///
/// ```
/// // The spectrum locus at 700 nm (CIE 15): x = 0.7347, y = 0.2653.
/// let deep_red = lampwright::colorimetry::monochromatic(700.0).expect("in the table");
/// assert_eq!(deep_red.to_string(), "(0.7347, 0.2653)");
/// ```
#[must_use]
pub fn monochromatic(wavelength_nm: f64) -> Option<Chromaticity> {
    let (a, b, share) = around(wavelength_nm)?;
    Some(Chromaticity {
        x: a.locus.x + share * (b.locus.x - a.locus.x),
        y: a.locus.y + share * (b.locus.y - a.locus.y),
    })
}

/// The lines on either side of a wavelength, and how far between them it lies.
fn around(wavelength_nm: f64) -> Option<(Row, Row, f64)> {
    if !(FIRST_NM..=LAST_NM).contains(&wavelength_nm) {
        return None;
    }
    let below = (wavelength_nm - FIRST_NM).floor();
    let index = below as usize;
    let a = *ROWS.get(index)?;
    let b = *ROWS.get(index + 1).unwrap_or(&a);
    Some((a, b, wavelength_nm - FIRST_NM - below))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_whole() {
        assert_eq!(rows().len(), 471);
        assert!(rows().iter().enumerate().all(|(i, r)| r.nm == FIRST_NM + i as f64));
        assert_eq!(rows_between(500.0, 502.5).len(), 3);
        assert!(rows_between(900.0, 300.0).is_empty());
    }

    #[test]
    fn outside_there_is_nothing() {
        for nm in [f64::NAN, f64::INFINITY, 359.9, 830.1, -1.0] {
            assert!(monochromatic(nm).is_none() && colour_matching(nm).is_none(), "{nm}");
        }
        assert!(monochromatic(830.0).is_some());
    }
}
