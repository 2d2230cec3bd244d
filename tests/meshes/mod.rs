//! Meshes that several tests look at.

/// A closed surface about a place, cut from an octahedron of which each edge has so many parts: where a unit vector of the
/// middle leads.
pub fn round<P: Copy>(cuts: usize, at: impl Fn([f64; 3]) -> P) -> Vec<[P; 3]> {
    let mut triangles = Vec::new();
    for octant in 0..8 {
        let way = |bit: usize, n: usize| if octant >> bit & 1 == 1 { -(n as f64) } else { n as f64 };
        let corner = |i: usize, j: usize| {
            let p = [way(0, i), way(1, j), way(2, cuts - i - j)];
            let length = (p[0] * p[0] + p[1] * p[1] + p[2] * p[2]).sqrt();
            at(p.map(|x| x / length))
        };
        for i in 0..cuts {
            for j in 0..cuts - i {
                triangles.push([corner(i, j), corner(i + 1, j), corner(i, j + 1)]);
                if i + j + 2 <= cuts {
                    triangles.push([corner(i + 1, j), corner(i + 1, j + 1), corner(i, j + 1)]);
                }
            }
        }
    }
    triangles
}
