//! The table: every number that a file may hold, with its range and the reasons for it.

use super::{Limit, Quantity};

macro_rules! rows {
    ($($key:literal $quantity:ident $least:literal $why_least:literal, $most:literal $why_most:literal;)*) => {
        /// Every row.
        pub static LIMITS: &[Limit] = &[$(Limit {
            key: $key,
            quantity: Quantity::$quantity,
            least: $least,
            most: $most,
            why_least: $why_least,
            why_most: $why_most,
        }),*];
    };
}

rows! {
    "screw.crest_diameter" Length
        8.0 "a thinner screw breaks under the cutter",
        400.0 "a thicker one fits no small rotary axis";
    "screw.pitch" Length
        1.0 "wood crumbles in a finer thread",
        120.0 "a coarser thread is no screw that a router cuts";
    "screw.threads_per_inch" PerInch
        0.2 "a coarser thread is no screw that a router cuts",
        25.4 "wood crumbles in a finer thread";
    "screw.starts" Count
        1.0 "a screw has at least one thread",
        12.0 "more than a dozen are not cut in wood";
    "screw.lead" Length
        1.0 "one turn advances by at least the finest pitch",
        600.0 "no rotary axis of a small shop follows a steeper thread";
    "screw.included_angle" Angle
        20.0 "a narrower V is no thread for wood; the angle is measured from flank to flank",
        150.0 "a wider V holds no load; the angle is measured from flank to flank";
    "screw.crest_flat" Length
        0.0 "0 is a sharp crest",
        100.0 "the flat is a part of the pitch";
    "screw.depth" Length
        0.3 "a shallower thread does not hold",
        60.0 "no router cutter reaches deeper";
    "screw.root_width" Length
        0.0 "it is the width of the root, along the axis",
        50.0 "the flat is a part of the pitch";
    "screw.thread_length" Length
        5.0 "a shorter thread holds no nut",
        4000.0 "a longer screw fits no small machine";
    "screw.plain_nose" Length
        0.0 "0 when the thread begins at the nose face",
        1000.0 "a longer screw fits no small machine";
    "screw.plain_head" Length
        0.0 "0 when the run-out ends at the head end",
        2000.0 "a longer screw fits no small machine";
    "screw.length" Length
        5.0 "it goes from the nose face to the head end, thread and all",
        5000.0 "a longer screw fits no small machine";

    "blank.size" Length
        8.0 "it must hold the screw",
        600.0 "a thicker one fits no small rotary axis";
    "blank.waste_nose" Length
        0.0 "0 when the blank ends at the nose face",
        1000.0 "so much waste is hardly meant";
    "blank.waste_head" Length
        0.0 "0 when the blank ends at the head end; what the chuck grips is waste",
        1000.0 "so much waste is hardly meant";
    "blank.length" Length
        10.0 "it must hold screw and waste",
        7000.0 "a longer blank fits no small machine";

    "cutting.rpm" RevPerMin
        500.0 "router spindles turn faster",
        40_000.0 "no router spindle turns faster";
    "cutting.feed" Speed
        20.0 "slower burns the wood",
        20_000.0 "faster breaks the cutter";
    "cutting.feeds" Speed
        20.0 "slower burns the wood",
        20_000.0 "faster breaks the cutter";
    "cutting.flank_feed" Speed
        20.0 "slower burns the wood",
        20_000.0 "faster breaks the cutter";
    "cutting.passes" Count
        1.0 "at least one pass is needed",
        60.0 "more passes only rub";
    "cutting.depths" Length
        0.05 "depths are measured below the crest, and a shallower cut only rubs",
        60.0 "no router cutter reaches deeper";
    "cutting.least_step" Length
        0.01 "a thinner last cut rubs",
        5.0 "a last cut so thick is no finishing cut";
    "cutting.run_out" Turns
        0.05 "the groove climbs out over a part of a turn",
        5.0 "a longer run-out is hardly meant; it is given in turns";
    "cutting.clearance" Length
        1.0 "chips and a bent blank must not touch the cutter in the air",
        100.0 "higher only wastes time";
    "cutting.least_core" Share
        0.2 "a thinner core twists off; it is a share of the crest diameter",
        0.95 "it is a share of the crest diameter, and the groove needs the rest";

    "season.dry.temperature" Temperature
        -1.0 "the table of moistures begins at freezing point",
        60.0 "no room and no shed is warmer";
    "season.dry.humidity" Percent
        5.0 "no air that wood stands in is drier; it is in percent",
        95.0 "in damper air no table tells the moisture; it is in percent";
    "season.dry_moisture" Percent
        2.0 "wood that stands in air is not drier; it is in percent of the dry mass",
        28.0 "so wet is green wood, which does not move; it is in percent of the dry mass";
    "season.wet.temperature" Temperature
        -1.0 "the table of moistures begins at freezing point",
        60.0 "no room and no shed is warmer";
    "season.wet.humidity" Percent
        5.0 "no air that wood stands in is drier; it is in percent",
        95.0 "in damper air no table tells the moisture; it is in percent";
    "season.wet_moisture" Percent
        2.0 "wood that stands in air is not drier; it is in percent of the dry mass",
        28.0 "so wet is green wood, which does not move; it is in percent of the dry mass";
    "season.cutting.temperature" Temperature
        -1.0 "the table of moistures begins at freezing point",
        60.0 "no room and no shed is warmer";
    "season.cutting.humidity" Percent
        5.0 "no air that wood stands in is drier; it is in percent",
        95.0 "in damper air no table tells the moisture; it is in percent";
    "season.cutting_moisture" Percent
        2.0 "wood that stands in air is not drier; it is in percent of the dry mass",
        28.0 "so wet is green wood, which cracks when it dries; it is in percent of the dry mass";

    "nut.length" Length
        5.0 "a shorter nut holds nothing",
        600.0 "so long a nut is hardly meant";
    "nut.radial_clearance" Length
        0.0 "it is a gap, 0 when there is none",
        10.0 "so wide a gap holds no thread; it is measured on the radius";
    "nut.flank_clearance" Length
        0.0 "it is a gap, 0 when there is none",
        10.0 "so wide a gap holds no thread; it is measured at one flank, along the axis";

    "wood.density" Density
        100.0 "no wood is lighter; it is in kg/m3",
        1500.0 "no wood is heavier; it is in kg/m3";
    "wood.shrink_radial" Percent
        0.5 "no wood shrinks less from green to oven-dry",
        20.0 "no wood shrinks more; it is in percent from green to oven-dry";
    "wood.shrink_tangential" Percent
        0.5 "no wood shrinks less from green to oven-dry",
        25.0 "no wood shrinks more; it is in percent from green to oven-dry";
    "wood.move_radial" Percent
        0.02 "no wood moves less; it is in percent of the size for one point of moisture",
        0.8 "no wood moves more; it is in percent of the size for one point of moisture";
    "wood.move_tangential" Percent
        0.02 "no wood moves less; it is in percent of the size for one point of moisture",
        1.0 "no wood moves more; it is in percent of the size for one point of moisture";
    "wood.moe" Stiffness
        1.0 "no wood for screws is softer; it is in GPa",
        40.0 "no wood is stiffer; it is in GPa";
    "wood.mor" Stress
        10.0 "no wood for screws is weaker; it is in MPa",
        400.0 "no wood is stronger; it is in MPa";
    "wood.shear" Stress
        1.0 "no wood for screws is weaker; it is in MPa",
        50.0 "no wood is stronger; it is in MPa";
    "wood.compression_across" Stress
        0.5 "no wood for screws is weaker; it is in MPa",
        60.0 "no wood is stronger; it is in MPa";
    "wood.hardness" Force
        300.0 "no wood is softer; it is in N",
        30_000.0 "no wood is harder; it is in N";

    "cutter.included_angle" Angle
        20.0 "a narrower V breaks; the angle is measured from flank to flank",
        150.0 "a wider V cuts no thread; the angle is measured from flank to flank";
    "cutter.tip_diameter" Length
        0.0 "0 is a sharp point",
        30.0 "no V cutter has a wider tip";
    "cutter.tip_radius" Length
        0.05 "for a sharp point write tip = \"flat\" and tip_diameter = 0",
        25.0 "no V cutter has a rounder tip";
    "cutter.flutes" Count
        1.0 "a cutter has at least one edge",
        8.0 "router cutters have fewer edges";
    "cutter.cutting_diameter" Length
        2.0 "router cutters are thicker",
        150.0 "no router turns a wider cutter";
    "cutter.cutting_length" Length
        1.0 "router cutters have longer edges",
        150.0 "router cutters have shorter edges";
    "cutter.shank_diameter" Length
        2.0 "router shanks are thicker",
        40.0 "router shanks are thinner";
    "cutter.collet_diameter" Length
        4.0 "it is the outside of the collet nut, which is wider than any shank",
        150.0 "it is the outside of the collet nut, and those of routers are smaller";
    "cutter.stick_out" Length
        5.0 "it goes from the tip to the collet nut",
        300.0 "a cutter held so far out whips; it goes from the tip to the collet nut";

    "press.handle_length" Length
        20.0 "it goes from the axis of the screw to the hand",
        4000.0 "it goes from the axis of the screw to the hand";
    "press.hand_force" Pull
        5.0 "a hand pulls more",
        3000.0 "no two people pull more";
    "press.collar_diameter" Length
        2.0 "it is the outside of the ring or end that rubs under the load",
        600.0 "it is the outside of the ring or end that rubs under the load";
    "press.collar_hole" Length
        0.0 "0 when the end of the screw presses",
        500.0 "it is the inside of the ring that rubs under the load";
    "press.friction" Share
        0.005 "nothing slides so easily; it is friction over pressing force",
        1.5 "wood grips no harder; it is friction over pressing force";
    "press.collar_friction" Share
        0.0 "0 when the collar runs on balls",
        1.5 "wood grips no harder; it is friction over pressing force";
    "press.free_length" Length
        1.0 "it is what stands free between nut and load",
        5000.0 "it is what stands free between nut and load";
    "press.opening" Length
        1.0 "it is how far the press opens",
        5000.0 "it is how far the press opens";
    "press.tenon_diameter" Length
        3.0 "a thinner tenon twists off",
        600.0 "it is the thinnest round place between handle and load";
    "press.handle_diameter" Length
        4.0 "a thinner bar cuts the hand",
        200.0 "a thicker bar fits no hand";

    "jig.lead_screw" Length
        0.2 "a finer lead screw drives no slide; it is the advance in one turn",
        60.0 "a coarser lead screw drives no slide; it is the advance in one turn";
    "jig.threads_per_inch" PerInch
        0.4 "a coarser lead screw drives no slide",
        120.0 "a finer lead screw drives no slide";
    "jig.gears" Count
        6.0 "a gear with fewer teeth does not run",
        300.0 "no gear of a small jig has more teeth";
    "jig.module" Count
        0.3 "finer teeth are for clocks; it is the diameter in mm over (teeth + 2); inch gears have a diametral_pitch",
        12.0 "coarser teeth are for mills; it is the diameter in mm over (teeth + 2)";
    "jig.diametral_pitch" PerInch
        2.0 "coarser teeth are for mills; it is (teeth + 2) over the diameter in inches",
        90.0 "finer teeth are for clocks; it is (teeth + 2) over the diameter in inches";
    "jig.shaft_diameter" Length
        2.0 "a thinner stud bends",
        80.0 "it is the shaft that a gear sits on, with its collar and nut";
    "jig.studs" Count
        0.0 "0 when the gear of the blank drives that of the lead screw",
        6.0 "no quadrant carries more";
    "jig.axes_apart" Length
        15.0 "it goes from the axis of the blank to the axis of the lead screw",
        1500.0 "it goes from the axis of the blank to the axis of the lead screw";
    "jig.nearest_stud" Length
        0.0 "it is measured from the axis of the lead screw",
        1500.0 "it is measured from the axis of the lead screw";
    "jig.farthest_stud" Length
        10.0 "it is measured from the axis of the lead screw",
        1500.0 "it is measured from the axis of the lead screw";
    "jig.index_marks" Count
        2.0 "leave it out when the wheel of the blank has no marks",
        720.0 "so many marks on the wheel of the blank cannot be told apart";

    "machine.headstock.chuck_diameter" Length
        10.0 "it is measured over the jaws or the driving plate",
        800.0 "it is measured over the jaws or the driving plate, and a larger one fits no small machine";
    "machine.headstock.grip" Length
        0.0 "0 when a plate drives the end face",
        300.0 "no chuck of a small machine grips deeper";
    "machine.tail.centre_diameter" Length
        2.0 "it is the cylinder behind the point, not the point",
        200.0 "it is the cylinder behind the point, and a thicker one is no centre";
    "machine.tail.centre_angle" Angle
        20.0 "a finer point breaks; most centres have 60 degrees",
        120.0 "a blunter point holds no blank; most centres have 60 degrees";
    "machine.x.reach" Length
        50.0 "it is measured from the chuck's face towards the tail",
        8000.0 "no small machine reaches further; it is measured from the chuck's face";
    "machine.x.past_chuck" Length
        0.0 "it is measured from the chuck's face away from the tail; 0 when the cutter stops there",
        2000.0 "no small machine goes further past its chuck";
    "machine.x.top_speed" Speed
        50.0 "screw and belt drives are faster",
        100_000.0 "screw and belt drives are slower";
    "machine.x.acceleration" Acceleration
        1.0 "screw and belt drives pick up faster",
        20_000.0 "screw and belt drives pick up slower";
    "machine.x.backlash" Length
        0.0 "it is a gap, 0 when there is none",
        5.0 "a slide with more play cuts no thread";
    "machine.z.top" Length
        10.0 "it is the tip's highest place above the axis of rotation, where it clears the blank",
        2000.0 "it is the tip's highest place above the axis of rotation, and no small machine lifts it so far";
    "machine.z.bottom" Length
        -1000.0 "it is the tip's lowest place, below the axis if negative, and no small machine goes so deep",
        300.0 "it is the tip's lowest place above the axis of rotation, and from there no thread is reached";
    "machine.z.top_speed" Speed
        50.0 "screw and belt drives are faster",
        100_000.0 "screw and belt drives are slower";
    "machine.z.acceleration" Acceleration
        1.0 "screw and belt drives pick up faster",
        20_000.0 "screw and belt drives pick up slower";
    "machine.z.backlash" Length
        0.0 "it is a gap, 0 when there is none",
        5.0 "a slide with more play cuts no thread";
    "machine.a.top_speed" RevPerMin
        0.1 "a rotary axis turns faster; it is in turns a minute",
        1000.0 "it is in turns a minute, not in degrees";
    "machine.a.acceleration" RevPerS2
        0.001 "a rotary axis picks up faster; it is in turns per second squared",
        1000.0 "it is in turns per second squared, not in degrees";
    "machine.a.backlash" Angle
        0.0 "it is a gap, 0 when there is none",
        10.0 "a rotary with more play cuts no thread";
    "machine.a.limit" Angle
        90.0 "it is in degrees, and a thread takes turns",
        10_000_000.0 "leave it out when A may count on for ever";
    "machine.a.holding_torque" Torque
        0.05 "a rotary that holds less turns no blank; leave it out if you do not know it",
        5000.0 "no rotary of a small shop holds more; it is in N m";
    "machine.spindle.least" RevPerMin
        0.0 "it is a speed, 0 when any speed can be set",
        60_000.0 "no router spindle has to turn so fast";
    "machine.spindle.top" RevPerMin
        100.0 "router spindles turn faster",
        100_000.0 "no router spindle turns faster";
    "machine.spindle.start_seconds" Seconds
        0.0 "it is the wait until the spindle has its speed",
        120.0 "it is the wait until the spindle has its speed, in seconds";
    "machine.spindle.power" Power
        20.0 "it is in watts, not in kilowatts; leave it out if you do not know it",
        30_000.0 "no router spindle is so strong; it is in watts";
    "machine.program.decimals" Count
        1.0 "fewer cannot place a thread",
        6.0 "more are past what controls read";
    "machine.program.line_length" Count
        40.0 "a comment needs room",
        250.0 "a line may hold 256 characters (NISTIR 6556 section 3.3)";
    "machine.program.line_numbers" Count
        1.0 "leave it out for no line numbers",
        1000.0 "it is the step from one line number to the next";

    "blank.kerf" Length
        0.0 "0 when no saw cuts the waste off",
        10.0 "no saw in a small shop cuts wider";
    "blank.off_centre" Length
        0.0 "0 when the stick runs true to its flats",
        20.0 "a stick so far off centre is hardly meant";
    "blank.truing" Length
        0.0 "0 when nothing need come off",
        20.0 "so much is hardly meant";
    "round.rpm" RevPerMin
        500.0 "router spindles turn faster",
        40_000.0 "no router spindle turns faster";
    "round.feed" Speed
        20.0 "slower burns the wood",
        20_000.0 "faster breaks the cutter";
    "round.step" Length
        0.2 "thinner levels only rub",
        25.0 "a deeper level stalls a router";
    "round.finish" Length
        0.1 "a thinner last level rubs",
        10.0 "a last level so thick is no finishing cut";
    "round.advance" Share
        0.05 "it is a share of the cutter's width, and less only takes time",
        0.9 "it is a share of the cutter's width, and neighbouring turns must overlap";
    "relief.diameter" Length
        4.0 "a thinner neck breaks",
        400.0 "it is the diameter left in the groove";
    "nose.taper" Length
        0.5 "it is a length along the axis, and a shorter taper is none",
        500.0 "it is a length along the axis, and a longer taper is hardly meant";
    "nose.chamfer" Length
        0.2 "it is a length along the axis, and a smaller chamfer is none",
        60.0 "no router cutter reaches deeper";
    "nose.round_over" Length
        0.5 "it is a radius, and a smaller one is none",
        100.0 "it is a radius, and a larger one is hardly meant";
    "garter.from_shoulder" Length
        0.0 "it is measured from the shoulder towards the thread",
        2000.0 "a longer screw fits no small machine";
    "garter.width" Length
        2.0 "router cutters are thicker",
        200.0 "a wider groove is no garter's";
    "garter.diameter" Length
        4.0 "a thinner neck breaks",
        400.0 "it is the diameter left in the groove";
    "tenon.length" Length
        2.0 "a shorter tenon holds nothing",
        2000.0 "a longer screw fits no small machine";
    "tenon.diameter" Length
        4.0 "a thinner tenon breaks",
        400.0 "it is cut from the screw";
    "tenon.flats" Count
        3.0 "a tenon has at least a few",
        12.0 "more are no flats";
    "tenon.across" Length
        4.0 "a thinner tenon breaks",
        400.0 "it is cut from the screw";
    "marks.depth" Length
        0.1 "a shallower line does not show",
        3.0 "a deeper line weakens the screw";

    "nut.along_grain" Length
        10.0 "so small a block holds no nut; it is measured along the grain",
        2000.0 "so large a block lies on no small machine; it is measured along the grain";
    "nut.across_grain" Length
        10.0 "so small a block holds no nut; it is measured across the grain",
        1000.0 "so large a block lies on no small machine; it is measured across the grain";
    "nut.rpm" RevPerMin
        500.0 "router spindles turn faster",
        40_000.0 "no router spindle turns faster";
    "nut.feed" Speed
        20.0 "slower burns the wood; it is the speed of the teeth along the wall",
        20_000.0 "faster breaks the cutter; it is the speed of the teeth along the wall";
    "nut.passes" Count
        1.0 "a groove takes at least one pass",
        60.0 "so many passes only rub";
    "nut.start_angle" Angle
        -360.0 "it is counted from X+ towards Y+ on the top face",
        360.0 "it is counted from X+ towards Y+ on the top face";
    "nut.chamfer" Length
        0.0 "0 for no chamfer; it is measured on the radius, from the bore outwards",
        60.0 "so wide a chamfer is hardly meant; it is measured on the radius, from the bore outwards";
    "nut.step" Length
        0.2 "thinner turns only rub; it is how much the bore goes deeper in a turn",
        10.0 "a deeper turn stalls a router; it is how much the bore goes deeper in a turn";
    "nut.below" Length
        0.0 "0 when the block lies on the bed; it is the height of the packing",
        300.0 "so high a packing is hardly meant";
    "nut.below_diameter" Length
        0.0 "0 when the packing has no hole; it is the free room below the hole of the nut",
        1000.0 "it is the free room below the hole of the nut";
    "nut.clamps_from" Length
        5.0 "a clamp cannot stand in the hole; it is measured from the axis to the nearest clamp",
        2000.0 "it is measured from the axis to the nearest clamp";
    "nut.clamp_height" Length
        0.0 "0 when nothing stands above the block",
        300.0 "it is measured from the top of the block to the top of the highest clamp";

    "thread_mill.included_angle" Angle
        20.0 "a narrower tooth breaks; the angle is measured from flank to flank",
        150.0 "a wider tooth cuts no thread; the angle is measured from flank to flank";
    "thread_mill.tip_flat" Length
        0.0 "0 is a sharp tip; it is measured along the axis",
        30.0 "no tooth has a wider tip";
    "thread_mill.tooth_diameter" Length
        3.0 "cutters for threads in wood are thicker; it is measured over the tips",
        200.0 "no router turns a wider cutter; it is measured over the tips";
    "thread_mill.tooth_above_end" Length
        0.1 "it goes from the end of the cutter to the middle of its lowest tooth",
        200.0 "it goes from the end of the cutter to the middle of its lowest tooth";
    "thread_mill.rows" Count
        1.0 "a cutter has at least one row of teeth",
        40.0 "no cutter for wood has more rows of teeth";
    "thread_mill.row_spacing" Length
        1.0 "wood crumbles in a finer thread; it goes from the middle of one row to the next",
        120.0 "it goes from the middle of one row to the next";
    "thread_mill.flutes" Count
        1.0 "a cutter has at least one edge",
        12.0 "router cutters have fewer edges";
    "thread_mill.neck_diameter" Length
        1.0 "a thinner neck breaks",
        150.0 "it is what carries the teeth";
    "thread_mill.neck_length" Length
        2.0 "it goes from the end of the cutter to where it gets thicker",
        400.0 "a neck so long whips; it goes from the end of the cutter to where it gets thicker";
    "thread_mill.shank_diameter" Length
        2.0 "router shanks are thicker",
        40.0 "router shanks are thinner";
    "thread_mill.collet_diameter" Length
        4.0 "it is the outside of the collet nut, which is wider than any shank",
        150.0 "it is the outside of the collet nut, and those of routers are smaller";
    "thread_mill.stick_out" Length
        5.0 "it goes from the end of the cutter to the collet nut",
        400.0 "a cutter held so far out whips; it goes from the end of the cutter to the collet nut";

    "machine.mill.x_travel" Length
        50.0 "it is how far the spindle goes along X",
        8000.0 "no small machine goes further";
    "machine.mill.y_travel" Length
        20.0 "it is how far the spindle goes along Y",
        8000.0 "no small machine goes further";
    "machine.mill.collet_lowest" Length
        -500.0 "it is the lowest place of the collet nut's face above the bed, with the rotary taken off",
        1000.0 "it is the lowest place of the collet nut's face above the bed, with the rotary taken off";
    "machine.mill.collet_highest" Length
        20.0 "it is the highest place of the collet nut's face above the bed, with the rotary taken off",
        2000.0 "it is the highest place of the collet nut's face above the bed, with the rotary taken off";
    "machine.mill.y_top_speed" Speed
        50.0 "screw and belt drives are faster",
        100_000.0 "screw and belt drives are slower";
    "machine.mill.y_backlash" Length
        0.0 "it is a gap, 0 when there is none",
        5.0 "a slide with more play cuts no thread";
}
