//! The G and M codes that the standard has, in their modal groups. What they do is told elsewhere.

use super::formula::whole;

/// A G code in tenths, so that 59.3 is 593; or an M code as it is.
pub(super) type Number = u16;

/// Groups of G codes (NISTIR 6556 table 4). Two of one group cannot stand in one line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum GGroup {
    NonModal,
    Motion,
    Plane,
    Distance,
    FeedMode,
    Units,
    Radius,
    Length,
    CycleReturn,
    Coordinates,
    PathMode,
}

/// Number of groups of G codes.
pub(super) const G_GROUPS: usize = 11;

impl GGroup {
    /// What the codes of the group choose.
    pub(super) fn choice(self) -> &'static str {
        match self {
            GGroup::NonModal => "what this one line does",
            GGroup::Motion => "the kind of motion",
            GGroup::Plane => "the plane",
            GGroup::Distance => "absolute or incremental",
            GGroup::FeedMode => "the meaning of F",
            GGroup::Units => "the unit",
            GGroup::Radius => "radius compensation",
            GGroup::Length => "the tool length",
            GGroup::CycleReturn => "the return of cycles",
            GGroup::Coordinates => "the origin",
            GGroup::PathMode => "how corners are run",
        }
    }
}

/// Groups of M codes (NISTIR 6556 table 4).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum MGroup {
    Stop,
    ToolChange,
    Spindle,
    Coolant,
    Overrides,
}

/// Number of groups of M codes.
pub(super) const M_GROUPS: usize = 5;

impl MGroup {
    /// What the codes of the group choose.
    pub(super) fn choice(self) -> &'static str {
        match self {
            MGroup::Stop => "how the program stops",
            MGroup::ToolChange => "the tool change",
            MGroup::Spindle => "what the spindle does",
            MGroup::Coolant => "what the coolant does",
            MGroup::Overrides => "whether overrides work",
        }
    }
}

/// The G code that a value names, with its group; `None` when the standard has none (NISTIR 6556 table 5).
pub(super) fn g_code(value: f64) -> Option<(Number, GGroup)> {
    let tenths = whole(value * 10.0).filter(|tenths| (0.0..1000.0).contains(tenths))? as Number;
    let group = match tenths {
        40 | 100 | 280 | 300 | 530 | 920..=923 => GGroup::NonModal,
        0 | 10 | 20 | 30 | 382 | 800 | 810 | 820 | 830 | 840 | 850 | 860 | 870 | 880 | 890 => GGroup::Motion,
        170 | 180 | 190 => GGroup::Plane,
        900 | 910 => GGroup::Distance,
        930 | 940 => GGroup::FeedMode,
        200 | 210 => GGroup::Units,
        400 | 410 | 420 => GGroup::Radius,
        430 | 490 => GGroup::Length,
        980 | 990 => GGroup::CycleReturn,
        540 | 550 | 560 | 570 | 580 | 590..=593 => GGroup::Coordinates,
        610 | 611 | 640 => GGroup::PathMode,
        _ => return None,
    };
    Some((tenths, group))
}

/// The M code that a value names, with its group; `None` when the standard has none (NISTIR 6556 table 7).
pub(super) fn m_code(value: f64) -> Option<(Number, MGroup)> {
    let number = whole(value).filter(|number| (0.0..100.0).contains(number))? as Number;
    let group = match number {
        0 | 1 | 2 | 30 | 60 => MGroup::Stop,
        6 => MGroup::ToolChange,
        3..=5 => MGroup::Spindle,
        7..=9 => MGroup::Coolant,
        48 | 49 => MGroup::Overrides,
        _ => return None,
    };
    Some((number, group))
}
