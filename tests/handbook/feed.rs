//! The worked feed example: diameter 50 mm, lead 20 mm, 2000 mm/min of cutter against wood, ten turns in one block.
//! Derived from NISTIR 6556 sections 2.1.2.5 and 3.5.19; the combined meaning is common practice, no source.

use threadwright::design::form::turn_length_mm;
use threadwright::post::feed_word;
use threadwright::setup::FeedConvention::{Combined, InverseTime, Linear};
use threadwright::units::LengthUnit::Mm;

use crate::Known::Derived;
use crate::{Sheet, printed};

#[test]
fn ten_turns_and_one_turn() {
    let one = turn_length_mm(20.0, 50.0) / 2000.0;
    let ten = 10.0 * one;
    let mut sheet =
        Sheet::of("F under three feed conventions", "NISTIR 6556 sections 2.1.2.5 and 3.5.19", Derived);
    sheet.row("minutes", ten, 0.791_738_8, printed(7));
    sheet.row("linear", feed_word(Linear, Mm, [200.0, 0.0], 3600.0, ten), 252.609, printed(3));
    sheet.row("combined", feed_word(Combined, Mm, [200.0, 0.0], 3600.0, ten), 4553.97, printed(2));
    sheet.row("inverse time", feed_word(InverseTime, Mm, [200.0, 0.0], 3600.0, ten), 1.263_04, printed(5));
    sheet.row("one turn, linear", feed_word(Linear, Mm, [20.0, 0.0], 360.0, one), 252.609, printed(3));
    sheet.row("one turn, combined", feed_word(Combined, Mm, [20.0, 0.0], 360.0, one), 4553.97, printed(2));
    sheet.row(
        "one turn, inverse time",
        feed_word(InverseTime, Mm, [20.0, 0.0], 360.0, one),
        12.6304,
        printed(4),
    );
    sheet.done();
}

#[test]
fn ramps_and_a_alone() {
    // Linear: F runs along the half millimetre of Z; without Z the same word means degrees a minute.
    let turn = turn_length_mm(0.0, 50.0) / 2000.0;
    let mut sheet =
        Sheet::of("F of ramps and of A alone", "NISTIR 6556 sections 2.1.2.5 and 3.5.19", Derived);
    sheet.row("minutes", turn, 0.078_539_8, printed(7));
    sheet.row("ramp", feed_word(Linear, Mm, [0.0, -0.5], 360.0, turn), 6.366, printed(3));
    sheet.row("A alone", feed_word(Linear, Mm, [0.0, 0.0], 360.0, turn), 4583.66, printed(2));
    sheet.done();
}
