//! Keys of the place, the weather, the run, the crew, and the head of a program.
//!
//! Defaults name their source and grade (`A` several studies, `B` one study or a handbook,
//! `C` common practice, `D` our judgement) in the key's text.

use super::super::goal::SPARES;
use super::super::key::{Def, Key, MAY, MUST, Need, Shape, key, share};
use crate::quantity::Kind;

/// The top of a scenario.
pub(in crate::scenario) static ROOT: Def = Def {
    name: "scenario",
    groups: &[&[
        key("title", Shape::Text(120), MUST, "A line for titles."),
        key("about", Shape::Text(2000), Need::Else(""), "What the scenario is for, in a sentence."),
        key("lawn", Shape::Table(&LAWN), MUST, "The place."),
        key("weather", Shape::Table(&WEATHER), MUST, "The station and how years are made."),
        key("run", Shape::Table(&RUN), MUST, "Which years are simulated."),
        key("crew", Shape::Table(&CREW), MAY, "What work takes and costs."),
        key("gear", Shape::Table(&GEAR), MAY, "Bags, tank and tools, for the work sheet."),
        key("event", Shape::Tables(&EVENT), MAY, "Days on which the lawn will be looked at."),
        key("slips", Shape::Table(&SLIPS), MAY, "How reliably work is done."),
        key("constants", Shape::Constants, MAY, "Constants of the model that you know better."),
        key("program", Shape::Tables(&PROGRAM), MUST, "The programs; the first is the baseline."),
        key(
            "local-rules",
            Shape::Table(&LOCAL_RULES),
            MAY,
            "Rules of the place on fertilizer, pesticides and water, as you read them.",
        ),
        key("scouting", Shape::Table(&SCOUTING), MAY, "What was seen since the season began."),
        key("thrift", Shape::Table(&THRIFT), MAY, "What a cheap program must still bring."),
    ]],
};

/// What `thrift` asks of a program.
static THRIFT: Def = Def {
    name: "thrift",
    groups: &[&[
        key(
            "needs",
            Shape::Texts(100),
            MAY,
            "What must hold, such as [\"quality >= 6 on 60 % of summer days\", \"crabgrass peak < \
             5 %\", \"turf cover > 70 % at the end of the last season\"]: in each season where none \
             is named. Asked of quality, colour, grass height, crabgrass, broadleaf weeds, clover, \
             nutsedge, turf cover, green cover or bare ground.",
        ),
        key(
            "budget",
            Shape::Texts(60),
            MAY,
            "What there is to spend, such as [\"450 $ a season\", \"40 h in all\"]: money, hours, \
             water (a depth or a volume) or nitrogen; a season where nothing is said.",
        ),
        key(
            "odds",
            Shape::Text(20),
            MAY,
            "In how many futures all of it must hold: \"17 of 20\" where left out.",
        ),
        key(
            "cheap-in",
            Shape::Choice(&SPARES),
            Need::Else("money"),
            "What the cheapest program is to spend least of.",
        ),
    ]],
};

static SCOUTING: Def = Def {
    name: "scouting",
    groups: &[&[
        key(
            "program",
            Shape::Text(60),
            MAY,
            "The program that the lawn was under until the last look; the first where left out.",
        ),
        key("look", Shape::Tables(&LOOK), MUST, "Each look at the lawn."),
    ]],
};

static LOOK: Def = Def {
    name: "scouting.look",
    groups: &[&[
        key("on", Shape::Day, MUST, "Day of the look, in the run's first year."),
        key(
            "at",
            Shape::Choice(&[
                "grass-cover",
                "green-cover",
                "crabgrass",
                "dandelion",
                "clover",
                "nutsedge",
                "bare-ground",
                "quality",
            ]),
            MUST,
            "What was looked at.",
        ),
        key(
            "seen",
            Shape::Uncertain(Kind::Share, 0.0, 1.0),
            MAY,
            "How much of the lawn; a range says how sure you are. For all but quality.",
        ),
        key("rated", Shape::Number(1.0, 9.0), MAY, "The rating, 1-9. For quality."),
        key(
            "give-or-take",
            share(0.001, 0.5),
            MAY,
            "How far off the look may be, as a standard error in points of the lawn: a quarter of \
             what was seen, and no less than 2 points, where left out (D); a point of quality.",
        ),
    ]],
};

static LAWN: Def = Def {
    name: "lawn",
    groups: &[&[
        key("area", Shape::Quantity(Kind::Area, 0.09, 1e6), MUST, "Area of turf."),
        key("slope", Shape::Uncertain(Kind::Slope, 0.0, 1.0), Need::Else("2 %"), "Slope."),
        key("sun", Shape::ChoiceOrShare(&SUN), Need::Else("full"), "Share of full sun."),
        key(
            "irrigation-efficiency",
            Shape::Uncertain(Kind::Share, 0.2, 1.0),
            Need::Else("75 %"),
            "Share of the water from a sprinkler that reaches the roots (C, common design value).",
        ),
        key("soil", Shape::Table(&SOIL), MUST, "The soil."),
        key("soil-test", Shape::Table(&SOIL_TEST), MAY, "What a laboratory found in the soil."),
        key("grass", Shape::Tables(&GRASS), MUST, "One or two grasses."),
        key("seen", Shape::Table(&SEEN), MUST, "What the walk-round showed."),
    ]],
};

const SUN: [(&str, f64); 3] = [("full", 1.0), ("most", 0.75), ("half", 0.5)];

/// The twelve texture classes of the USDA.
const TEXTURES: [&str; 12] = [
    "sand",
    "loamy sand",
    "sandy loam",
    "loam",
    "silt loam",
    "silt",
    "sandy clay loam",
    "clay loam",
    "silty clay loam",
    "sandy clay",
    "silty clay",
    "clay",
];

const PART: Shape = Shape::Uncertain(Kind::Share, 0.0, 1.0);

static SOIL: Def = Def {
    name: "lawn.soil",
    groups: &[&[
        key("texture", Shape::Choice(&TEXTURES), MAY, "Texture by its USDA name."),
        key("sand", PART, MAY, "Sand by weight, with `clay`, instead of `texture`."),
        key("clay", PART, MAY, "Clay by weight, with `sand`."),
        key(
            "organic-matter",
            Shape::Uncertain(Kind::Share, 0.002, 0.2),
            MUST,
            "Organic matter of the top 4-6 in, by weight, as on a soil test.",
        ),
        key(
            "topsoil",
            Shape::Uncertain(Kind::Depth, 10.0, 1000.0),
            Need::Else("6 in"),
            "Depth of topsoil over subsoil (C).",
        ),
        key(
            "compaction",
            Shape::Choice(&["none", "moderate", "severe"]),
            Need::Else("none"),
            "How a probe goes into the subsoil: freely, with effort, not at all.",
        ),
        key(
            "hydrologic-group",
            Shape::Choice(&["A", "B", "C", "D"]),
            MAY,
            "Curve-number group; from texture and compaction where left out.",
        ),
        key(
            "ph",
            Shape::Number(3.5, 9.5),
            MAY,
            "Soil pH as far as you know it; noted, and without effect: `[lawn.soil-test]` has one that \
             is played.",
        ),
    ]],
};

/// What a laboratory found. Nothing of it is played where it is not stated.
static SOIL_TEST: Def = Def {
    name: "lawn.soil-test",
    groups: &[&[
        key("taken", Shape::Text(40), MAY, "Day of the sample, such as \"3 Mar 2026\"."),
        key("ph", Shape::Number(3.5, 9.5), MAY, "pH in water."),
        key(
            "target-ph",
            Shape::Number(5.0, 7.5),
            Need::Else("6.5"),
            "pH that the lawn should have (C: 6.2-6.5 for turf in Virginia, 6.0-7.2 grows best in \
             Pennsylvania).",
        ),
        key(
            "lime",
            Shape::Quantity(Kind::MassPerArea, 0.0, 4000.0),
            MAY,
            "Lime that the laboratory recommends to come to `target-ph`, as calcium carbonate (100 % \
             CCE), all applications together. Buffer pH goes into it: it says more than texture, by \
             which it is worked out where left out (C).",
        ),
        key(
            "phosphorus",
            Shape::Number(0.0, 2000.0),
            MAY,
            "Phosphorus, ppm (mg/kg); where the report has lb/acre, take half. It matters to seedlings \
             where it is low.",
        ),
        key(
            "potassium",
            Shape::Number(0.0, 5000.0),
            MAY,
            "Potassium, ppm likewise. The check reads it; the lawn does not feel it (trials on lawns \
             mostly found no effect).",
        ),
        key(
            "extractant",
            Shape::Choice(&["mehlich-3", "bray-1", "olsen"]),
            Need::Else("mehlich-3"),
            "With what phosphorus was drawn out: figures differ. Others, such as Morgan, cannot be \
             read across: leave `phosphorus` out.",
        ),
    ]],
};

static GRASS: Def = Def {
    name: "lawn.grass",
    groups: &[&[
        key("kind", Shape::Text(40), MUST, "The grass."),
        key("share", share(0.01, 1.0), Need::Else("100 %"), "Its share of the live cover."),
    ]],
};

static SEEN: Def = Def {
    name: "lawn.seen",
    groups: &[&[
        key(
            "grass-cover",
            Shape::Uncertain(Kind::Share, 0.01, 1.0),
            MUST,
            "Share of the ground under live grass at the start.",
        ),
        key(
            "crabgrass-last-august",
            Shape::Uncertain(Kind::Share, 0.0, 1.0),
            MUST,
            "Share of the lawn under crabgrass last August; a wide range where nobody looked.",
        ),
        key(
            "seed-bank",
            Shape::Uncertain(Kind::CountPerArea, 0.0, 1e6),
            MAY,
            "Living crabgrass seed in the top inch; worked out from last August where left out.",
        ),
        key(
            "dandelion",
            Shape::Uncertain(Kind::Share, 0.0, 1.0),
            MAY,
            "Share of the lawn under dandelion and other broadleaf weeds of its kind last autumn; 0 % \
             where there were none but seed may blow in. They are not played where it is left out.",
        ),
        key(
            "clover",
            Shape::Uncertain(Kind::Share, 0.0, 1.0),
            MAY,
            "Share of the lawn under white clover last autumn; not played where left out.",
        ),
        key(
            "nutsedge",
            Shape::Uncertain(Kind::Share, 0.0, 1.0),
            MAY,
            "Share of the lawn under yellow nutsedge last August; not played where left out.",
        ),
        key(
            "season-before",
            Shape::Text(60),
            MAY,
            "Program that stands for the care of the year before: that year is then run first, and \
             the lawns that come out as seen go on into the run.",
        ),
    ]],
};

static WEATHER: Def = Def {
    name: "weather",
    groups: &[&[
        key("station", Shape::Text(60), MAY, "A carried record: \"jfk\" or \"seattle\"."),
        key("file", Shape::Text(400), MAY, "A daily CSV file of your own, instead of `station`."),
        key(
            "years",
            Shape::Choice(&["matched-blocks", "whole-years", "replay"]),
            Need::Else("matched-blocks"),
            "How simulated years are made from the record.",
        ),
        key("replay-from", Shape::Whole(1800, 2200), MAY, "First year of the record to replay."),
        key(
            "so-far",
            Shape::Text(400),
            MAY,
            "Weather observed since 1 January of `first-year`, the same in every future: a daily CSV \
             file, or \"record\" where the record itself reaches into that year. Simulated weather \
             follows the last observed day.",
        ),
        key(
            "file-units",
            Shape::Choice(&["us", "metric", "tenths"]),
            MAY,
            "Units of `file` and `so-far` where their columns do not say them: degF and inches, degC \
             and mm, or tenths of these.",
        ),
        key(
            "station-id",
            Shape::Text(60),
            MAY,
            "Which station of `file` and `so-far`, of several.",
        ),
        key(
            "latitude",
            Shape::Number(-66.0, 66.0),
            MAY,
            "Degrees north; for a `file` that does not say it, or says it wrong.",
        ),
        key(
            "elevation",
            Shape::Quantity(Kind::Length, -430.0, 5000.0),
            MAY,
            "Above sea level; for a `file` that does not say it, or says it wrong.",
        ),
        key(
            "from-year",
            Shape::Whole(1750, 2200),
            MAY,
            "First year of `file` to read; all of them.",
        ),
        key("to-year", Shape::Whole(1750, 2200), MAY, "Last year of `file` to read."),
    ]],
};

static RUN: Def = Def {
    name: "run",
    groups: &[&[
        key("first-year", Shape::Whole(1900, 2200), MUST, "First simulated year."),
        key("seasons", Shape::Whole(1, 20), Need::Else("2"), "Number of years."),
    ]],
};

const WORK: Shape = Shape::Quantity(Kind::MinutesPerArea, 0.0, 100.0);

/// What work takes and costs.
pub(in crate::scenario) static CREW: Def = Def {
    name: "crew",
    groups: &[&[
        key("currency", Shape::Text(3), Need::Else("$"), "Label of all amounts of money."),
        key(
            "hour-cost",
            Shape::Uncertain(Kind::MoneyPerHour, 0.0, 500.0),
            Need::Else("24 $/h"),
            "Cost of a person-hour, burden included (B: US median pay of grounds workers 2023, \
             18.12 $/h, BLS; burden x 1.3 from memory).",
        ),
        key(
            "visit",
            Shape::Quantity(Kind::Minutes, 0.0, 480.0),
            Need::Else("15 min"),
            "Travel and set-up for a visit (D).",
        ),
        key(
            "mower-width",
            Shape::Quantity(Kind::Length, 0.2, 10.0),
            Need::Else("21 in"),
            "Width of cut (C).",
        ),
        key(
            "mower-speed",
            Shape::Uncertain(Kind::Speed, 0.2, 8.0),
            Need::Else("2.5 mph"),
            "Mowing speed (C).",
        ),
        key(
            "mower-efficiency",
            share(0.2, 1.0),
            Need::Else("75 %"),
            "What overlap and turning leave of speed x width (C; 80 % in the trade press).",
        ),
        key("trim", WORK, Need::Else("2 min/1000 ft2"), "Trim, edge and blow at a mowing (D)."),
        key(
            "bagging",
            Shape::Number(1.0, 3.0),
            Need::Else("1.4"),
            "Mowing time is multiplied by this when bagging (B: Nebraska Extension, up to 30 % \
             saved by not bagging).",
        ),
        key("spread", WORK, Need::Else("0.8 min/1000 ft2"), "Spreading granules on foot (C)."),
        key("spray", WORK, Need::Else("2 min/1000 ft2"), "Spraying with a walk boom or hose (D)."),
        key(
            "weeds-found",
            Shape::Uncertain(Kind::Share, 0.05, 1.0),
            Need::Else("80 %"),
            "Share of the weeds' ground that is found where spots are sprayed (D).",
        ),
        key(
            "spot-margin",
            share(0.0, 10.0),
            Need::Else("100 %"),
            "Ground sprayed around the weeds that are found, as a share of theirs (D).",
        ),
        key(
            "spot-walk",
            WORK,
            Need::Else("1 min/1000 ft2"),
            "Walking all of the lawn to look for weeds, where spots are sprayed (D).",
        ),
        key(
            "spot-spray",
            WORK,
            Need::Else("10 min/1000 ft2"),
            "Spraying spots, by the ground that is sprayed (D).",
        ),
        key(
            "topdress",
            Shape::Quantity(Kind::MinutesPerLayer, 0.0, 100.0),
            Need::Else("228 min/1000 ft2/in"),
            "Topdressing from a wheelbarrow, by depth (D: 57 min/1000 ft2 at 1/4 in).",
        ),
        key("overseed", WORK, Need::Else("1 min/1000 ft2"), "Spreading grass seed on foot (D)."),
        key("rake-in", WORK, Need::Else("15 min/1000 ft2"), "Raking seed in by hand, besides (D)."),
        key(
            "slit-seed",
            WORK,
            Need::Else("8 min/1000 ft2"),
            "Sowing with a slit seeder, two ways (D).",
        ),
        key(
            "watering",
            Shape::Quantity(Kind::Minutes, 0.0, 240.0),
            Need::Else("5 min"),
            "Setting out a sprinkler (D).",
        ),
        key(
            "water-price",
            Shape::Quantity(Kind::MoneyPerVolume, 0.0, 100.0),
            Need::Else("5 $/1000 gal"),
            "Price of water (D, from memory of US utility rates).",
        ),
        key(
            "visit-days",
            Shape::Texts(20),
            MAY,
            "Days of the week on which the crew comes, such as [\"Tue\", \"Fri\"]; any day where \
             left out. What is due waits for the next of them, and shares its travel.",
        ),
        key(
            "days-off",
            Shape::Texts(20),
            MAY,
            "Days of the week on which the crew never comes, such as [\"Sun\"].",
        ),
        key(
            "minimum-visit",
            Shape::AnyOf(&[Kind::Minutes, Kind::Money]),
            MAY,
            "Least that a visit counts for: minutes of one person, travel included, such as \
             \"45 min\"; or a sum, product included, such as \"45 $\".",
        ),
        key(
            "rain-out",
            Shape::Table(&RAIN_OUT),
            MAY,
            "Rain that sends the crew away until its next visit day, besides the practices' own \
             holds; never where the table is left out. An empty table takes all of its usual values.",
        ),
    ]],
};

/// What a crew loads its products with. Nothing of it bears on the lawn.
pub(in crate::scenario) static GEAR: Def = Def {
    name: "gear",
    groups: &[&[
        key(
            "bag",
            Shape::Quantity(Kind::Weight, 0.1, 1500.0),
            MAY,
            "Weight of a bag of fertilizer, granules or seed: 50 lb, or 25 kg on a metric sheet, where \
             left out (C).",
        ),
        key(
            "tank",
            Shape::Quantity(Kind::Volume, 0.5, 5000.0),
            MAY,
            "What the sprayer's tank holds: 4 gal, or 15 L on a metric sheet, where left out (C).",
        ),
        key(
            "carrier",
            Shape::Quantity(Kind::VolumePerArea, 1.0, 1000.0),
            MAY,
            "Spray mix that the sprayer lays, as you calibrated it: 1 gal/1000 ft2, or 4 L/100 m2 on a \
             metric sheet, where left out (C); the label may ask for more.",
        ),
        key(
            "spreader-width",
            Shape::Quantity(Kind::Length, 0.3, 30.0),
            MAY,
            "Width that one pass of the spreader covers, overlap taken off: 8 ft, or 2.5 m on a metric \
             sheet, where left out (C).",
        ),
        key(
            "sprinkler-rate",
            Shape::Quantity(Kind::DepthPerHour, 0.5, 200.0),
            MAY,
            "Depth that the sprinklers lay in an hour, as cans on the lawn show it: then minutes are \
             told.",
        ),
    ]],
};

const RAIN: Shape = Shape::Quantity(Kind::Depth, 0.0, 400.0);

/// Rain that keeps a crew from working: what fell yesterday, as the ground shows it, and what the
/// morning's forecast promises for today.
static RAIN_OUT: Def = Def {
    name: "crew.rain-out",
    groups: &[&[
        key(
            "mow-wet",
            RAIN,
            Need::Else("0.5 in"),
            "No mowing after more rain than this yesterday: the wheels mark soft ground (D).",
        ),
        key(
            "mow-rain",
            RAIN,
            Need::Else("0.25 in"),
            "No mowing with this much promised for today (D).",
        ),
        key(
            "spray-wet",
            RAIN,
            Need::Else("0.5 in"),
            "No spraying after more rain than this yesterday: standing wet runs off (D).",
        ),
        key(
            "spray-rain",
            RAIN,
            Need::Else("0.1 in"),
            "No spraying with this much promised for today: it washes off (C: labels ask for dry \
             hours after a spray; the depth is D).",
        ),
        key(
            "spread-wet",
            RAIN,
            Need::Else("0.5 in"),
            "No spreading, topdressing or sowing after more rain than this yesterday: granules \
             stick to wet leaves (D).",
        ),
        key(
            "spread-rain",
            RAIN,
            Need::Else("0.5 in"),
            "No spreading, topdressing or sowing with this much promised for today (C: local \
             rules bar fertilizer ahead of heavy rain; the depth is D).",
        ),
    ]],
};

/// A day on which the lawn is looked at.
static EVENT: Def = Def {
    name: "event",
    groups: &[&[
        key(
            "date",
            Shape::Text(40),
            MUST,
            "The day: \"20 Jun 2026\", or \"20 Jun\" for each simulated year. Nobody works on it.",
        ),
        key("title", Shape::Text(60), MUST, "What it is, such as \"garden party\"."),
        key(
            "needs",
            Shape::Texts(60),
            MAY,
            "What the lawn must be like, such as [\"quality >= 6\", \"crabgrass < 5 %\"]; quality \
             of 6 or better where left out.",
        ),
        key(
            "no-spray-before",
            Shape::Days(0, 60),
            MAY,
            "Days before it without spraying: 1 where left out (D: labels keep people off until \
             the spray has dried).",
        ),
        key(
            "mow-before",
            Shape::Days(1, 14),
            MAY,
            "Every mowing practice falls due once more, so many days before it.",
        ),
    ]],
};

/// How reliably work is done.
pub(in crate::scenario) static SLIPS: Def = Def {
    name: "slips",
    groups: &[&[
        key("missed", share(0.0, 0.9), Need::Else("3 %"), "Chance that a visit is missed (D)."),
        key("late", share(0.0, 1.0), Need::Else("20 %"), "Chance that a visit comes late (D)."),
        key(
            "late-by",
            Shape::Quantity(Kind::Duration, 0.0, 60.0),
            Need::Else("3 days"),
            "How late a late one is, on average (D).",
        ),
        key(
            "rate-error",
            share(0.0, 1.0),
            Need::Else("10 %"),
            "Spread of the rate laid about the rate meant: calibration (D).",
        ),
        key(
            "unevenness",
            share(0.0, 1.0),
            Need::Else("20 %"),
            "Spread of the deposit over the lawn in one pass (D).",
        ),
    ]],
};

const N_RULE: Shape = Shape::Quantity(Kind::NitrogenRate, 0.0, 100.0);

/// What both the scenario's own rules and the dated examples may state.
const RULES: &[Key] = &[
    key("place", Shape::Text(80), MAY, "Whose rules they are, such as \"Maryland\"."),
    key("source", Shape::Text(400), MAY, "Where they were read: the law or the page."),
    key("checked", Shape::Text(40), MAY, "The day they were read, such as \"22 Nov 2026\"."),
    key("nitrogen-once", N_RULE, MAY, "Most nitrogen at one application."),
    key(
        "quick-nitrogen-once",
        N_RULE,
        MAY,
        "Most quick (water-soluble, readily available) nitrogen at one application.",
    ),
    key("nitrogen-year", N_RULE, MAY, "Most nitrogen in a calendar year."),
    key("slow-at-least", share(0.0, 1.0), MAY, "Least share of the nitrogen that is slow."),
    key(
        "phosphate-at-most",
        share(0.0, 1.0),
        MAY,
        "Highest phosphate (the middle number of the analysis) of a bag where no soil test asks for \
         phosphorus; \"0 %\" for none. Compost is not counted.",
    ),
    key(
        "fertilizer-closed",
        Shape::Texts(60),
        MAY,
        "Stretches of the year without fertilizer, such as [\"1 Dec to 1 Apr\"], both days \
         included. A due practice waits for their end until its `give-up` is over.",
    ),
    key(
        "fertilizer-closed-over",
        N_RULE,
        MAY,
        "Nitrogen that may be laid at once even then; none where left out.",
    ),
    key(
        "pesticide-closed",
        Shape::Texts(60),
        MAY,
        "Stretches of the year without pre-emergents and sprays on weeds, as for fertilizer.",
    ),
    key(
        "rain-coming",
        Shape::Quantity(Kind::Depth, 1.0, 400.0),
        MAY,
        "No fertilizer with this much rain promised over today and the two days after. On frozen or \
         snow-covered ground nobody works anyway.",
    ),
    key(
        "water-days",
        Shape::Texts(20),
        MAY,
        "Days on which watering is allowed: days of the week such as [\"Wed\", \"Sat\"], or \
         \"odd dates\", or \"even dates\". What waters, or waters in, waits for one; the hours of \
         the day do not matter to a daily model.",
    ),
    key(
        "setback",
        Shape::Quantity(Kind::Length, 0.0, 500.0),
        MAY,
        "Width of the strip beside water that gets no fertilizer, by the spreader that you use.",
    ),
    key(
        "setback-for",
        Shape::Choice(&["fertilizer", "fertilizer and pesticides"]),
        Need::Else("fertilizer"),
        "What the strip does not get.",
    ),
];

/// The rules of the place.
static LOCAL_RULES: Def = Def {
    name: "local-rules",
    groups: &[
        &[key(
            "like",
            Shape::Text(60),
            MAY,
            "A dated example of `scenarios/local-rules.toml`, such as \"maryland\"; keys beside it \
             stand over its own. Laws change: look up what is in force.",
        )],
        RULES,
        &[
            key(
                "shore",
                Shape::Quantity(Kind::Length, 0.0, 10_000.0),
                MAY,
                "Length of the lawn's edge along water, for `setback`; none where left out.",
            ),
            key(
                "phosphorus-test",
                Shape::Text(40),
                MAY,
                "Day of a soil test that asks for phosphorus, such as \"3 Mar 2026\".",
            ),
        ],
    ],
};

/// A dated example of the rules of a place.
pub(in crate::scenario) static RULES_EXAMPLE: Def = Def {
    name: "local-rules example",
    groups: &[
        RULES,
        &[
            key("grade", Shape::Choice(&["A", "B", "C", "D"]), MUST, "How far to trust it."),
            key("left-out", Shape::Text(600), MAY, "What of the law no key can say."),
        ],
    ],
};

/// A program.
static PROGRAM: Def = Def {
    name: "program",
    groups: &[&[
        key("id", Shape::Id, MUST, "Short name for files and the command line."),
        key("title", Shape::Text(80), MAY, "Label for pictures."),
        key("based-on", Shape::Text(40), MAY, "The program that this one changes in one thing."),
        key("practice", Shape::Later, MAY, "The practices of a program of its own."),
        key("change", Shape::Later, MAY, "The one change of a program that is based on another."),
    ]],
};

/// All tables but those of practices.
pub(super) static TABLES: [&Def; 18] = [
    &ROOT,
    &LAWN,
    &SOIL,
    &SOIL_TEST,
    &GRASS,
    &SEEN,
    &WEATHER,
    &RUN,
    &CREW,
    &RAIN_OUT,
    &SLIPS,
    &GEAR,
    &LOCAL_RULES,
    &EVENT,
    &PROGRAM,
    &SCOUTING,
    &LOOK,
    &THRIFT,
];
