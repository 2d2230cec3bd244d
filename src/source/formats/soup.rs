//! Triangle meshes: STL, binary and text, and OBJ.

use std::io::Cursor;

/// More triangles than this are no airframe of a model.
pub const MOST_TRIANGLES: usize = 2_000_000;
/// A binary STL: a header of 80 bytes, a count of 4, and 50 bytes a triangle.
const HEAD: usize = 84;
const EACH: usize = 50;

/// The corners of a triangle, as the file has them.
pub type Corners = [[f32; 3]; 3];

/// Reads a mesh: OBJ where the name ends so, else STL, whose two forms are told apart by length and first word.
///
/// Everything but positions and faces is passed over; faces of more than three corners become triangles.
///
/// # Errors
/// What is wrong, in words: a count that is not what the file holds, a number that is not finite, no triangles, too many.
pub fn soup(name: &str, bytes: Vec<u8>) -> Result<Vec<Corners>, String> {
    let is_obj = name.rsplit('.').next().is_some_and(|end| end.eq_ignore_ascii_case("obj"));
    let triangles = if is_obj { obj(&bytes)? } else { stl(bytes)? };
    if triangles.is_empty() {
        return Err("it has no triangles".to_string());
    }
    let not_finite = |corners: &Corners| corners.iter().flatten().any(|x| !x.is_finite());
    if let Some(n) = triangles.iter().position(not_finite) {
        return Err(format!("triangle {} has a corner that is no finite number", n + 1));
    }
    Ok(triangles)
}

fn too_many(count: usize) -> Result<(), String> {
    if count > MOST_TRIANGLES {
        return Err(format!("it has {count} triangles, and {MOST_TRIANGLES} are read; make it coarser"));
    }
    Ok(())
}

fn stl(mut bytes: Vec<u8>) -> Result<Vec<Corners>, String> {
    let count = match bytes.get(80..HEAD) {
        Some([a, b, c, d]) => u32::from_le_bytes([*a, *b, *c, *d]) as usize,
        _ => 0,
    };
    let fits = bytes.len() >= HEAD && bytes.len() - HEAD == count.saturating_mul(EACH);
    let is_text = bytes.starts_with(b"solid") && !fits && !bytes.contains(&0);
    if !is_text {
        if !fits {
            let held = bytes.len().saturating_sub(HEAD) / EACH;
            return Err(format!(
                "it is no STL: a binary one of {count} triangles has {} bytes, and this has {}, room for {held}",
                count.saturating_mul(EACH).saturating_add(HEAD),
                bytes.len()
            ));
        }
        too_many(count)?;
        // Some programs begin a binary file with the word that begins a text.
        bytes.iter_mut().take(5).for_each(|b| *b = 0);
    }
    let mut reader = Cursor::new(bytes);
    let read = stl_io::create_stl_reader(&mut reader).map_err(|e| e.to_string())?;
    let mut triangles = Vec::new();
    for triangle in read {
        let triangle = triangle.map_err(|e| format!("after triangle {}: {e}", triangles.len()))?;
        triangles.push(triangle.vertices.map(|v| v.0));
        too_many(triangles.len())?;
    }
    Ok(triangles)
}

/// How many triangles the faces of an OBJ make, counted before any is held; and no more corners than they could have.
fn count_obj(bytes: &[u8]) -> Result<(), String> {
    let (mut triangles, mut corners) = (0_usize, 0_usize);
    for line in bytes.split(|b| *b == b'\n') {
        let mut words = line.split(u8::is_ascii_whitespace).filter(|w| !w.is_empty());
        match words.next() {
            Some(b"f") => triangles = triangles.saturating_add(words.count().saturating_sub(2)),
            Some(b"v") => corners += 1,
            _ => {}
        }
    }
    too_many(triangles)?;
    if corners > 3 * MOST_TRIANGLES {
        return Err(format!("it has {corners} corners, and {} are read; make it coarser", 3 * MOST_TRIANGLES));
    }
    Ok(())
}

fn obj(mut bytes: &[u8]) -> Result<Vec<Corners>, String> {
    count_obj(bytes)?;
    let options =
        tobj::LoadOptions { triangulate: true, ignore_points: true, ignore_lines: true, ..Default::default() };
    let no_materials = |_: &std::path::Path| Ok(Default::default());
    let (models, _) = tobj::load_obj_buf(&mut bytes, &options, no_materials).map_err(|e| e.to_string())?;
    let mut triangles = Vec::new();
    for mesh in models.iter().map(|m| &m.mesh) {
        let corner = |index: &u32| match mesh.positions.get(3 * *index as usize..3 * *index as usize + 3) {
            Some([x, y, z]) => Some([*x, *y, *z]),
            _ => None,
        };
        for face in mesh.indices.chunks_exact(3) {
            let corners: Option<Vec<[f32; 3]>> = face.iter().map(corner).collect();
            match corners.as_deref() {
                Some([a, b, c]) => triangles.push([*a, *b, *c]),
                _ => return Err("a face names a corner that is not there".to_string()),
            }
        }
    }
    Ok(triangles)
}
