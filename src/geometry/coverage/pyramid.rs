//! What the squares of the cube hold, at every size, so that a wide cap is told by few of them.

use super::State;
use super::cube::{FACES, Square};
use super::leaf::Cap;
use crate::geometry::mesh::{length, minus};

/// Some of a square is seen, some is hidden, some is not decided as a whole.
pub(super) const SEEN: u8 = 1;
pub(super) const HIDDEN: u8 = 2;
pub(super) const CROSSED: u8 = 4;

/// Squares of every size, from the whole of a face down.
#[derive(Debug, Clone, Default)]
pub(super) struct Pyramid {
    levels: Vec<Vec<u8>>,
}

impl Pyramid {
    /// From what each of the finest squares holds, by face, row and column.
    pub fn new(size: usize, holds: impl Fn(usize, usize, usize) -> u8) -> Self {
        let mut finest = Vec::with_capacity(FACES * size * size);
        for face in 0..FACES {
            for row in 0..size {
                finest.extend((0..size).map(|column| holds(face, row, column)));
            }
        }
        let mut levels = vec![finest];
        let mut size = size;
        while size > 1 {
            size /= 2;
            let below = levels.last().map_or(&[][..], Vec::as_slice);
            let of = |n: usize| {
                let (face, row, column) = (n / (size * size), n / size % size, n % size);
                let quarters = Square { face, size, row, column }.quarters();
                quarters.iter().map(|q| below.get(q.index()).copied().unwrap_or(0)).fold(0, |a, b| a | b)
            };
            let level = (0..FACES * size * size).map(of).collect();
            levels.push(level);
        }
        levels.reverse();
        Self { levels }
    }

    /// How many of the finest squares a side of a face has.
    pub fn size(&self) -> usize {
        1 << self.levels.len().saturating_sub(1)
    }

    /// What one of the finest squares holds.
    pub fn finest(&self, square: Square) -> u8 {
        self.levels.last().and_then(|finest| finest.get(square.index())).copied().unwrap_or(SEEN)
    }

    /// The state of a cap; the finest squares that are crossed are asked for.
    pub fn state_of(&self, cap: &Cap, crossed: impl Fn(Square) -> State) -> State {
        let mut open: Vec<Square> = (0..FACES).map(|face| Square { face, size: 1, row: 0, column: 0 }).collect();
        let mut seen_or_hidden = 0;
        while let Some(square) = open.pop() {
            if square.is_beyond(cap.center, cap.radius_rad, cap.sin) {
                continue;
            }
            let level = square.size.trailing_zeros() as usize;
            let holds = self.levels.get(level).and_then(|l| l.get(square.index())).copied().unwrap_or(SEEN);
            let inside = || {
                let apart = length(minus(square.center(), cap.center));
                apart * std::f64::consts::FRAC_PI_2 + square.radius_rad() <= cap.radius_rad
            };
            seen_or_hidden |= match holds {
                SEEN | HIDDEN => holds,
                _ if holds & (SEEN | HIDDEN) == SEEN | HIDDEN && inside() => return State::Mixed,
                _ if level + 1 < self.levels.len() => {
                    open.extend(square.quarters());
                    0
                }
                _ => match crossed(square) {
                    State::Inside => HIDDEN,
                    State::Outside => SEEN,
                    _ => return State::Mixed,
                },
            };
            if seen_or_hidden == SEEN | HIDDEN {
                return State::Mixed;
            }
        }
        if seen_or_hidden == HIDDEN { State::Inside } else { State::Outside }
    }
}
