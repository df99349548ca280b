//! A machine for tests on either side: plain data, as a machine file would give it.

use crate::setup::{
    Centre, Chuck, CommentStyle, Dialect, DwellUnit, EndWord, FeedConvention, Machine, Rotary, Slide,
    Spindle, SpindleControl, TextStyle, TopTurns, XEnd, ZZero,
};
use crate::units::LengthUnit;

/// Headstock at X-, A counting up brings the top to the front, Z0 on the axis, inverse time.
pub(crate) fn machine() -> Machine {
    let slide = Slide { top_mm_per_min: 3000.0, accel_mm_per_s2: 200.0, backlash_mm: 0.05 };
    Machine {
        title: "the press room's router".to_owned(),
        headstock: XEnd::XMinus,
        a_plus: TopTurns::ToFront,
        z_zero: ZZero::Axis,
        chuck: Chuck { diameter_mm: 100.0, grip_mm: 40.0 },
        centre: Some(Centre { diameter_mm: 16.0, angle_deg: 60.0 }),
        x: slide,
        z: slide,
        a: Rotary {
            top_deg_per_min: 7200.0,
            accel_deg_per_s2: 360.0,
            backlash_deg: 0.1,
            limit_deg: None,
            holding_nm: None,
        },
        x_reach_mm: 700.0,
        x_past_chuck_mm: 50.0,
        z_range_above_axis_mm: [-20.0, 120.0],
        feed: FeedConvention::InverseTime,
        spindle: Spindle {
            control: SpindleControl::Program,
            least_rpm: 8000.0,
            top_rpm: 24_000.0,
            start_s: 4.0,
            power_w: None,
        },
        style: TextStyle {
            unit: LengthUnit::Mm,
            decimals: 4,
            line_length: 70,
            comments: CommentStyle::Parentheses,
            line_numbers: None,
            percent: false,
            end: EndWord::M2,
            dwell: DwellUnit::Seconds,
        },
        dialect: Dialect::default(),
    }
}
