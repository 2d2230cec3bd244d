//! Bits for the squares of the cube's faces, filled by convex polygons row by row.

use super::cube::FACES;

/// A point of a face, in squares from its corner.
pub(in crate::geometry) type Spot = [f64; 2];

/// What is nearer to an edge than this, in squares, counts as on it: rounding leaves no gap between two triangles, and
/// squares that an outline edge crosses are not decided by this anyway.
const EPS: f64 = 1e-6;

/// One bit a square.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Raster {
    pub size: usize,
    words: usize,
    bits: Vec<u64>,
}

impl Raster {
    /// All bits off; the size is a multiple of 64.
    pub fn new(size: usize) -> Self {
        let words = size.div_ceil(64);
        Self { size, words, bits: vec![0; FACES * size * words] }
    }

    /// Sets the bits of a row from one column to another, both included.
    pub fn set(&mut self, face: usize, row: usize, from: usize, to: usize) {
        let start = (face * self.size + row) * self.words;
        let (first, last) = (from / 64, to / 64);
        let (low, high) = (u64::MAX << (from % 64), u64::MAX >> (63 - to % 64));
        let Some(words) = self.bits.get_mut(start + first..=start + last) else { return };
        match words {
            [only] => *only |= low & high,
            [one, between @ .., other] => {
                *one |= low;
                between.fill(u64::MAX);
                *other |= high;
            }
            [] => {}
        }
    }

    /// Whether a bit is set.
    pub fn get(&self, face: usize, row: usize, column: usize) -> bool {
        let word = (face * self.size + row) * self.words + column / 64;
        self.bits.get(word).is_some_and(|w| w >> (column % 64) & 1 == 1)
    }

    /// Turns a bit on or off.
    pub fn put(&mut self, face: usize, row: usize, column: usize, on: bool) {
        let word = (face * self.size + row) * self.words + column / 64;
        if let Some(word) = self.bits.get_mut(word) {
            *word = *word & !(1 << (column % 64)) | u64::from(on) << (column % 64);
        }
    }

    /// The columns of a row from one to another whose bits are set.
    pub fn set_in(&self, face: usize, row: usize, from: usize, to: usize) -> impl Iterator<Item = usize> {
        let start = (face * self.size + row) * self.words;
        let words = self.bits.get(start + from / 64..=start + to / 64).unwrap_or_default();
        (from / 64..)
            .zip(words)
            .flat_map(move |(n, word)| {
                let mut left = *word;
                std::iter::from_fn(move || {
                    let bit = left.trailing_zeros();
                    left &= left.wrapping_sub(1);
                    (bit < 64).then_some(64 * n + bit as usize)
                })
            })
            .filter(move |column| (from..=to).contains(column))
    }

    /// Whether any bit of some rows and columns, first and last of each, may be set: whole words are looked at.
    pub fn may_hold(&self, face: usize, [rows, columns]: [(usize, usize); 2]) -> bool {
        (rows.0..=rows.1).any(|row| {
            let start = (face * self.size + row) * self.words;
            let words = self.bits.get(start + columns.0 / 64..=start + columns.1 / 64);
            words.unwrap_or_default().iter().any(|word| *word != 0)
        })
    }

    /// How many bits are set.
    pub fn count(&self) -> usize {
        self.bits.iter().map(|w| w.count_ones() as usize).sum()
    }
}

/// Calls with each row and its columns whose middles lie in a convex polygon.
#[inline]
pub(in crate::geometry) fn middles_in(polygon: &[Spot], size: usize, mut each: impl FnMut(usize, usize, usize)) {
    let Some([left, low, right, high]) = bounds(polygon) else { return };
    // Most triangles are smaller than a square and lie between middles.
    let (Some((first, last)), Some(_)) = (middles(low, high, size), middles(left, right, size)) else { return };
    for row in first..=last {
        let y = row as f64 + 0.5;
        if let Some((from, to)) = at_height(polygon, y).and_then(|(left, right)| middles(left, right, size)) {
            each(row, from, to);
        }
    }
}

/// Calls with each row and the columns a convex polygon touches, a hair around it too.
pub(super) fn touched_by(polygon: &[Spot], size: usize, mut each: impl FnMut(usize, usize, usize)) {
    let Some([rows, columns]) = about(polygon, size) else { return };
    if rows.0 == rows.1 {
        return each(rows.0, columns.0, columns.1);
    }
    for row in rows.0..=rows.1 {
        let (bottom, top) = (row as f64 - EPS, row as f64 + 1.0 + EPS);
        let inside = polygon.iter().filter(|p| (bottom..=top).contains(&p[1])).map(|p| (p[0], p[0]));
        let lines = [bottom, top].into_iter().filter_map(|y| at_height(polygon, y));
        let span = inside.chain(lines).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
        if let Some((from, to)) = span.and_then(|(left, right)| squares(left, right, size)) {
            each(row, from, to);
        }
    }
}

/// The rows and the columns of the squares about a polygon, first and last of each.
pub(super) fn about(polygon: &[Spot], size: usize) -> Option<[(usize, usize); 2]> {
    let [left, low, right, high] = bounds(polygon)?;
    Some([squares(low, high, size)?, squares(left, right, size)?])
}

/// The least and the greatest of a polygon's corners: left, low, right, high.
fn bounds(polygon: &[Spot]) -> Option<[f64; 4]> {
    let [first, others @ ..] = polygon else { return None };
    let mut bounds = [first[0], first[1], first[0], first[1]];
    for [x, y] in others {
        bounds = [bounds[0].min(*x), bounds[1].min(*y), bounds[2].max(*x), bounds[3].max(*y)];
    }
    Some(bounds)
}

/// The squares whose middles lie between two places.
fn middles(low: f64, high: f64, size: usize) -> Option<(usize, usize)> {
    let (low, high) = ((low - 0.5 - EPS).max(0.0), (high - 0.5 + EPS).min(size as f64 - 1.0));
    // Casts, for a call of ceil or floor costs more than the rest of a small triangle.
    let whole = low as usize;
    let first = whole + usize::from((whole as f64) < low);
    (high >= 0.0 && first <= high as usize).then_some((first, high as usize))
}

/// The squares that any of a stretch lies in.
fn squares(low: f64, high: f64, size: usize) -> Option<(usize, usize)> {
    let (low, high) = (low - EPS, high + EPS);
    let end = size as f64 - 1.0;
    (low <= high && high >= 0.0 && low < end + 2.0)
        .then(|| (low.clamp(0.0, end) as usize, high.clamp(0.0, end) as usize))
}

/// The left and the right end of a convex polygon at a height.
fn at_height(polygon: &[Spot], y: f64) -> Option<(f64, f64)> {
    let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut p = polygon.last()?;
    for q in polygon {
        let (bottom, top) = if p[1] <= q[1] { (p, q) } else { (q, p) };
        if y >= bottom[1] - EPS && y <= top[1] + EPS {
            let rise = top[1] - bottom[1];
            if rise > 0.0 {
                let x = bottom[0] + (top[0] - bottom[0]) * ((y - bottom[1]) / rise).clamp(0.0, 1.0);
                (left, right) = (left.min(x), right.max(x));
            } else {
                (left, right) = (left.min(p[0].min(q[0])), right.max(p[0].max(q[0])));
            }
        }
        p = q;
    }
    (left <= right).then_some((left, right))
}
