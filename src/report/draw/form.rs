//! The drawn thread as a surface: how far the finished wood reaches from the axis at a station and an angle. From the
//! drawing alone. Lengths in mm, angles in radians.

use std::f64::consts::{FRAC_PI_4, TAU};

use super::parts::Part;
use crate::drawing::Drawing;

/// Looks at an outline to either side of its middle.
const LOOKS: i32 = 30;

/// The thread of a drawing.
#[derive(Clone, Debug)]
pub(in crate::report) struct Form<'a> {
    drawing: &'a Drawing,
    /// What is turned and milled beside the thread.
    parts: Vec<Part>,
}

impl<'a> Form<'a> {
    pub(in crate::report) fn of(drawing: &'a Drawing) -> Form<'a> {
        Form { drawing, parts: Vec::new() }
    }

    /// The same with what is turned and milled beside the thread.
    pub(super) fn with(drawing: &'a Drawing, parts: Vec<Part>) -> Form<'a> {
        Form { drawing, parts }
    }

    pub(super) fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// How far the piece may reach at a station and an angle, thread left aside.
    pub(super) fn bare(&self, s: f64, theta: f64) -> f64 {
        let inside = self.parts.iter().filter(|part| (part.s_mm[0]..=part.s_mm[1]).contains(&s));
        inside.map(|part| part.radius(s, theta)).fold(self.crest(), f64::min)
    }

    /// How far its outline reaches in a view from the side, thread left aside.
    pub(super) fn reach(&self, s: f64) -> f64 {
        (-LOOKS..=LOOKS)
            .map(|i| {
                let theta = FRAC_PI_4 * f64::from(i) / f64::from(LOOKS);
                self.bare(s, theta) * theta.cos()
            })
            .fold(0.0, f64::max)
    }

    /// Stations at which the outline changes, from the nose to the head.
    pub(super) fn corners(&self) -> Vec<f64> {
        let mut all: Vec<f64> = self.parts.iter().flat_map(|part| part.s_mm).collect();
        all.extend([0.0, self.drawing.head_s_mm]);
        all.retain(|s| (0.0..=self.drawing.head_s_mm).contains(s));
        all.sort_by(f64::total_cmp);
        all.dedup();
        all
    }

    pub(in crate::report) fn crest(&self) -> f64 {
        self.drawing.crest_diameter_mm / 2.0
    }

    pub(in crate::report) fn root(&self) -> f64 {
        self.drawing.root_diameter_mm / 2.0
    }

    pub(in crate::report) fn pitch(&self) -> f64 {
        self.drawing.lead_mm / f64::from(self.drawing.starts)
    }

    /// Station at which the groove of a start (from 0) stands at an angle, counted on.
    pub(super) fn groove_s(&self, start: u32, theta: f64) -> f64 {
        let ahead = TAU * f64::from(start) / f64::from(self.drawing.starts);
        self.drawing.hand.sign() * self.drawing.lead_mm * (theta - ahead) / TAU
    }

    /// How far the tip has climbed at a station of the groove's middle.
    pub(super) fn lift(&self, middle_s: f64) -> f64 {
        let (from, to) = (self.drawing.full_to_s_mm, self.drawing.run_out_to_s_mm);
        let share = ((middle_s - from) / (to - from).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        share * (self.crest() - self.root())
    }

    /// Radius of a groove at full depth at a distance from its middle; infinite beyond its edges.
    pub(in crate::report) fn groove_radius(&self, distance: f64) -> f64 {
        let points = &self.drawing.section;
        let Some(first) = points.first() else {
            return f64::INFINITY;
        };
        if distance <= first.half_width_mm {
            return first.r_mm;
        }
        let above = points.partition_point(|point| point.half_width_mm < distance);
        let Some(b) = points.get(above) else {
            return f64::INFINITY;
        };
        let a = points[above - 1];
        a.r_mm + (b.r_mm - a.r_mm) * (distance - a.half_width_mm) / (b.half_width_mm - a.half_width_mm)
    }

    /// Half the width of a groove at a radius, at full depth.
    pub(super) fn half_width(&self, radius: f64) -> f64 {
        let points = &self.drawing.section;
        let above = points.partition_point(|point| point.r_mm < radius).clamp(1, points.len() - 1);
        let (a, b) = (points[above - 1], points[above]);
        a.half_width_mm + (b.half_width_mm - a.half_width_mm) * (radius - a.r_mm) / (b.r_mm - a.r_mm)
    }

    /// Radius of the finished screw.
    pub(super) fn radius(&self, s: f64, theta: f64) -> f64 {
        let off = s - self.groove_s(0, theta);
        let distance = (off - self.pitch() * (off / self.pitch()).round()).abs();
        let middle = off - (off - self.pitch() * (off / self.pitch()).round()) + self.groove_s(0, theta);
        let bare = self.bare(s, theta);
        if middle > self.drawing.run_out_to_s_mm {
            return bare;
        }
        (self.groove_radius(distance) + self.lift(middle)).min(bare)
    }
}
