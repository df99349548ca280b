//! Sections of a cutter that goes round in one place, read once at the columns of the grid. Lengths in mm.

use std::ops::Range;

use super::{Grid, MIXED, Mixed, ONE_ALONE, Piece, Section, Series};

/// The sections of a helix that goes round in one place, read once at the columns it cuts on every row: left flank, floor,
/// right flank.
#[derive(Debug)]
pub(crate) struct Seats([Option<Seat>; 3]);

/// One piece of all these sections.
#[derive(Debug)]
struct Seat {
    columns: Range<usize>,
    radii: Vec<Vec<f64>>,
}

impl Seats {
    pub(crate) fn of(sections: &[Section], grid: &Grid, station: f64) -> Seats {
        Seats([
            Seat::of(sections, grid, station, |section| Some(&section.left)),
            Seat::of(sections, grid, station, |section| section.floor.as_ref()),
            Seat::of(sections, grid, station, |section| Some(&section.right)),
        ])
    }

    /// Radii that a piece of a mixed section cuts on some columns; `None` where not all of them were read.
    pub(crate) fn mixed<'a>(
        &'a self,
        piece: usize,
        section: &Mixed<'_>,
        columns: &Range<usize>,
    ) -> Option<impl Iterator<Item = f64> + use<'a>> {
        let seat = self.0[piece].as_ref()?;
        let all = seat.columns.start <= columns.start && columns.end <= seat.columns.end;
        let within =
            columns.start.wrapping_sub(seat.columns.start)..columns.end.wrapping_sub(seat.columns.start);
        let of = |nth: usize| seat.radii.get(section.first + nth)?.get(within.clone());
        let (a, b, c, d) = (of(0)?, of(1)?, of(2)?, of(3)?);
        let w = section.weights;
        let mix =
            move |(((a, b), c), d): (((&f64, &f64), &f64), &f64)| w[0] * a + w[1] * b + w[2] * c + w[3] * d;
        all.then(|| a.iter().zip(b).zip(c).zip(d).map(mix))
    }
}

impl Seat {
    /// `None` where there is no such piece, or where it does not reach equally far in all sections.
    fn of(
        sections: &[Section],
        grid: &Grid,
        station: f64,
        series: impl Fn(&Section) -> Option<&Series>,
    ) -> Option<Seat> {
        let first = series(sections.first()?)?;
        let ends = [first.start, first.start + first.length];
        let columns = grid.columns(station + ends[0].min(ends[1]), station + ends[0].max(ends[1]));
        let read = |section: &Section| {
            let own = series(section)?;
            let alike = own.start == first.start && own.length == first.length;
            let piece = Piece::mixed_of([own; MIXED], ONE_ALONE);
            let at = |column| piece.radius(grid.station_mm(column) - station);
            alike.then(|| columns.clone().map(at).collect())
        };
        let radii = sections.iter().map(read).collect::<Option<Vec<Vec<f64>>>>()?;
        (MIXED <= radii.len()).then_some(Seat { columns, radii })
    }
}
