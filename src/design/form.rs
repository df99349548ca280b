//! The plain V thread with flats, as standards draw it in the axial section: sizes that follow from pitch, angle and
//! flats. Knows no cutter and no lead; what a cutter really leaves is [`super::groove`]'s business.

/// A V with straight flanks, its crest and its root cut off flat. Lengths in mm along (flats) or across the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VForm {
    /// Crest to crest.
    pub pitch_mm: f64,
    /// Between the flanks.
    pub included_angle_deg: f64,
    /// Flat on the crest.
    pub crest_flat_mm: f64,
    /// Flat in the root.
    pub root_flat_mm: f64,
}

impl VForm {
    fn tan_half(&self) -> f64 {
        (self.included_angle_deg / 2.0).to_radians().tan()
    }

    /// Height of the V if both flats were sharpened away, mm: pitch / (2 tan a).
    pub fn sharp_height_mm(&self) -> f64 {
        self.pitch_mm / (2.0 * self.tan_half())
    }

    /// Depth from crest to root, mm: (pitch - crest flat - root flat) / (2 tan a). Negative when the flats do not
    /// both fit into the pitch.
    ///
    /// ```
    /// use threadwright::design::form::VForm;
    ///
    /// // 5H/8 of the metric triangle: Machinery's Handbook, 31st ed., p. 1942.
    /// let form = VForm { pitch_mm: 6.0, included_angle_deg: 60.0, crest_flat_mm: 0.75, root_flat_mm: 1.5 };
    /// assert!((form.depth_mm() - 0.541_265_877 * 6.0).abs() < 1e-8);
    /// ```
    pub fn depth_mm(&self) -> f64 {
        (self.pitch_mm - self.crest_flat_mm - self.root_flat_mm) / (2.0 * self.tan_half())
    }

    /// Depth below the crest at which groove and tooth are equally wide, mm: the pitch line.
    pub fn pitch_line_depth_mm(&self) -> f64 {
        (self.pitch_mm / 2.0 - self.crest_flat_mm) / (2.0 * self.tan_half())
    }

    /// Width of the groove at a depth below the crest, mm.
    pub fn groove_width_mm(&self, depth_mm: f64) -> f64 {
        self.pitch_mm - self.crest_flat_mm - 2.0 * depth_mm * self.tan_half()
    }
}

/// Angle of the helix against a plane square to the axis, degrees, at a diameter; both lengths in mm.
///
/// ```
/// use threadwright::design::form::lead_angle_deg;
///
/// // Acme 1 1/2-4, in inches: R. Mott, Machine Elements in Mechanical Design, 4th ed., p. 703.
/// assert!((lead_angle_deg(0.25, 1.3429) - 3.39).abs() < 0.005);
/// ```
pub fn lead_angle_deg(lead_mm: f64, diameter_mm: f64) -> f64 {
    (lead_mm / (std::f64::consts::PI * diameter_mm)).atan().to_degrees()
}

/// Length of one turn of the helix at a diameter, mm.
pub fn turn_length_mm(lead_mm: f64, diameter_mm: f64) -> f64 {
    (std::f64::consts::PI * diameter_mm).hypot(lead_mm)
}
