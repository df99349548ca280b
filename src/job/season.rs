//! Checks `[season]`: the moisture of the wood when it is cut, in the dry season and in the wet one, each given as it is
//! or by the air that brings it about.

use super::desk::Desk;
use super::file::{AirFile, SeasonFile};
use super::limits::tidy;
use crate::finding::{Finding, job as codes};
use crate::units::LengthUnit;
use crate::wood::{Air, Moisture, Season};

/// Temperature of air of which only the humidity is given, degrees C: ten degrees more or less change the moisture by a
/// third of a point.
const USUAL_C: f64 = 20.0;
/// A moisture and the air given besides may differ by this, in points: meters read no closer.
const AGREE_POINTS: f64 = 0.5;

/// Checks the table. `None` when something is missing or wrong; every fault is reported.
pub(super) fn check(file: &SeasonFile, unit: LengthUnit, desk: &mut Desk) -> Option<Season> {
    let dry = moisture("dry", file.dry.as_ref(), file.dry_moisture, unit, desk);
    let wet = moisture("wet", file.wet.as_ref(), file.wet_moisture, unit, desk);
    let cutting = moisture("cutting", file.cutting.as_ref(), file.cutting_moisture, unit, desk);
    let warm = if unit == LengthUnit::Mm { 20 } else { 68 };
    for (when, humidity, percent) in [("dry", 35, 7), ("wet", 65, 12)] {
        if given(when, desk) {
            continue;
        }
        let finding = Finding::new(&codes::KEY_MISSING, format!("the {when} season is missing in [season]"));
        let help = format!(
            "add {when} = {{ temperature = {warm}, humidity = {humidity} }} for the air, or {when}_moisture = \
             {percent} for the wood"
        );
        desk.find(finding.at_some(desk.marks.get("season")).help(help));
    }
    let cutting_missing = !given("cutting", desk);
    let (dry, wet) = (dry?, wet?);
    if dry.percent > wet.percent {
        let finding = Finding::new(
            &codes::DISAGREE,
            format!(
                "the wood is drier in the wet season ({} %) than in the dry one ({} %)",
                tidy(wet.percent, 1),
                tidy(dry.percent, 1)
            ),
        );
        let finding = finding.at_some(mark_of("wet", desk)).also_at(mark_of("dry", desk), "the dry season");
        desk.find(finding.help("exchange the two"));
        return None;
    }
    let cutting = if cutting_missing {
        Moisture { percent: f64::midpoint(dry.percent, wet.percent), air: None }
    } else {
        cutting?
    };
    Some(Season { cutting, cutting_assumed: cutting_missing, dry, wet })
}

fn given(when: &str, desk: &Desk) -> bool {
    desk.given(&format!("season.{when}")) || desk.given(&format!("season.{when}_moisture"))
}

/// Where a moisture was given.
fn mark_of<'d>(when: &str, desk: &'d Desk) -> Option<&'d crate::source::Mark> {
    desk.marks.get(&format!("season.{when}_moisture")).or_else(|| desk.marks.get(&format!("season.{when}")))
}

/// The moisture of one time: as it is given, or from the air. Given both ways, the two have to agree.
fn moisture(
    when: &str,
    air: Option<&AirFile>,
    moisture: Option<super::amount::Plain>,
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<Moisture> {
    let percent = desk.number(&format!("season.{when}_moisture"), moisture, unit);
    let Some(file) = air else {
        return percent.map(|percent| Moisture { percent, air: None });
    };
    let temperature = match file.temperature {
        Some(written) => desk.number(&format!("season.{when}.temperature"), Some(written), unit),
        None => Some(USUAL_C),
    };
    let humidity = desk.number(&format!("season.{when}.humidity"), file.humidity, unit);
    if !desk.given(&format!("season.{when}.humidity")) {
        desk.complain(
            &codes::KEY_MISSING,
            &format!("season.{when}"),
            format!("`humidity` is missing in {when}"),
            None,
            "add the relative humidity of the air in percent, such as humidity = 45",
        );
    }
    let air = Air { temperature_c: temperature?, humidity_percent: humidity? };
    let from_air = air.moisture_percent()?;
    if moisture.is_some() && (percent? - from_air).abs() > AGREE_POINTS {
        desk.complain(
            &codes::DISAGREE,
            &format!("season.{when}_moisture"),
            format!(
                "air of {} degrees C and {} % brings wood to {} %, not to {} %",
                tidy(air.temperature_c, 1),
                tidy(air.humidity_percent, 1),
                tidy(from_air, 1),
                tidy(percent?, 1)
            ),
            Some((&format!("season.{when}"), "the air".to_owned())),
            "keep the one that is measured and take the other out",
        );
        return None;
    }
    Some(Moisture { percent: percent.unwrap_or(from_air), air: Some(air) })
}
