//! What each motion cut, kept for those that cut: a parcel of rows meets few of the motions of a long program. Books
//! numbers and reckons nothing.

use super::carve::Cut;

/// Entries of motions, in pages that are there once one of them was asked for.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    pages: Vec<Option<Box<[Cut; PAGE]>>>,
}

/// Motions on one page: those next to each other in a program mostly cut next to each other.
const PAGE: usize = 16;

impl Ledger {
    /// For so many motions.
    pub(super) fn of(motions: usize) -> Ledger {
        let mut pages = Vec::new();
        pages.resize_with(motions.div_ceil(PAGE), || None);
        Ledger { pages }
    }

    /// The entry of a motion.
    pub(super) fn entry(&mut self, motion: usize) -> &mut Cut {
        let page = self.pages[motion / PAGE].get_or_insert_with(|| Box::new([Cut::default(); PAGE]));
        &mut page[motion % PAGE]
    }

    /// Every motion that may have an entry, with it.
    pub(super) fn entries(&self) -> impl Iterator<Item = (usize, &Cut)> {
        let pages = self.pages.iter().enumerate();
        let kept = pages.filter_map(|(index, page)| Some((index * PAGE, page.as_deref()?)));
        kept.flat_map(|(first, page)| (first..).zip(page))
    }
}
