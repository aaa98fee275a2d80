//! The lawn, its soil, its grasses, and its weather.

use super::fault::{Faults, did_you_mean};
use super::key::quoted;
use super::value::Reading;
use super::{
    Compaction, Grass, HydrologicGroup, Lawn, SoFarSource, Soil, SoilTest, StationFile, Uncertain,
    WeatherChoice, WeatherSource, local_rules, soil_caution, texture,
};
use crate::weather::{TableUnits, WeatherPlan};

/// Keys of the carried station records.
pub(super) const STATIONS: [&str; 2] = ["jfk", "seattle"];

/// Names of the grasses.
pub(super) const GRASSES: [(&str, Grass); 4] = [
    ("Kentucky bluegrass", Grass::KentuckyBluegrass),
    ("perennial ryegrass", Grass::PerennialRyegrass),
    ("tall fescue", Grass::TallFescue),
    ("fine fescue", Grass::FineFescue),
];

/// The lawn.
pub(super) fn lawn(root: &Reading<'_>, faults: &mut Faults) -> Option<Lawn> {
    let lawn = root.table("lawn")?;
    let soil = lawn.table("soil").and_then(|soil| self::soil(soil, faults));
    let test = lawn.table("soil-test").map(|table| {
        let test = soil_test(table, faults);
        let first_year = root.table("run").map(|run| run.whole("first-year"));
        if let Some(year) = first_year.and_then(|year| i32::try_from(year).ok()) {
            soil_caution::age(table, &test, year, faults);
        }
        test
    });
    let twice = |table: &&Reading<'_>| table.has("ph");
    if let (Some(_), Some(tested)) =
        (lawn.table("soil").filter(twice), lawn.table("soil-test").filter(twice))
    {
        faults.error(
            "exclude-each-other",
            &tested.span_of("ph"),
            "`ph` stands under [lawn.soil] and under [lawn.soil-test]",
            "one of the two",
            Some("keep the laboratory's".to_string()),
        );
    }
    let grasses = mixture(lawn, "grass", "a lawn", faults);
    let seen = lawn.table("seen")?;
    room_for_all(seen, faults);
    Some(Lawn {
        area_m2: lawn.number("area"),
        slope: lawn.number("slope"),
        sun: lawn.number("sun"),
        soil: Soil { test, ..soil? },
        grasses,
        turf_cover: seen.uncertain("grass-cover")?,
        crabgrass_last_august: seen.uncertain("crabgrass-last-august")?,
        seed_bank_m2: seen.uncertain("seed-bank"),
        dandelion: seen.uncertain("dandelion"),
        clover: seen.uncertain("clover"),
        nutsedge: seen.uncertain("nutsedge"),
        irrigation_efficiency: lawn.number("irrigation-efficiency"),
    })
}

/// Grass and the weeds that last stand on one lawn: at their lowest they fit on it.
fn room_for_all(seen: &Reading<'_>, faults: &mut Faults) {
    let least = |key: &str| seen.uncertain(key).map_or(0.0, Uncertain::least);
    let stated = |key: &&str| least(key) > 0.0;
    let Some(last) = ["dandelion", "clover"].into_iter().rfind(stated) else { return };
    let sum = least("grass-cover") + least("dandelion") + least("clover");
    if sum > 1.0 + 1e-9 {
        faults.error(
            "shares-do-not-add-up",
            &seen.span_of(last),
            format!("grass, dandelion and clover are {:.0} % of the lawn together", 100.0 * sum),
            "shares that leave room for each other, at the low ends of ranges at least",
            None,
        );
    }
}

fn soil(soil: &Reading<'_>, faults: &mut Faults) -> Option<Soil> {
    let (sand, clay) = sand_and_clay(soil, faults)?;
    let compaction = match soil.text("compaction") {
        Some("moderate") => Compaction::Moderate,
        Some("severe") => Compaction::Severe,
        _ => Compaction::None,
    };
    let hydrologic_group = match soil.text("hydrologic-group") {
        Some("A") => HydrologicGroup::A,
        Some("B") => HydrologicGroup::B,
        Some("C") => HydrologicGroup::C,
        Some("D") => HydrologicGroup::D,
        _ => texture::hydrologic_group(sand, clay, compaction),
    };
    let organic_matter = soil.uncertain("organic-matter")?;
    if let Uncertain::Exact(value) = organic_matter
        && value > 0.08
    {
        faults.caution(
            "unusual-soil",
            &soil.span_of("organic-matter"),
            "organic matter above 8 % is a muck or peat, not a lawn soil",
            "1 % to 8 %",
            "look at the soil test again: is it a percentage by weight?",
        );
    }
    Some(Soil {
        sand,
        clay,
        organic_matter,
        topsoil_mm: soil.number("topsoil"),
        compaction,
        hydrologic_group,
        ph: soil.maybe("ph"),
        test: None,
    })
}

/// What a laboratory found; phosphorus as Mehlich 3 would have it.
fn soil_test(test: &Reading<'_>, faults: &mut Faults) -> SoilTest {
    let (ph, target_ph) = (test.maybe("ph"), test.number("target-ph"));
    if test.has("extractant") && !test.has("phosphorus") {
        faults.error(
            "stray-key",
            &test.span_of("extractant"),
            "`extractant` is about phosphorus, and none is stated",
            "phosphorus = 30 beside it, or no such key",
            None,
        );
    }
    let lime_g_m2 = test.maybe("lime");
    let wanted = lime_g_m2.filter(|g_m2| *g_m2 > 0.0);
    if wanted.is_some() && !test.has("ph") {
        faults.error(
            "missing-key",
            &test.span_of("lime"),
            "`lime` without `ph`: what it moves is not known",
            "the pH of the same report",
            Some("ph = 5.8".to_string()),
        );
    } else if wanted.is_some() && ph.is_some_and(|ph| ph >= target_ph) {
        faults.error(
            "lime-past-target",
            &test.span_of("lime"),
            format!("the report asks for lime, and its pH is at the target of {target_ph} already"),
            "lime = \"0 lb/1000 ft2\", or the target that the report has in mind",
            Some("target-ph = 6.8".to_string()),
        );
    }
    let per_mehlich = match test.text("extractant") {
        Some("bray-1") => MEHLICH_3_PER_BRAY_1,
        Some("olsen") => MEHLICH_3_PER_OLSEN,
        _ => 1.0,
    };
    SoilTest {
        taken: local_rules::date("taken", test, faults),
        ph,
        target_ph,
        lime_g_m2,
        phosphorus_ppm: test.maybe("phosphorus").map(|ppm| ppm * per_mehlich),
        potassium_ppm: test.maybe("potassium"),
    }
}

/// Phosphorus that Mehlich 3 draws out over what another extractant does, from where each puts enough
/// for turf (27-54, 15-30 and 12-28 ppm: Carrow et al. 2003).
const MEHLICH_3_PER_BRAY_1: f64 = 1.8;
const MEHLICH_3_PER_OLSEN: f64 = 2.0;

fn sand_and_clay(soil: &Reading<'_>, faults: &mut Faults) -> Option<(f64, f64)> {
    let by_class = soil.text("texture").and_then(texture::of_class);
    let named = soil.has("texture");
    let both = soil.has("sand") && soil.has("clay");
    let either = soil.has("sand") || soil.has("clay");
    if named && either {
        faults.error(
            "exclude-each-other",
            &soil.span_of("texture"),
            "`texture` and `sand` / `clay` say the same thing twice",
            "`texture`, or `sand` and `clay`",
            Some("keep the figures of the soil test, drop `texture`".to_string()),
        );
        return None;
    }
    if !named && !both {
        faults.error(
            "missing-key",
            &soil.span,
            "the soil has no texture",
            "texture = \"loam\", or sand = \"40 %\" and clay = \"20 %\"",
            None,
        );
        return None;
    }
    if named {
        return by_class;
    }
    let (sand, clay) = (soil.number("sand"), soil.number("clay"));
    let most = |key: &str| soil.uncertain(key).map_or(0.0, Uncertain::most);
    if most("sand") + most("clay") > 1.0 + 1e-9 {
        faults.error(
            "shares-do-not-add-up",
            &soil.span_of("clay"),
            "sand and clay are more than 100 % together",
            "sand + clay of at most 100 %, at the high ends of ranges too; the rest is silt",
            None,
        );
        return None;
    }
    Some((sand, clay))
}

/// One or two grasses with their shares, which sum to 1, of the tables under a key; `holder` is
/// what they make up.
pub(super) fn mixture(
    owner: &Reading<'_>,
    key: &str,
    holder: &str,
    faults: &mut Faults,
) -> Vec<(Grass, f64)> {
    let mut out: Vec<(Grass, f64)> = Vec::new();
    let tables = owner.tables(key);
    for table in tables {
        let Some(name) = table.text("kind") else { continue };
        match grass_named(name) {
            Some(grass) if out.iter().any(|(g, _)| *g == grass) => faults.error(
                "duplicate-grass",
                &table.span_of("kind"),
                format!("\"{name}\" is there twice"),
                "each grass once, with its share",
                None,
            ),
            Some(grass) => out.push((grass, table.number("share"))),
            None => faults.error(
                "unknown-grass",
                &table.span_of("kind"),
                format!("\"{name}\" is not a grass that the model knows"),
                format!("one of {}", quoted(GRASSES.iter().map(|g| g.0))),
                did_you_mean(name, GRASSES.iter().map(|g| g.0)),
            ),
        }
    }
    let last = tables.last().map_or_else(|| owner.span.clone(), |t| t.span_of("share"));
    let total: f64 = out.iter().map(|g| g.1).sum();
    if tables.is_empty() && owner.has(key) || out.len() > 2 {
        let message = format!("{holder} has one or two grasses here, not {}", tables.len());
        faults.error("too-many", &last, message, "the one or two that rule", None);
    } else if out.len() == tables.len() && !out.is_empty() && (total - 1.0).abs() > 0.005 {
        faults.error(
            "shares-do-not-add-up",
            &last,
            format!("the grasses' shares add up to {:.0} %", total * 100.0),
            "shares that add up to 100 %",
            None,
        );
    }
    out.iter().map(|(grass, share)| (*grass, share / total.max(1e-9))).collect()
}

/// The grass of this name.
pub(super) fn grass_named(name: &str) -> Option<Grass> {
    let plain = name.trim().replace('-', " ");
    GRASSES.iter().find(|(known, _)| known.eq_ignore_ascii_case(&plain)).map(|(_, grass)| *grass)
}

impl Grass {
    /// As people write it.
    pub fn name(self) -> &'static str {
        GRASSES.iter().find(|(_, known)| *known == self).map_or("", |(name, _)| name)
    }
}

/// The station and how years are made.
pub(super) fn weather(root: &Reading<'_>, faults: &mut Faults) -> Option<WeatherChoice> {
    let weather = root.table("weather")?;
    let source = source(weather, faults);
    let plan = match weather.text("years") {
        Some("replay") => replay(root, weather, faults),
        Some("whole-years") => Some(WeatherPlan::WholeYears),
        _ => Some(WeatherPlan::MatchedBlocks),
    };
    if weather.has("replay-from") && weather.text("years") != Some("replay") {
        faults.error(
            "stray-key",
            &weather.span_of("replay-from"),
            "`replay-from` has no effect without years = \"replay\"",
            "years = \"replay\", or no `replay-from`",
            None,
        );
    }
    let so_far = weather.text("so-far").map(|text| match text {
        "record" => SoFarSource::Record,
        path => SoFarSource::File(path.to_string()),
    });
    let file = station_file(weather, so_far.as_ref(), faults);
    Some(WeatherChoice { source: source?, plan: plan?, file, so_far })
}

/// What is stated of station files, and refuses it where no file is named.
fn station_file(
    weather: &Reading<'_>,
    so_far: Option<&SoFarSource>,
    faults: &mut Faults,
) -> StationFile {
    let of_record = weather.has("file");
    let of_any = of_record || matches!(so_far, Some(SoFarSource::File(_)));
    let keys = [
        ("file-units", of_any),
        ("station-id", of_any),
        ("latitude", of_record),
        ("elevation", of_record),
        ("from-year", of_record),
        ("to-year", of_record),
    ];
    for (key, _) in keys.iter().filter(|(key, used)| weather.has(key) && !used) {
        faults.error(
            "stray-key",
            &weather.span_of(key),
            format!("`{key}` is about a station file, and none is named"),
            "file = \"my.csv\" beside it, or no such key",
            None,
        );
    }
    let year = |key| i32::try_from(weather.whole(key)).ok().filter(|_| weather.has(key));
    let years = match (year("from-year"), year("to-year")) {
        (None, None) => None,
        (from, to) => Some((from.unwrap_or(i32::MIN), to.unwrap_or(i32::MAX))),
    };
    if years.is_some_and(|(from, to)| from > to) {
        faults.error(
            "out-of-range",
            &weather.span_of("to-year"),
            "`to-year` is before `from-year`",
            "years in their order",
            None,
        );
    }
    StationFile {
        station: weather.text("station-id").map(str::to_string),
        units: weather.text("file-units").and_then(TableUnits::of_word),
        latitude_deg: weather.maybe("latitude"),
        elevation_m: weather.maybe("elevation"),
        years,
    }
}

fn replay(root: &Reading<'_>, weather: &Reading<'_>, faults: &mut Faults) -> Option<WeatherPlan> {
    if !weather.has("replay-from") {
        let first = root.table("run").map_or(2012, |run| run.whole("first-year"));
        faults.error(
            "missing-key",
            &weather.span_of("years"),
            "years = \"replay\" needs `replay-from`",
            "the first year of the record to replay",
            Some(format!("replay-from = {first}")),
        );
        return None;
    }
    let from_year = i32::try_from(weather.whole("replay-from")).ok()?;
    Some(WeatherPlan::Replay { from_year })
}

fn source(weather: &Reading<'_>, faults: &mut Faults) -> Option<WeatherSource> {
    match (weather.text("station"), weather.text("file")) {
        (Some(name), None) => {
            let known = STATIONS.iter().find(|s| s.eq_ignore_ascii_case(name));
            if known.is_none() {
                faults.error(
                    "unknown-station",
                    &weather.span_of("station"),
                    format!("\"{name}\" is not a carried station"),
                    format!("one of {}, or file = \"my.csv\"", quoted(STATIONS.into_iter())),
                    did_you_mean(name, STATIONS.into_iter()),
                );
            }
            known.map(|s| WeatherSource::Carried((*s).to_string()))
        }
        (None, None) if !weather.has("station") && !weather.has("file") => {
            faults.error(
                "missing-key",
                &weather.span,
                "the weather has no station",
                "station = \"jfk\", or file = \"my.csv\"",
                None,
            );
            None
        }
        (None, Some(path)) => Some(WeatherSource::File(path.to_string())),
        (Some(_), Some(_)) => {
            faults.error(
                "exclude-each-other",
                &weather.span_of("file"),
                "`station` and `file` are both there",
                "one of the two",
                None,
            );
            None
        }
        (None, None) => None,
    }
}
