//! Strings moves together: on the axis, from the axis to the wall and back, round and round.

use super::{Line, NutMove, NutPath, NutPlace, Sense};

const DEG_PER_TURN: f64 = 360.0;
const DEG_PER_HALF: f64 = 180.0;
/// Share of a half turn below which what is left of a helix is none: less than any machine's step.
const NOTHING: f64 = 1e-9;

/// A path being planned. Heights are those of the cutter's end.
pub(super) struct Track {
    path: NutPath,
    at: NutPlace,
    sense: Sense,
}

impl Track {
    pub(super) fn new(safe_z_mm: f64, sense: Sense) -> Self {
        Track {
            path: NutPath { safe_z_mm, moves: Vec::new(), notes: Vec::new() },
            at: NutPlace { x_mm: 0.0, y_mm: 0.0, z_mm: safe_z_mm },
            sense,
        }
    }

    /// Begins a group of moves.
    pub(super) fn note(&mut self, words: String) {
        self.path.notes.push(words);
    }

    fn push(&mut self, to: NutPlace, line: Line, feed_mm_per_min: Option<f64>) {
        if to == self.at {
            return;
        }
        let note = self.path.notes.len().saturating_sub(1);
        self.path.moves.push(NutMove { to, line, feed_mm_per_min, note });
        self.at = to;
    }

    /// Up or down on the axis of the nut.
    pub(super) fn along_axis(&mut self, z_mm: f64, feed_mm_per_min: Option<f64>) {
        self.push(NutPlace { x_mm: 0.0, y_mm: 0.0, z_mm }, Line::Straight, feed_mm_per_min);
    }

    /// Whether the cutter stands above the block.
    pub(super) fn is_above(&self) -> bool {
        self.at.z_mm >= super::ABOVE_MM
    }

    fn on_circle(circle_mm: f64, angle_deg: f64, z_mm: f64) -> NutPlace {
        let angle = angle_deg.to_radians();
        NutPlace { x_mm: circle_mm * angle.cos(), y_mm: circle_mm * angle.sin(), z_mm }
    }

    /// From the axis to a circle round it, which it touches at an angle; a half circle, seen from the axis a quarter of a
    /// turn, so that a height that grows along it grows with that angle.
    pub(super) fn out_to(&mut self, circle_mm: f64, angle_deg: f64, z_mm: f64, feed_mm_per_min: f64) {
        let to = Self::on_circle(circle_mm, angle_deg, z_mm);
        self.half_circle(to, to, feed_mm_per_min);
    }

    /// From the circle back to the axis, the same way.
    pub(super) fn back_to_axis(&mut self, z_mm: f64, feed_mm_per_min: f64) {
        let from = self.at;
        self.half_circle(NutPlace { x_mm: 0.0, y_mm: 0.0, z_mm }, from, feed_mm_per_min);
    }

    fn half_circle(&mut self, to: NutPlace, at_wall: NutPlace, feed: f64) {
        let centre_mm = [at_wall.x_mm / 2.0, at_wall.y_mm / 2.0];
        self.push(to, Line::Arc { centre_mm, anticlockwise: self.sense.anticlockwise }, Some(feed));
    }

    /// Round the axis from where the cutter stands, by so many turns, to a height.
    pub(super) fn round(
        &mut self,
        circle_mm: f64,
        from_deg: f64,
        turns: f64,
        z_mm: f64,
        feed_mm_per_min: f64,
    ) {
        let from_z_mm = self.at.z_mm;
        let halves = turns * DEG_PER_TURN / DEG_PER_HALF;
        let mut done = 0.0;
        while halves - done > NOTHING {
            done = (done + 1.0).min(halves);
            let angle = from_deg + self.sense.turn() * done * DEG_PER_HALF;
            let z = from_z_mm + (z_mm - from_z_mm) * done / halves;
            let to = Self::on_circle(circle_mm, angle, z);
            let line = Line::Arc { centre_mm: [0.0, 0.0], anticlockwise: self.sense.anticlockwise };
            self.push(to, line, Some(feed_mm_per_min));
        }
    }

    pub(super) fn finish(mut self, feed_mm_per_min: f64) -> NutPath {
        if self.at.z_mm < super::ABOVE_MM {
            self.along_axis(super::ABOVE_MM, Some(feed_mm_per_min));
        }
        let safe = self.path.safe_z_mm;
        self.along_axis(safe, None);
        self.path
    }
}
