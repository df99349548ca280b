//! Moisture of wood, in percent of its oven-dry mass: what the air makes of it in the end, and what it is when cut, in
//! the dry season and in the wet one.

use std::ops::RangeInclusive;

use serde::Serialize;

/// Temperatures that [`Air::moisture_percent`] holds for, degrees C: the table behind it goes from 30 to 270 degrees F
/// (USDA FPL-GTR-282 p. 4-4, as quoted).
pub const TEMPERATURES_C: RangeInclusive<f64> = (30.0 - 32.0) / 1.8..=132.0;
/// Relative humidities that it holds for, percent (the same page). At 100 % the equation gives 29 % moisture, which no
/// table backs.
pub const HUMIDITIES_PERCENT: RangeInclusive<f64> = 5.0..=95.0;

/// The state of the air.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Air {
    /// Temperature, degrees C.
    pub temperature_c: f64,
    /// Relative humidity, percent.
    pub humidity_percent: f64,
}

impl Air {
    /// The moisture that wood comes to in this air, percent; `None` outside [`TEMPERATURES_C`] and
    /// [`HUMIDITIES_PERCENT`].
    ///
    /// Eq. (4-5) of USDA FPL-GTR-282 (2021) p. 4-3, coefficients for degrees C: the two-hydrate isotherm of Hailwood and
    /// Horrobin. Within 0.06 points of its Table 4-2, which was measured mostly on Sitka spruce, half-way between
    /// wetting and drying; other woods differ by more, above all in damp air.
    ///
    /// ```
    /// use threadwright::wood::Air;
    ///
    /// // Its Table 4-2: 70 degrees F and 65 percent bring wood to 12.0 percent.
    /// let air = Air { temperature_c: (70.0 - 32.0) / 1.8, humidity_percent: 65.0 };
    /// assert!((air.moisture_percent().expect("in the table") - 12.0).abs() < 0.1);
    /// assert_eq!(Air { temperature_c: -20.0, humidity_percent: 65.0 }.moisture_percent(), None);
    /// ```
    pub fn moisture_percent(self) -> Option<f64> {
        let (t, h) = (self.temperature_c, self.humidity_percent / 100.0);
        if !TEMPERATURES_C.contains(&t) || !HUMIDITIES_PERCENT.contains(&self.humidity_percent) {
            return None;
        }
        let w = 349.0 + 1.29 * t + 0.0135 * t * t;
        let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
        let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
        let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
        let kh = k * h;
        let once = k1 * kh;
        let twice = k1 * k2 * kh * kh;
        Some(1800.0 / w * (kh / (1.0 - kh) + (once + 2.0 * twice) / (1.0 + once + twice)))
    }
}

/// The moisture of wood at some time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Moisture {
    /// Percent of the oven-dry mass.
    pub percent: f64,
    /// The air that brings it about, if it was given so.
    pub air: Option<Air>,
}

/// The moisture of the wood through the year.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Season {
    /// When it is cut.
    pub cutting: Moisture,
    /// Whether that is assumed, half-way between dry and wet, because nobody gave it.
    pub cutting_assumed: bool,
    /// In the dry season.
    pub dry: Moisture,
    /// In the wet season.
    pub wet: Moisture,
}
