//! Any bytes are a photometric file or mistakes at their places; what is read shines with 0 or more, within its bounds.
#![no_main]

use lampwright::geometry::{AzimuthSpan, Cell, Direction};
use lampwright::photometry::{Beam, Shape};
use lampwright::source::formats::{Photometry, photometric_file};
use lampwright::units::Interval;
use lampwright_fuzz::{told, within};
use std::f64::consts::PI;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    for name in ["led.ies", "led.ldt"] {
        match photometric_file(name, bytes).expect("an ending that is known") {
            Ok(file) => shines(&file),
            Err(rejected) => told(&rejected, within),
        }
    }
});

/// The file is whole, and so is the light of a lamp that has it, aimed and rolled in several ways.
fn shines(file: &Photometry) {
    assert_eq!(file.candela.len(), file.vertical_deg.len() * file.horizontal_deg.len());
    assert!(file.candela.iter().all(|cd| cd.is_finite() && *cd >= 0.0));
    let peak = file.peak_cd();
    sound(peak);
    assert!(peak.high > 0.0);
    file.lamp_lm.into_iter().for_each(sound);
    let shape = Shape::grid(file).expect("what was read is well formed");
    let flux_per_peak = shape.flux_per_peak();
    sound(flux_per_peak);
    assert!(flux_per_peak.high <= 4.0 * PI * (1.0 + 1e-9), "{flux_per_peak:?}");
    for (azimuth, elevation, roll) in [(0.0, 0.0, 0.0), (-110.0, 20.0, 33.0), (0.0, 90.0, -90.0)] {
        let rolled = shape.clone().with_roll_deg(roll).expect("finite");
        let beam = Beam::new(Direction::from_degrees(azimuth, elevation), peak, rolled).expect("well formed");
        for beam in [beam.mirrored(), beam] {
            looked_up(&beam);
        }
    }
}

/// Intensities in directions all around, each within what is said of a cell it lies in.
fn looked_up(beam: &Beam) {
    let slack = 1e-6 * beam.peak_cd().high;
    let near = |range: Interval, x: f64| x >= range.low - slack && x <= range.high + slack;
    for n in 0..24_u32 {
        let (az, el) = (f64::from(n) * 137.508, f64::from(n % 13) * 15.0 - 90.0);
        let width = 40.0 * 0.5_f64.powi((n % 12) as i32);
        let cell = Cell::new(AzimuthSpan::new(az, width), Interval::new(el, (el + width).min(90.0)));
        let d = Direction::from_degrees(az + 0.3 * width, el + 0.4 * cell.elevation_deg.width());
        let (found, ends) = (beam.intensity_cd(&d), beam.intensity_over(&cell));
        sound(found);
        assert!(found.high <= beam.peak_cd().high + slack, "{found:?}");
        assert!(near(ends.low, found.low) && near(ends.high, found.high), "{found:?} is not in {ends:?}");
    }
}

fn sound(range: Interval) {
    assert!(range.low >= 0.0 && range.low <= range.high && range.high.is_finite(), "{range:?}");
}
