//! What can be wrong in a study that reads: names that nothing bears, numbers that cannot be, days
//! outside the run, acts that lack a key or have one too many.

use super::acts::{DO, SOW, WHEN, month_day};
use super::start;
use super::text::{ActText, CheckText, How, LawnText, Study, WeatherText};
use super::{check, series, weather};
use crate::parameters::{ACTIVES, Catalogue, GRASSES, POSTS};
use crate::scenario::{Fault, Severity, TEXTURES, did_you_mean};
use std::collections::BTreeSet;
use std::ops::{Range, RangeInclusive};
use toml::Table;
use toml::de::{DeTable, DeValue};

/// The most days that all tracks of a study may have together: what fits into memory.
const MOST_DAYS: usize = 1_000_000;

/// The longest run, days.
const LONGEST_RUN: usize = 20_000;

/// The most drawn members a year.
const MOST_MEMBERS: u32 = 1000;

/// No number of a study is larger than this.
const LARGEST: f64 = 1e9;

/// A step on the way to a value of the text.
#[derive(Clone, Copy, Debug)]
pub(super) enum Step<'a> {
    /// Into a table.
    Key(&'a str),
    /// Into an array.
    At(usize),
}

/// Where in the text a path leads; as far as it can be followed.
pub(super) fn place(text: &str, path: &[Step<'_>]) -> Range<usize> {
    let (root, _) = DeTable::parse_recoverable(text);
    let mut span = 0..text.len().min(1);
    let mut table = Some(root.get_ref());
    let mut list: Option<&toml::de::DeArray<'_>> = None;
    for step in path {
        let next = match *step {
            Step::Key(key) => table.and_then(|t| t.get_key_value(key)).map(|(k, v)| (k.span(), v)),
            Step::At(i) => list.and_then(|l| l.get(i)).map(|v| (v.span(), v)),
        };
        let Some((at, value)) = next else { break };
        let Some(end) = text.get(at.clone()) else { break };
        // A table that a header opens spans all of its lines: its first stands for it.
        span = at.start..at.start + end.find('\n').unwrap_or(end.len());
        table = if let DeValue::Table(t) = value.get_ref() { Some(t) } else { None };
        list = if let DeValue::Array(l) = value.get_ref() { Some(l) } else { None };
    }
    span
}

/// Gathers what is wrong, each with its place.
struct Vet<'a> {
    text: &'a str,
    faults: Vec<Fault>,
}

impl Vet<'_> {
    fn note(
        &mut self,
        path: &[Step<'_>],
        message: String,
        expected: impl Into<String>,
        help: Option<String>,
    ) {
        self.faults.push(Fault {
            code: "study",
            severity: Severity::Error,
            message,
            span: place(self.text, path),
            expected: expected.into(),
            help,
        });
    }

    /// A name that must be one of those known.
    fn known(&mut self, path: &[Step<'_>], what: &str, name: &str, all: &[&str]) {
        if !all.contains(&name) {
            let help = did_you_mean(name, all.iter().copied()).filter(|_| name.len() > 1);
            let list = if all.len() > 40 {
                "a name that tests/studies/README.md lists".to_owned()
            } else {
                format!("one of {}", all.join(", "))
            };
            self.note(path, format!("no {what} is called {name:?}"), list, help);
        }
    }

    fn within(&mut self, path: &[Step<'_>], what: &str, value: f64, range: RangeInclusive<f64>) {
        if !range.contains(&value) {
            let (low, high) = (range.start(), range.end());
            self.note(path, format!("{what} is {value}"), format!("{low} to {high}"), None);
        }
    }

    fn day(&mut self, path: &[Step<'_>], text: &str) {
        if let Err(message) = month_day(text) {
            self.note(path, message, "month and day, \"MM-DD\"", None);
        }
    }

    fn needs(&mut self, path: &[Step<'_>], missing: bool, key: &str) {
        if missing {
            self.note(path, format!("missing key {key}"), key, None);
        }
    }
}

fn then<'a>(path: &[Step<'a>], more: &[Step<'a>]) -> Vec<Step<'a>> {
    path.iter().chain(more).copied().collect()
}

/// Everything that is wrong in a study that reads.
pub(super) fn vet(study: &Study, table: &Table, catalogue: &Catalogue) -> Vec<Fault> {
    use Step::{At, Key};
    let mut v = Vet { text: &study.text, faults: Vec::new() };
    numbers(&mut v, &[], table);
    v.known(&[Key("rank")], "rank", &study.rank, &["A", "B", "C"]);
    for (key, text) in [("id", &study.id), ("title", &study.title), ("source", &study.source)] {
        if text.trim().is_empty() {
            v.note(&[Key(key)], format!("{key} is empty"), "some words", None);
        }
    }
    names_differ(&mut v, "check", study.check.iter().map(|c| c.name.as_str()));
    if study.waits_for.is_some() || study.elsewhere.is_some() {
        not_run(&mut v, study);
        return v.faults;
    }
    let sections = ["weather", "lawn", "run", "treatment", "check"];
    if sections.iter().any(|key| !table.contains_key(*key)) {
        for key in sections {
            v.needs(&[], !table.contains_key(key), key);
        }
        return v.faults;
    }
    run(&mut v, study);
    names_differ(&mut v, "treatment", study.treatment.iter().map(|t| t.name.as_str()));
    weather_keys(&mut v, &[Key("weather")], &study.weather);
    for (i, t) in study.treatment.iter().enumerate() {
        let path = [Key("treatment"), At(i)];
        weather_keys(&mut v, &then(&path, &[Key("weather")]), &t.sky);
        // What a treatment does not change is shown where the study states it.
        let own = t.lawn.is_empty() && t.grasses.is_none() && t.seed_bank_m2.is_none();
        let at = if own { vec![Key("lawn")] } else { then(&path, &[Key("lawn")]) };
        ground(&mut v, &at, &t.ground, catalogue);
        for (k, act) in t.act.iter().enumerate() {
            let keys = table["treatment"][i]["act"][k].as_table();
            act_keys(&mut v, &then(&path, &[Key("act"), At(k)]), act, keys);
        }
    }
    for (k, act) in study.act.iter().enumerate() {
        act_keys(&mut v, &[Key("act"), At(k)], act, table["act"][k].as_table());
    }
    for (i, c) in study.check.iter().enumerate() {
        check_keys(&mut v, &[Key("check"), At(i)], study, c);
    }
    let mut seen = BTreeSet::new();
    v.faults.retain(|f| seen.insert((f.span.start, f.message.clone())));
    v.faults
}

/// A study that is not run has nothing that could pass.
fn not_run(v: &mut Vet<'_>, study: &Study) {
    if study.waits_for.is_some() && study.elsewhere.is_some() {
        let message = "a study waits for something or is run elsewhere".to_owned();
        v.note(&[Step::Key("elsewhere")], message, "one of waits-for, elsewhere", None);
    }
    if study.waits_for.as_ref().is_some_and(|w| w.trim().is_empty()) {
        let message = "waits-for is empty".to_owned();
        v.note(&[Step::Key("waits-for")], message, "what the model lacks", None);
    }
    if study.waits_for.is_some() && study.check.is_empty() {
        let message = "a study that waits states what was published".to_owned();
        v.note(&[Step::Key("waits-for")], message, "a [[check]]", None);
    }
    for (i, c) in study.check.iter().enumerate() {
        if c.known_miss.is_some() {
            let path = [Step::Key("check"), Step::At(i), Step::Key("known-miss")];
            v.note(&path, "a study that is not run cannot miss".to_owned(), "no known-miss", None);
        }
    }
}

/// No number that is none, or beyond all measure.
fn numbers(v: &mut Vet<'_>, path: &[Step<'_>], table: &Table) {
    for (key, value) in table {
        number(v, &then(path, &[Step::Key(key)]), value);
    }
}

fn number(v: &mut Vet<'_>, path: &[Step<'_>], value: &toml::Value) {
    let size = match value {
        toml::Value::Float(x) => *x,
        toml::Value::Integer(x) => *x as f64,
        toml::Value::Table(table) => return numbers(v, path, table),
        toml::Value::Array(list) => {
            for (i, value) in list.iter().enumerate() {
                number(v, &then(path, &[Step::At(i)]), value);
            }
            return;
        }
        _ => return,
    };
    if !(-LARGEST..=LARGEST).contains(&size) {
        v.note(path, format!("{size} is not a number that a study can have"), "a number", None);
    }
}

fn names_differ<'a>(v: &mut Vet<'_>, list: &'static str, names: impl Iterator<Item = &'a str>) {
    let mut seen = BTreeSet::new();
    for (i, name) in names.enumerate() {
        let path = [Step::Key(list), Step::At(i), Step::Key("name")];
        if !seen.insert(name) {
            v.note(&path, format!("two are called {name:?}"), "names that differ", None);
        }
        if name.contains('|') || name.contains('\n') || name.trim().is_empty() {
            v.note(&path, format!("{name:?} is no name"), "words without | or a line's end", None);
        }
    }
}

fn run(v: &mut Vet<'_>, study: &Study) {
    let key = |key| [Step::Key("run"), Step::Key(key)];
    v.day(&key("start"), &study.run.start);
    v.within(&key("days"), "days", study.run.days as f64, 1.0..=LONGEST_RUN as f64);
    v.within(
        &key("members"),
        "members",
        f64::from(study.run.members),
        0.0..=f64::from(MOST_MEMBERS),
    );
    let years: usize = study
        .treatment
        .iter()
        .map(|t| t.sky.years.len().max(1) * (1 + t.sky.stations.len() + t.sky.record.len()))
        .sum();
    let all =
        study.run.days.saturating_mul(years).saturating_mul(study.run.members.max(1) as usize);
    if all > MOST_DAYS {
        let message = format!("all tracks together have {all} days");
        v.note(&key("days"), message, format!("at most {MOST_DAYS}"), None);
    }
}

fn weather_keys(v: &mut Vet<'_>, path: &[Step<'_>], w: &WeatherText) {
    use Step::{At, Key};
    let places = w.station.iter().count() + w.stations.len() + w.record.len();
    if places == 0 && w.constant.is_none() {
        let expected = "one of station, stations, record, constant";
        v.note(path, "the weather comes from nowhere".to_owned(), expected, None);
    }
    if places > 0 && w.constant.is_some() {
        let expected = "a record or a constant day, not both";
        v.note(path, "the weather comes from two places".to_owned(), expected, None);
    }
    for year in &w.years {
        v.within(&then(path, &[Key("years")]), "a year", f64::from(*year), 1800.0..=2200.0);
    }
    let monthly = [
        ("warmer-c", &w.warmer_c, -40.0..=40.0),
        ("rain-factor", &w.rain_factor, 0.0..=20.0),
        ("wind-factor", &w.wind_factor, 0.0..=20.0),
        ("et0-factor", &w.et0_factor, 0.0..=20.0),
    ];
    for (key, values, range) in monthly {
        for value in values.all() {
            v.within(&then(path, &[Key(key)]), key, *value, range.clone());
        }
    }
    for (i, span) in w.no_rain.iter().enumerate() {
        for day in span {
            v.day(&then(path, &[Key("no-rain"), At(i)]), day);
        }
    }
    for (i, span) in w.span.iter().enumerate() {
        let path = then(path, &[Key("span"), At(i)]);
        for (key, day) in [("from", &span.from), ("to", &span.to)] {
            if let Some(day) = day {
                v.day(&then(&path, &[Key(key)]), day);
            }
        }
        v.within(&then(&path, &[Key("warmer-c")]), "warmer-c", span.warmer_c, -40.0..=40.0);
        v.within(&then(&path, &[Key("rain-factor")]), "rain-factor", span.rain_factor, 0.0..=20.0);
        v.within(&then(&path, &[Key("wind-factor")]), "wind-factor", span.wind_factor, 0.0..=20.0);
    }
    if let Some(c) = &w.constant {
        let numbers = [
            ("t-c", c.t_c, -40.0..=50.0),
            ("swing-c", c.swing_c, 0.0..=20.0),
            ("rain-mm", c.rain_mm, 0.0..=500.0),
            ("rs-mj-m2", c.rs_mj_m2, 0.0..=45.0),
            ("et0-mm", c.et0_mm, 0.0..=20.0),
            ("day-length-h", c.day_length_h, 0.0..=24.0),
        ];
        for (key, value, range) in numbers {
            v.within(&then(path, &[Key("constant"), Key(key)]), key, value, range);
        }
    }
}

fn ground(v: &mut Vet<'_>, path: &[Step<'_>], lawn: &LawnText, catalogue: &Catalogue) {
    use Step::Key;
    let at = |key| then(path, &[Key(key)]);
    let names: Vec<&str> = GRASSES.iter().map(|(_, n)| *n).collect();
    for (name, share) in &lawn.grasses {
        let path = then(path, &[Key("grasses"), Key(name)]);
        v.known(&path, "grass", name, &names);
        v.within(&path, "a grass's share", *share, 0.0..=1.0);
    }
    let sum: f64 = lawn.grasses.values().sum();
    if (sum - 1.0).abs() > 1e-6 && (lawn.cover > 0.0 || !lawn.grasses.is_empty()) {
        v.note(&at("grasses"), format!("the grasses' shares add up to {sum}"), "1", None);
    }
    soil(v, path, lawn);
    let numbers = [
        ("cover", Some(lawn.cover), 0.0..=1.0),
        ("organic-matter-pct", Some(lawn.organic_matter_pct), 0.0..=30.0),
        ("topsoil-mm", Some(lawn.topsoil_mm), 0.0..=1000.0),
        ("slope", Some(lawn.slope), 0.0..=1.0),
        ("sun", Some(lawn.sun), 0.0..=1.0),
        ("seed-bank-m2", Some(lawn.seed_bank_m2), 0.0..=1e6),
        ("nutsedge-tubers-m2", Some(lawn.nutsedge_tubers_m2), 0.0..=1e5),
        ("dandelion", lawn.dandelion, 0.0..=1.0),
        ("clover", lawn.clover, 0.0..=1.0),
        ("height-mm", lawn.height_mm, 5.0..=400.0),
        ("leaf-n-pct", lawn.leaf_n_pct, 0.5..=8.0),
        ("root-mass-g-m2", lawn.root_mass_g_m2, 0.0..=5000.0),
        ("root-depth-mm", lawn.root_depth_mm, 0.0..=2000.0),
        ("soil-water-share", lawn.soil_water_share, 0.0..=1.0),
        ("mineral-n-g-m2", lawn.mineral_n_g_m2, 0.0..=200.0),
    ];
    for (key, value, range) in numbers {
        if let Some(value) = value {
            v.within(&at(key), key, value, range);
        }
    }
    if lawn.root_mass_g_m2.is_some() && lawn.root_depth_mm.is_some() {
        let message = "root-mass-g-m2 and root-depth-mm say the same thing".to_owned();
        v.note(&at("root-depth-mm"), message, "one of the two", None);
    }
    let groups = ["A", "B", "C", "D"];
    v.known(&at("hydrologic-group"), "hydrologic group", &lawn.hydrologic_group, &groups);
    v.known(&at("compaction"), "compaction", &lawn.compaction, &["none", "moderate", "severe"]);
    for (name, rate) in &lawn.residue_kg_ha {
        let path = then(path, &[Key("residue-kg-ha"), Key(name)]);
        v.known(&path, "active", name, &ACTIVES);
        v.within(&path, "residue", *rate, 0.0..=100.0);
    }
    let constants: Vec<&str> = catalogue.entries.iter().map(|e| e.name.as_str()).collect();
    for name in lawn.constants.keys() {
        v.known(&then(path, &[Key("constants"), Key(name)]), "constant", name, &constants);
    }
    if let Some(depth) = lawn.root_depth_mm {
        let central = catalogue.central();
        for (i, (_, name)) in GRASSES.iter().enumerate() {
            let deepest = central.grasses[i].root_depth_max_mm;
            if lawn.grasses.contains_key(*name) && depth >= deepest {
                let message = format!("root-depth-mm is {depth}; {name} reaches {deepest} at most");
                v.note(&at("root-depth-mm"), message, format!("less than {deepest}"), None);
            }
        }
    }
}

fn soil(v: &mut Vet<'_>, path: &[Step<'_>], lawn: &LawnText) {
    let at = |key| then(path, &[Step::Key(key)]);
    if let Some(name) = &lawn.texture {
        let classes: Vec<&str> = TEXTURES.iter().map(|c| c.0).collect();
        v.known(&at("texture"), "texture", name, &classes);
    }
    for (key, value) in [("sand", lawn.sand), ("clay", lawn.clay)] {
        if let Some(value) = value {
            v.within(&at(key), key, value, 0.0..=1.0);
        }
    }
    match start::sand_and_clay(lawn) {
        Ok((sand, clay)) if sand + clay > 1.0 => {
            v.note(
                &at("sand"),
                format!("sand and clay add up to {}", sand + clay),
                "1 or less",
                None,
            );
        }
        Err(message) if lawn.texture.is_none() || lawn.sand.is_some() || lawn.clay.is_some() => {
            v.note(path, message, "texture, or sand and clay", None);
        }
        _ => {}
    }
}

fn act_keys(v: &mut Vet<'_>, path: &[Step<'_>], act: &ActText, table: Option<&Table>) {
    use Step::Key;
    let at = |key| then(path, &[Key(key)]);
    let what = act.what.as_str();
    let doings: Vec<&str> = DO.iter().map(|d| d.0).collect();
    v.known(&at("do"), "act", what, &doings);
    let Some((_, takes)) = DO.iter().find(|d| d.0 == what) else { return };
    for key in table.into_iter().flat_map(|t| t.keys()) {
        if !WHEN.contains(&key.as_str()) && !takes.contains(&key.as_str()) {
            let help = did_you_mean(key, takes.iter().copied());
            let expected = if takes.is_empty() { "nothing".to_owned() } else { takes.join(", ") };
            v.note(&at(key), format!("do = {what:?} takes no {key}"), expected, help);
        }
    }
    when(v, path, act);
    let needed: &[(&str, bool)] = &match what {
        "cut" => vec![("height-mm", act.height_mm.is_none())],
        "barrier" => {
            vec![("active", act.active.is_none()), ("rate-kg-ha", act.rate_kg_ha.is_none())]
        }
        "wet" | "rain" => {
            vec![("water-mm or et0-share", act.water_mm.is_none() && act.et0_share.is_none())]
        }
        "spray" => {
            vec![("herbicide", act.herbicide.is_none()), ("rate-kg-ha", act.rate_kg_ha.is_none())]
        }
        "compost" => vec![("depth-mm", act.depth_mm.is_none())],
        "iron" => vec![("iron-kg-ha", act.iron_kg_ha.is_none())],
        "clip-share" | "remove-turf" | "set-soil-water" => vec![("share", act.share.is_none())],
        "sow-crabgrass" => vec![("seeds-m2", act.seeds_m2.is_none())],
        SOW => vec![
            ("grass", act.grass.is_none()),
            ("seed-g-m2 or seed-kg-ha", act.seed_g_m2.is_none() && act.seed_kg_ha.is_none()),
        ],
        "lay-clippings" => vec![
            ("clippings-g-m2", act.clippings_g_m2.is_none()),
            ("nitrogen-share", act.nitrogen_share.is_none()),
        ],
        _ => vec![],
    };
    for (key, missing) in needed {
        if *missing {
            v.note(&at("do"), format!("do = {what:?} needs {key}"), *key, None);
        }
    }
    if let Some(active) = &act.active {
        v.known(&at("active"), "active", active, &ACTIVES);
    }
    if let Some(herbicide) = &act.herbicide {
        v.known(&at("herbicide"), "herbicide", herbicide, &POSTS);
    }
    if let Some(grass) = &act.grass {
        v.known(&at("grass"), "grass", grass, &GRASSES.map(|(_, name)| name));
    }
    if let Some(method) = &act.method {
        v.known(&at("method"), "method", method, &["broadcast", "raked", "slit"]);
    }
    if act.coated > 0.0 && act.coated_days <= 0.0 {
        v.note(&at("coated"), "coated nitrogen needs coated-days".to_owned(), "coated-days", None);
    }
    let numbers = [
        ("height-mm", act.height_mm, 5.0..=400.0),
        ("share", act.share, 0.0..=1.0),
        ("rate-kg-ha", act.rate_kg_ha, 0.0..=100.0),
        ("unevenness", act.unevenness, 0.0..=2.0),
        ("found", act.found, 0.0..=1.0),
        ("seed-g-m2", act.seed_g_m2, 0.0..=500.0),
        ("seed-kg-ha", act.seed_kg_ha, 0.0..=5000.0),
        ("pure-live-seed", act.pure_live_seed, 0.0..=1.0),
        ("depth-mm", act.depth_mm, 0.0..=100.0),
        ("seeds-m2", act.seeds_m2, 0.0..=1e6),
        ("iron-kg-ha", act.iron_kg_ha, 0.0..=50.0),
        ("clippings-g-m2", act.clippings_g_m2, 0.0..=10_000.0),
        ("nitrogen-share", act.nitrogen_share, 0.0..=0.2),
        ("canopy-above-mm", act.canopy_above_mm, 0.0..=1000.0),
        ("soil-water-below", act.soil_water_below, 0.0..=1.0),
        ("urea", Some(act.urea), 0.0..=200.0),
        ("ammonium", Some(act.ammonium), 0.0..=200.0),
        ("nitrate", Some(act.nitrate), 0.0..=200.0),
        ("coated", Some(act.coated), 0.0..=200.0),
        ("organic", Some(act.organic), 0.0..=200.0),
        ("coated-days", Some(act.coated_days), 0.0..=1000.0),
    ];
    for (key, value, range) in numbers {
        if let Some(value) = value {
            v.within(&at(key), key, value, range);
        }
    }
    for (key, values) in [("water-mm", &act.water_mm), ("et0-share", &act.et0_share)] {
        for value in values.iter().flat_map(|w| w.all()) {
            v.within(&at(key), key, *value, 0.0..=1000.0);
        }
    }
}

fn when(v: &mut Vet<'_>, path: &[Step<'_>], act: &ActText) {
    let at = |key| then(path, &[Step::Key(key)]);
    if act.on.is_empty() && act.day.is_empty() && act.every_days.is_none() {
        let message = format!("do = {:?} is never done", act.what);
        v.note(&at("do"), message, "one of on, day, every-days", None);
    }
    for day in &act.on {
        v.day(&at("on"), day);
    }
    for (key, day) in [("from", &act.from), ("to", &act.to)] {
        if let Some(day) = day {
            v.day(&at(key), day);
        }
    }
    if let Some(every) = act.every_days {
        v.within(&at("every-days"), "every-days", f64::from(every), 1.0..=3660.0);
    }
}

fn check_keys(v: &mut Vet<'_>, path: &[Step<'_>], study: &Study, c: &CheckText) {
    use Step::Key;
    let at = |key| then(path, &[Key(key)]);
    let all = series::all();
    let names: Vec<&str> = all.iter().map(|s| s.0.as_str()).collect();
    v.known(&at("of"), "series", &c.of, &names);
    if let Some(name) = &c.at {
        v.known(&at("at"), "series", name, &names);
    }
    if let Some(name) = c.other.as_ref().and_then(|o| o.of.as_ref()) {
        v.known(&then(path, &[Key("other"), Key("of")]), "series", name, &names);
    }
    let treatments: Vec<&str> = study.treatment.iter().map(|t| t.name.as_str()).collect();
    for (key, name) in [("treatment", &c.treatment), ("against", &c.against), ("net-of", &c.net_of)]
    {
        if let Some(name) = name {
            v.known(&at(key), "treatment", name, &treatments);
        }
    }
    if let Some(name) = c.other.as_ref().and_then(|o| o.treatment.as_ref()) {
        v.known(&then(path, &[Key("other"), Key("treatment")]), "treatment", name, &treatments);
    }
    for (key, list) in
        [("falling", &c.falling), ("rising", &c.rising), ("treatments", &c.treatments)]
    {
        for name in list {
            v.known(&at(key), "treatment", name, &treatments);
        }
    }
    for name in c.doses.keys() {
        v.known(&then(path, &[Key("doses"), Key(name)]), "treatment", name, &treatments);
    }
    what_passes(v, path, c);
    how_read(v, path, study, c);
}

fn what_passes(v: &mut Vet<'_>, path: &[Step<'_>], c: &CheckText) {
    let at = |key| then(path, &[Step::Key(key)]);
    let whose = [
        c.treatment.is_some(),
        !c.treatments.is_empty(),
        !c.falling.is_empty(),
        !c.rising.is_empty(),
        !c.doses.is_empty(),
    ];
    if whose.into_iter().filter(|w| *w).count() != 1 {
        let expected = "one of treatment, treatments, falling, rising, doses";
        v.note(&at("name"), "it is not clear what is read".to_owned(), expected, None);
    }
    let order = !c.falling.is_empty() || !c.rising.is_empty();
    if c.falling.len() == 1 || c.rising.len() == 1 {
        let key = if c.falling.len() == 1 { "falling" } else { "rising" };
        v.note(&at(key), "one treatment has no order".to_owned(), "two and more", None);
    }
    if order && (c.low.is_some() || c.high.is_some()) {
        let message = "an order has no low and high".to_owned();
        v.note(&at("name"), message, "an order, or low and high", None);
    }
    if !order && c.low.is_none() && c.high.is_none() {
        v.note(&at("name"), "nothing says what passes".to_owned(), "low, high or an order", None);
    }
    if let (Some(low), Some(high)) = (c.low, c.high)
        && low > high
    {
        v.note(&at("low"), format!("low {low} is above high {high}"), "low to high", None);
    }
    if c.doses.len() == 1 {
        v.note(&at("doses"), "one dose has no slope".to_owned(), "two and more", None);
    }
    let mut doses: Vec<f64> = c.doses.values().copied().collect();
    doses.sort_by(f64::total_cmp);
    doses.dedup();
    if doses.len() == 1 && c.doses.len() > 1 {
        v.note(&at("doses"), "all doses are the same".to_owned(), "doses that differ", None);
    }
    if !c.doses.is_empty() && (c.against.is_some() || c.other.is_some()) {
        let message = "doses are not compared with another reading".to_owned();
        v.note(&at("doses"), message, "no against, no other", None);
    }
    if c.known_miss.as_ref().is_some_and(|m| m.trim().is_empty()) {
        v.note(&at("known-miss"), "known-miss is empty".to_owned(), "what is known of it", None);
    }
}

fn how_read(v: &mut Vet<'_>, path: &[Step<'_>], study: &Study, c: &CheckText) {
    let at = |key| then(path, &[Step::Key(key)]);
    let compared = c.compared();
    for month in c.months.iter().chain(compared.iter().flat_map(|o| &o.months)) {
        v.within(&at("months"), "a month", f64::from(*month), 1.0..=12.0);
    }
    for reading in [Some(c), compared.as_ref()].into_iter().flatten() {
        let needs_above = [How::FirstAbove, How::LastAbove, How::DaysAbove, How::FirstShare]
            .contains(&reading.how);
        v.needs(&at("how"), needs_above && reading.above.is_none(), "above");
        let needs_below = [How::FirstBelow, How::DaysBelow].contains(&reading.how);
        v.needs(&at("how"), needs_below && reading.below.is_none(), "below");
    }
    let observed = [How::Rmse, How::Bias].contains(&c.how);
    v.needs(&at("how"), observed && c.observed.is_none(), "observed");
    for day in [&c.on, &c.from, &c.to].into_iter().flatten() {
        v.day(&at("name"), day);
    }
    // Days of the run, in every year that the study names.
    if study.run.days > LONGEST_RUN {
        return;
    }
    let years = &study.weather.years;
    let years = if years.is_empty() { &vec![2021] } else { years };
    for year in years {
        let Ok(first) = weather::first_day(study, *year) else { continue };
        for reading in [Some(c), compared.as_ref()].into_iter().flatten() {
            if let Err(message) = check::days(first, study.run.days, reading) {
                v.note(&at("name"), message, "days of the run", None);
                return;
            }
        }
    }
}

impl Study {
    /// What is wrong with the records that the study names: not at hand, or without its days.
    pub fn weather_faults(&self, sources: &weather::Sources) -> Vec<Fault> {
        use Step::{At, Key};
        let mut v = Vet { text: &self.text, faults: Vec::new() };
        let keys: Vec<&str> = sources.keys().map(String::as_str).collect();
        let study = std::iter::once((vec![Key("weather")], &self.weather));
        let treatments = self.treatment.iter().enumerate();
        let all = study.chain(
            treatments.map(|(i, t)| (vec![Key("treatment"), At(i), Key("weather")], &t.sky)),
        );
        for (path, w) in all {
            if let Some(name) = &w.station {
                v.known(&then(&path, &[Key("station")]), "carried station", name, &keys);
            }
            for (i, name) in w.stations.iter().enumerate() {
                let path = then(&path, &[Key("stations"), At(i)]);
                v.known(&path, "carried station", name, &keys);
            }
            if v.faults.is_empty()
                && let Err(message) = weather::hold_the_run(self, w, sources)
            {
                let expected = "years whose runs lie within the record, or repeat-record = true";
                let key = if w.years.is_empty() { "station" } else { "years" };
                v.note(&then(&path, &[Key(key)]), message, expected, None);
            }
        }
        let mut seen = BTreeSet::new();
        v.faults.retain(|f| seen.insert(f.message.clone()));
        v.faults
    }
}
