//! The thread as a wedge wound round a shaft: turning effort under load, friction at which it stays put, efficiency.

use std::f64::consts::PI;

/// What the mechanics need of a thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    /// Diameter at which the load is taken to act: midway between crest and root.
    pub mean_diameter_mm: f64,
    /// Advance per turn.
    pub lead_mm: f64,
    /// Cosine of the angle of the flanks against a plane square to the axis; 1 for a square thread. Exactly, that of the
    /// angle seen square to the helix; textbooks take the one seen along the axis.
    pub cos_flank: f64,
}

impl Thread {
    /// Turning effort that drives the thread against a load, N mm: (F d/2) (L + pi mu d sec a) / (pi d - mu L sec a).
    /// Infinite when no effort does it.
    ///
    /// Source: J. Shigley, Mechanical Engineering Design (Budynas and Nisbett, 9th ed.), chapter 8.
    ///
    /// ```
    /// use threadwright::press::thread::{Collar, Thread};
    ///
    /// // Example 8-1 of that book, from memory: 26.18 N m with the collar.
    /// let thread = Thread { mean_diameter_mm: 30.0, lead_mm: 8.0, cos_flank: 1.0 };
    /// let collar = Collar { outside_mm: 40.0, hole_mm: 40.0 };
    /// let raise_nm = (thread.raise_n_mm(6400.0, 0.08) + collar.n_mm(6400.0, 0.08)) / 1000.0;
    /// assert!((raise_nm - 26.18).abs() < 0.005);
    /// ```
    pub fn raise_n_mm(&self, load_n: f64, friction: f64) -> f64 {
        let (d, l, mu) = (self.mean_diameter_mm, self.lead_mm, friction / self.cos_flank);
        let below = PI * d - mu * l;
        if below <= 0.0 { f64::INFINITY } else { load_n * d / 2.0 * (l + PI * mu * d) / below }
    }

    /// Turning effort that lets the load go, N mm: (F d/2) (pi mu d sec a - L) / (pi d + mu L sec a). Negative when the
    /// load drives the thread by itself. Source as for [`Thread::raise_n_mm`].
    pub fn lower_n_mm(&self, load_n: f64, friction: f64) -> f64 {
        let (d, l, mu) = (self.mean_diameter_mm, self.lead_mm, friction / self.cos_flank);
        load_n * d / 2.0 * (PI * mu * d - l) / (PI * d + mu * l)
    }

    /// Friction from which the thread alone stays where it is left: mu >= tan lambda cos a. Source as above.
    pub fn lock_friction(&self) -> f64 {
        self.lead_mm / (PI * self.mean_diameter_mm) * self.cos_flank
    }

    /// Share of the work of the hand that reaches the load: e = F L / (2 pi T), `turning_n_mm` being all of the effort.
    /// Source: the same, eq. (8-4).
    pub fn efficiency(&self, load_n: f64, turning_n_mm: f64) -> f64 {
        load_n * self.lead_mm / (2.0 * PI * turning_n_mm)
    }
}

/// The ring or end that rubs under the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Collar {
    /// Outside diameter.
    pub outside_mm: f64,
    /// Inside diameter; zero for a solid end.
    pub hole_mm: f64,
}

impl Collar {
    /// Turning effort that its friction takes, N mm: F mu d / 2 with d midway between outside and hole, as a ring that has worn in. Source
    /// as for [`Thread::raise_n_mm`].
    pub fn n_mm(&self, load_n: f64, friction: f64) -> f64 {
        let mean_diameter_mm = f64::midpoint(self.outside_mm, self.hole_mm);
        load_n * friction * mean_diameter_mm / 2.0
    }
}
