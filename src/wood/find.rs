//! Finding a wood by what people call it. Only an exact name counts, whatever its capitals; `beech` is two woods and
//! stays unfound, with both offered.

use super::{Species, all};

/// Likeness of two names (0 to 1) from which one is offered for the other; below it the offer is mostly wrong.
const LIKE_ENOUGH: f64 = 0.65;
/// What is less like than the best offer by more than this is left out beside it.
const MUCH_LESS_LIKE: f64 = 0.15;
/// What a likeness to one word of a name counts, beside one to all of it.
const ONE_WORD: f64 = 0.95;
/// More offers than this help nobody.
const MOST_OFFERS: usize = 4;

/// Names that come near one that was not found, the nearest first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NearMisses(pub Vec<String>);

impl NearMisses {
    /// An offer in words: `"hornbeam" or "eastern hophornbeam"`; `None` when nothing comes near.
    pub fn words(&self) -> Option<String> {
        let quoted: Vec<String> = self.0.iter().map(|name| format!("\"{name}\"")).collect();
        (!quoted.is_empty()).then(|| quoted.join(" or "))
    }
}

/// The wood of that common or botanical name: first among the user's own, then in the table.
///
/// # Errors
/// The names that come near, when no wood has exactly this one.
///
/// ```
/// use threadwright::wood::find;
///
/// assert_eq!(find("Carpinus betulus", &[]).expect("it is known").name, "hornbeam");
/// let near = find("beech", &[]).expect_err("two woods are called that");
/// assert_eq!(near.words().expect("both are offered"), "\"American beech\" or \"European beech\"");
/// ```
pub fn find<'a>(name: &str, own: &'a [Species]) -> Result<&'a Species, NearMisses> {
    let woods = || own.iter().chain(all());
    let wanted = plain(name);
    woods()
        .find(|species| names(species).any(|name| plain(&name) == wanted))
        .ok_or_else(|| near(&wanted, woods()))
}

/// Every name that a wood goes by.
fn names(species: &Species) -> impl Iterator<Item = String> + '_ {
    let botanical = botanical_names(&species.botanical);
    std::iter::once(species.name.clone()).chain(species.other_names.iter().cloned()).chain(botanical)
}

/// `Malus sylvestris / M. domestica` is two names; what stands in parentheses may be left out.
fn botanical_names(botanical: &str) -> Vec<String> {
    let mut names = vec![botanical.to_owned()];
    names.extend(botanical.split(" / ").map(str::to_owned));
    if let Some((before, rest)) = botanical.split_once('(')
        && let Some((_, after)) = rest.split_once(')')
    {
        names.push(format!("{before} {after}"));
    }
    names.retain(|name| !name.trim().is_empty());
    names
}

/// Small letters, one space between words, no hyphens.
fn plain(name: &str) -> String {
    name.to_lowercase().replace(['-', '_'], " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn near<'a>(wanted: &str, woods: impl Iterator<Item = &'a Species>) -> NearMisses {
    let mut offers: Vec<(f64, String)> = woods
        .filter_map(|species| {
            let best = names(species).map(|name| likeness(wanted, &plain(&name))).fold(0.0, f64::max);
            (best >= LIKE_ENOUGH).then(|| (best, species.name.clone()))
        })
        .collect();
    // Equal likeness keeps the order of the table.
    offers.sort_by(|a, b| b.0.total_cmp(&a.0));
    let best = offers.first().map_or(0.0, |offer| offer.0);
    offers.retain(|offer| offer.0 >= best - MUCH_LESS_LIKE);
    NearMisses(offers.into_iter().take(MOST_OFFERS).map(|(_, name)| name).collect())
}

/// How much two plain names are alike. A name that holds all words of the other is very near: `beech` and
/// `european beech`. A single word is held against every word of the name, and `wood` at its end against none: `pearwood`
/// is pear, and not like leadwood.
fn likeness(wanted: &str, name: &str) -> f64 {
    let holds = |outer: &str, inner: &str| {
        !inner.is_empty() && inner.split(' ').all(|word| outer.split(' ').any(|other| other == word))
    };
    if holds(name, wanted) || holds(wanted, name) {
        return alike(wanted, name).max(0.9);
    }
    let bare = bare(wanted);
    let words = name
        .split(' ')
        .filter(|_| !wanted.contains(' '))
        .map(|word| ONE_WORD * alike(bare, self::bare(word)));
    words.fold(alike(bare, self::bare(name)), f64::max)
}

fn alike(one: &str, other: &str) -> f64 {
    strsim::normalized_damerau_levenshtein(one, other)
}

/// A name without the `wood` at its end, which many have and which tells none from another.
fn bare(name: &str) -> &str {
    name.strip_suffix("wood").map(str::trim_end).filter(|bare| !bare.is_empty()).unwrap_or(name)
}
