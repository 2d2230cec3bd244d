//! Borders of a set of squares as rings that show no steps.

/// How far a simplified ring may lie from the traced one, in squares: a straight border runs within one, and half of a strip
/// two squares wide is one.
const TOLERANCE: f64 = 0.9;

/// A point in squares from the outer corner of the first square.
type Spot = [f64; 2];

/// The borders of the squares that are inside, for a number of columns and rows: closed rings about outer borders and
/// holes, for even-odd fill, in squares from the outer corner of the first one.
///
/// Rings run amid the sides of squares and are simplified by 0.9 of a square; what is narrower than two squares may be lost.
///
/// # Example
/// ```
/// use lampwright::geometry::outline_of;
/// let rings = outline_of([8, 6], |column, row| (2..6).contains(&column) && (1..5).contains(&row));
/// assert_eq!((rings.len(), rings[0].len()), (1, 4));
/// ```
#[must_use]
pub fn outline_of(size: [usize; 2], inside: impl Fn(usize, usize) -> bool) -> Vec<Vec<[f64; 2]>> {
    let [columns, rows] = size;
    let set: Vec<bool> =
        (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row))).map(|(c, r)| inside(c, r)).collect();
    outline_of_set(columns, &set)
}

/// The same for squares row by row.
pub(super) fn outline_of_set(columns: usize, set: &[bool]) -> Vec<Vec<Spot>> {
    if columns == 0 {
        return Vec::new();
    }
    let squares = Squares { columns: columns as isize, set };
    let mut walked = vec![false; set.len()];
    let mut rings = Vec::new();
    for start in 0..set.len() {
        let below = start.checked_sub(columns).is_some_and(|n| set.get(n) == Some(&true));
        if set.get(start) == Some(&true) && !below && walked.get(start) == Some(&false) {
            let ring = simplified(&squares.border(start, &mut walked));
            if ring.len() > 2 {
                rings.push(ring);
            }
        }
    }
    rings
}

/// The area within a ring (the shoelace formula); holes and outer rings differ in sign.
pub(super) fn area(ring: &[Spot]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(p, q)| p[0] * q[1] - p[1] * q[0]).sum::<f64>() / 2.0
}

struct Squares<'a> {
    columns: isize,
    set: &'a [bool],
}

impl Squares<'_> {
    fn get(&self, column: isize, row: isize) -> bool {
        let within = (0..self.columns).contains(&column) && row >= 0;
        within && self.set.get((row * self.columns + column) as usize) == Some(&true)
    }

    /// The middles of the sides along a border, from the lower side of a square on, set squares on the left.
    fn border(&self, start: usize, walked: &mut [bool]) -> Vec<Spot> {
        let first = (start as isize % self.columns, start as isize / self.columns);
        let ((mut x, mut y), mut way) = (first, (1, 0));
        let mut ring = Vec::new();
        loop {
            if way == (1, 0)
                && let Some(walked) = walked.get_mut((y * self.columns + x) as usize)
            {
                *walked = true;
            }
            ring.push([x as f64 + way.0 as f64 / 2.0, y as f64 + way.1 as f64 / 2.0]);
            (x, y) = (x + way.0, y + way.1);
            way = self.turn(x, y, way);
            if (x, y) == first && way == (1, 0) {
                return ring;
            }
        }
    }

    /// The way on from a corner; squares that only touch at it are joined.
    fn turn(&self, x: isize, y: isize, way: (isize, isize)) -> (isize, isize) {
        let ahead = |side: (isize, isize)| {
            let (across, up) = (way.0 + side.0, way.1 + side.1);
            self.get(x + (across - 1) / 2, y + (up - 1) / 2)
        };
        let (left, right) = ((-way.1, way.0), (way.1, -way.0));
        match (ahead(left), ahead(right)) {
            (_, true) => right,
            (true, false) => way,
            (false, false) => left,
        }
    }
}

/// A ring without the points that lie near the lines between others (Douglas and Peucker 1973), from two that lie far apart.
fn simplified(ring: &[Spot]) -> Vec<Spot> {
    let farthest = |from: Spot| {
        let gap = |p: &Spot| (p[0] - from[0]).powi(2) + (p[1] - from[1]).powi(2);
        (0..ring.len()).max_by(|a, b| gap(&ring[*a]).total_cmp(&gap(&ring[*b])))
    };
    let Some(one) = ring.first().and_then(|p| farthest(*p)) else { return Vec::new() };
    let mut turned: Vec<Spot> = ring.iter().cycle().skip(one).take(ring.len() + 1).copied().collect();
    let other = turned.first().copied().and_then(farthest).map_or(0, |n| (n + ring.len() - one) % ring.len());
    let mut kept = vec![false; turned.len()];
    (kept[0], kept[other]) = (true, true);
    let mut open = vec![(0, other), (other, ring.len())];
    while let Some((from, to)) = open.pop() {
        if let Some(split) = off_line(&turned, from, to) {
            kept[split] = true;
            open.extend([(from, split), (split, to)]);
        }
    }
    let mut keep = kept.into_iter();
    turned.retain(|_| keep.next().unwrap_or(false));
    turned
}

/// The point between two of a line that lies farthest off it, where that is too far.
fn off_line(line: &[Spot], from: usize, to: usize) -> Option<usize> {
    let (a, b) = (*line.get(from)?, *line.get(to)?);
    let way = [b[0] - a[0], b[1] - a[1]];
    let squared = way[0] * way[0] + way[1] * way[1];
    let off = |p: &Spot| {
        let to_p = [p[0] - a[0], p[1] - a[1]];
        // Past an end of the line the end is nearest.
        let along = if squared > 0.0 { ((to_p[0] * way[0] + to_p[1] * way[1]) / squared).clamp(0.0, 1.0) } else { 0.0 };
        (to_p[0] - along * way[0]).hypot(to_p[1] - along * way[1])
    };
    let between = (from + 1..to).filter_map(|n| Some((n, off(line.get(n)?))));
    between.max_by(|p, q| p.1.total_cmp(&q.1)).filter(|(_, off)| *off > TOLERANCE).map(|(n, _)| n)
}
