//! `woods`: the table of woods, and one wood with its sources.

use super::args::{DustClass, Woods};
use super::tell::Teller;
use super::{Outcome, files};
use crate::finding::Severity;
use crate::job;
use crate::report;
use crate::report::json::Document;
use crate::setup::Dust;
use crate::units::LengthUnit;
use crate::wood::{self, Property, Species};

/// Lists, or tells all about one.
pub(crate) fn run(args: &Woods, teller: &Teller) -> Outcome {
    let document = Document::new("woods");
    let own = match own_woods(args, teller) {
        Ok(own) => own,
        Err(outcome) => return outcome,
    };
    let found = args.name.as_deref().map(|name| wood::find(name, &own));
    if let Some(Ok(species)) = found {
        if !teller.json() {
            teller.result(&report::woods::card(species));
        }
        teller.document(&document.with("woods", [report::woods::json(species)]).findings(&[]));
        return Outcome::Done;
    }
    let text = args.name.as_deref().unwrap_or_default().to_lowercase();
    let mut woods: Vec<&Species> = own
        .iter()
        .chain(wood::all())
        .filter(|species| holds(species, &text) && passes(species, args))
        .collect();
    woods.sort_by_key(|species| species.name.to_lowercase());
    if woods.is_empty() {
        let near = found.and_then(Result::err).and_then(|near| near.words());
        let offer = near.map_or("; `threadwright woods` lists them all".to_owned(), |words| {
            format!("; did you mean {words}?")
        });
        return teller.usage(&format!("no wood is like that{offer}"), document);
    }
    if !teller.json() {
        teller.result(&report::woods::list(&woods));
    }
    let all: Vec<_> = woods.into_iter().map(report::woods::json).collect();
    teller.document(&document.with("woods", all).findings(&[]));
    Outcome::Done
}

/// The woods of the user's own file.
fn own_woods(args: &Woods, teller: &Teller) -> Result<Vec<Species>, Outcome> {
    let Some(path) = &args.own else {
        return Ok(Vec::new());
    };
    let source = files::read(path).map_err(|error| teller.file_error(&error, Document::new("woods")))?;
    let (own, findings) = job::read_woods(&source);
    teller.findings(&findings, LengthUnit::Mm);
    if findings.iter().any(|finding| finding.severity == Severity::Stop) {
        teller.document(&Document::new("woods").findings(&findings));
        return Err(Outcome::BadInput);
    }
    Ok(own)
}

/// Whether a text stands in one of the names of a wood, or in where it grows.
fn holds(species: &Species, text: &str) -> bool {
    let names = species.other_names.iter().chain([&species.name, &species.botanical, &species.region]);
    names.into_iter().any(|name| name.to_lowercase().contains(text))
}

/// Whether a wood passes the filters; one of which the property asked about is not known does not.
fn passes(species: &Species, args: &Woods) -> bool {
    let region = args.region.as_deref().unwrap_or_default().to_lowercase();
    let class = args.dust.map(|class| match class {
        DustClass::NoneDocumented => Dust::NoneDocumented,
        DustClass::Irritant => Dust::Irritant,
        DustClass::Sensitiser => Dust::Sensitiser,
        DustClass::Toxic => Dust::Toxic,
    });
    let density = species.value(Property::Density);
    let across = species.value(Property::MoveTangential).map(|per_point| 100.0 * per_point);
    species.region.to_lowercase().contains(&region)
        && class.is_none_or(|class| species.dust.as_ref().is_some_and(|dust| dust.class == class))
        && args.denser.is_none_or(|least| density.is_some_and(|density| density >= least))
        && args.calmer.is_none_or(|most| across.is_some_and(|across| across <= most))
}
