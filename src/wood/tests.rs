//! The table of woods: every value has a source and lies where such a value can lie, every name is found.

use super::*;
use crate::setup::{Dust, Timber};

/// Woods that threadwright promises to know something of.
const LEAST_SPECIES: usize = 56;

#[test]
fn every_value_has_its_source() {
    assert!(all().len() >= LEAST_SPECIES, "only {} woods", all().len());
    for species in all() {
        assert!(species.known().next().is_some(), "nothing is known of {}", species.name);
        for (property, known) in species.known() {
            let place = format!("{}, {}", species.name, property.name());
            assert!(known.source.len() > 3, "{place} has no source");
            assert!(known.value.is_finite() && known.value > 0.0, "{place} is {}", known.value);
            assert_ne!(known.origin, Origin::Own, "{place}");
        }
        let dust = species.dust.as_ref().unwrap_or_else(|| panic!("the dust of {} is missing", species.name));
        assert!(dust.source.len() > 3, "the dust of {} has no source", species.name);
        assert!(!species.botanical.is_empty() && !species.region.is_empty(), "{}", species.name);
    }
}

/// Bounds for slips of the pen, such as a value in the column beside its own.
#[test]
fn every_value_lies_where_it_can() {
    for species in all() {
        for (property, known) in species.known() {
            let (least, most) = match property {
                Property::Density => (400.0, 1400.0),
                Property::Gravity12 | Property::GravityGreen => (0.4, 1.2),
                Property::ShrinkRadial => (2.0, 9.0),
                Property::ShrinkTangential => (2.5, 13.0),
                Property::MoveRadial | Property::MoveTangential => (0.0005, 0.005),
                Property::FibreSaturation | Property::Intersection => (20.0, 32.0),
                Property::Moe | Property::MoeGreen => (7.0, 25.0),
                Property::Mor | Property::MorGreen => (50.0, 200.0),
                Property::Shear => (9.0, 22.0),
                Property::CompressionAcross => (4.0, 20.0),
                Property::Hardness | Property::HardnessGreen => (3000.0, 21_000.0),
                Property::ERadial | Property::ETangential | Property::GRadial | Property::GTangential => {
                    (0.05, 0.2)
                }
            };
            let range = least..=most;
            assert!(range.contains(&known.value), "{}, {}: {}", species.name, property.name(), known.value);
        }
        let [radial, tangential] =
            [Property::MoveRadial, Property::MoveTangential].map(|property| species.value(property));
        if let (Some(radial), Some(tangential)) = (radial, tangential) {
            assert!(radial < tangential, "{} moves more across its rings than along them", species.name);
        }
    }
}

#[test]
fn every_name_finds_its_wood_whatever_its_capitals() {
    let mut seen = std::collections::BTreeMap::new();
    for species in all() {
        let names = species.other_names.iter().chain([&species.name, &species.botanical]);
        for name in names {
            if let Some(other) = seen.insert(name.to_lowercase(), &species.name) {
                panic!("{name} is {other} as well as {}", species.name);
            }
            for written in [name.clone(), name.to_uppercase(), format!(" {} ", name.to_lowercase())] {
                assert_eq!(find(&written, &[]).map(|found| &found.name), Ok(&species.name), "{written}");
            }
        }
    }
    let found = |name: &str| find(name, &[]).map(|species| species.name.clone());
    assert_eq!(found("Malus sylvestris"), Ok("apple".to_owned()));
    assert_eq!(found("sugar-maple"), Ok("hard maple".to_owned()));
    assert_eq!(found("acacia nigrescens"), Err(NearMisses(vec!["knobthorn".to_owned()])));
}

#[test]
fn a_name_that_is_not_there_gets_offers_and_no_guess() {
    let offers = |name: &str| find(name, &[]).expect_err("no such wood").0;
    assert_eq!(offers("hornbean"), ["hornbeam"]);
    assert_eq!(offers("beech"), ["American beech", "European beech"]);
    assert!(offers("oak").contains(&"white oak".to_owned()));
    assert_eq!(offers("pearwood"), ["pear"], "what many woods end with tells none from another");
    assert_eq!(offers("Dalbergai"), ["African blackwood"], "one word of two, misspelt");
    assert!(offers("").is_empty() && offers("cardboard").is_empty());
    assert_eq!(NearMisses(vec!["a".into(), "b".into()]).words().as_deref(), Some("\"a\" or \"b\""));
}

fn own(name: &str, property: Property, value: f64) -> Species {
    let known = Known { value, source: "the shop's scale".into(), origin: Origin::Own, note: String::new() };
    Species::new(name, [(property, known)].into())
}

#[test]
fn the_users_own_woods_come_first_and_nothing_is_added_to_them() {
    let woods = [own("Hornbeam", Property::Density, 700.0), own("pear", Property::ShrinkRadial, 4.0)];
    let hornbeam = find("hornbeam", &woods).expect("it is there");
    assert_eq!(hornbeam.value(Property::Density), Some(700.0));
    assert_eq!(hornbeam.value(Property::Shear), None, "not the table's");
    let pear = find("pear", &woods).expect("it is there");
    assert_eq!(pear.get(Property::MoveRadial).map(|known| known.origin), Some(Origin::Computed));
    assert_eq!(Movement::of(pear), Err(vec![Property::MoveTangential]));
}

#[test]
fn memory_leaves_its_mark_on_what_follows_from_it() {
    let origin =
        |name: &str, property| find(name, &[]).ok().and_then(|s| s.get(property)).map(|known| known.origin);
    assert_eq!(origin("European beech", Property::MoveRadial), Some(Origin::ComputedMemory));
    assert_eq!(origin("hornbeam", Property::MoveRadial), Some(Origin::Computed));
    assert_eq!(origin("pear", Property::Density), Some(Origin::ComputedMemory), "the rule is from memory");
    assert_eq!(origin("sugar maple", Property::Density), Some(Origin::Computed));
    let beech = find("European beech", &[]).expect("it is there");
    assert!(Movement::of(beech).expect("it is known").origin.from_memory());
}

#[test]
fn missing_values_are_missing() {
    let boxwood = find("boxwood", &[]).expect("it is there");
    assert_eq!(Movement::of(boxwood), Err(vec![Property::MoveRadial, Property::MoveTangential]));
    assert!(boxwood.strength_at(Property::Mor, 12.0).is_none());
    assert!(boxwood.shear_modulus_gpa().is_none());
    let timber = boxwood.timber("box");
    assert_eq!((timber.name.as_str(), timber.dust), ("box", Some(Dust::Sensitiser)));
    assert!(timber.density_from_memory, "from the green gravity");
}

#[test]
fn every_wood_gets_a_caution() {
    for wood in all() {
        let said = dust::caution(&wood.timber(&wood.name)).join(" ");
        assert!(!said.contains(['(', ')', ';']), "a comment of a program would lose a mark: {said}");
    }
    let known = find("ipe", &[]).expect("it is there").timber("ipe");
    insta::assert_snapshot!(dust::caution(&known).join("\n"), @r"
    dust of ipe, from memory: can make you allergic for good: skin or breath answer ever more strongly
    all wood dust can cause cancer: extract it, wear a mask made for fine dust
    ");
    let unknown = Timber { name: "door post".into(), ..Timber::default() };
    assert_eq!(dust::caution(&unknown)[0], "dust of door post: nothing is known of it");
}

#[test]
fn boards_move_between_radial_and_tangential() {
    let wood = Movement { radial: 0.001, tangential: 0.003, along: ALONG_PER_POINT, origin: Origin::Seen };
    let close = |a: f64, b: f64| (a - b).abs() < 1e-15;
    assert!(close(wood.across(Board::FlatSawn), 0.003) && close(wood.through(Board::FlatSawn), 0.001));
    assert!(close(wood.across(Board::QuarterSawn), 0.001) && close(wood.through(Board::QuarterSawn), 0.003));
    assert!(close(wood.across(Board::RiftSawn), 0.002) && close(wood.through(Board::RiftSawn), 0.002));
}

/// On this rests the question whether two numbers of an own wood are swapped.
#[test]
fn every_wood_moves_more_along_its_rings() {
    for [radial, tangential] in [
        [Property::ShrinkRadial, Property::ShrinkTangential],
        [Property::MoveRadial, Property::MoveTangential],
    ] {
        let both = all().iter().filter_map(|wood| Some((wood, wood.value(radial)?, wood.value(tangential)?)));
        let wrong: Vec<&str> = both.filter(|(_, r, t)| r > t).map(|(wood, ..)| wood.name.as_str()).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
    }
}

#[test]
fn nothing_is_harder_than_the_hardest() {
    let hardest = hardest();
    for wood in all() {
        assert!(wood.value(Property::Density) <= hardest.density_kg_m3, "{}", wood.name);
        let stiff = wood.value(Property::Moe);
        assert!(stiff.is_none() || stiff >= hardest.modulus_gpa, "{}", wood.name);
    }
    assert!(hardest.density_kg_m3 > Some(1200.0) && hardest.modulus_gpa < Some(11.0), "{hardest:?}");
}
