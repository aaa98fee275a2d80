//! What a scenario reads to, each fault, each caution.

use super::*;
use sim::calendar::MonthDay;
use sim::scenario::{Cue, Grass, HydrologicGroup, Uncertain, WeatherSource};
use sim::weather::WeatherPlan;

#[test]
fn the_thin_front_lawn_is_read_as_written() {
    let checked = good(THIN);
    let s = &checked.scenario;
    close(s.lawn.area_m2, 6000.0 * 0.092_903_04);
    assert_eq!(s.lawn.soil.organic_matter, Uncertain::Triple(0.015, 0.02, 0.026));
    assert_eq!(s.lawn.turf_cover, Uncertain::Range(0.5, 0.6));
    assert_eq!(s.lawn.soil.hydrologic_group, HydrologicGroup::B);
    assert_eq!(s.lawn.grasses[0].0, Grass::KentuckyBluegrass);
    close(s.lawn.grasses[0].1, 0.6);
    assert_eq!(s.weather.source, WeatherSource::Carried("jfk".to_string()));
    assert_eq!(s.weather.plan, WeatherPlan::MatchedBlocks);
    assert_eq!((s.first_year, s.seasons), (2026, 2));
    close(s.crew.mower_width_m, 0.762);
    let words: Vec<_> = s.programs.iter().map(|p| p.difference.as_str()).collect();
    assert_eq!(
        words,
        [
            "",
            "mow: every 5 days instead of every 14 days",
            "barrier: in two halves 8 weeks apart instead of all at once",
            "barrier: in two halves 8 weeks apart instead of all at once"
        ]
    );
    assert_eq!(s.programs[2].based_on.as_deref(), Some("frequent"));
    let every = |p: usize| match s.programs[p].practices[0].cue {
        Cue::Every { days, from, .. } => (days, from),
        _ => panic!("mowing is by interval"),
    };
    let april = MonthDay { month: 4, day: 10 };
    assert_eq!([every(0), every(1), every(2)], [(14, april), (5, april), (5, april)]);
}

/// Trade rate table: 0.28 oz/1000 ft2 of a 65 % product is 0.5 lb ai/ac (0.56 kg/ha).
#[test]
fn the_new_build_lot_is_read_as_written() {
    let checked = good(LOT);
    let s = &checked.scenario;
    assert_eq!(s.lawn.soil.hydrologic_group, HydrologicGroup::D);
    close(s.lawn.soil.topsoil_mm, 76.2);
    let rate = barrier_rates(s, 0)[0].1;
    assert!((rate - 0.56).abs() < 0.005, "{rate}");
    let compost = s.programs[1].practices.last().unwrap();
    assert!(
        matches!(compost.what, What::Topdress { depth_mm, .. } if (depth_mm - 6.35).abs() < 1e-9)
    );
    assert_eq!(s.programs[1].practices.len(), s.programs[0].practices.len() + 1);
    let What::Spread { nitrogen, product, .. } = &s.programs[0].practices[2].what else {
        panic!("feed spreads");
    };
    // 0.67 lb N/1000 ft2 = 3.271 g/m2; 24 % of the product is nitrogen.
    close(nitrogen.total_g_m2(), 0.67 * 453.592_37 / 92.903_04);
    close(nitrogen.coated_g_m2, nitrogen.total_g_m2() / 2.0);
    close(nitrogen.coated_days, 70.0);
    close(product.amount_per_m2, nitrogen.total_g_m2() / 0.24);
}

#[test]
fn the_carried_scenarios_are_plain_about_rain() {
    for text in [THIN, LOT] {
        let codes: Vec<_> = good(text).cautions.iter().map(|c| c.code).collect();
        assert!(codes.contains(&"not-watered-in"), "{codes:?}");
        assert!(!codes.contains(&"much-active-in-a-year"), "{codes:?}");
        assert!(!codes.contains(&"late-barrier"), "{codes:?}");
    }
}

const TEN_FAULTS: &str = r#"title = "Ten faults"
[lawn]
area = 6000
slop = "3 %"
[lawn.soil]
texture = "lome"
organic-matter = ["3 %", "2 %"]
[[lawn.grass]]
kind = "Kentuky bluegrass"
[lawn.seen]
grass-cover = "55 %"
crabgrass-last-august = "140 %"
[weather]
station = "jfk"
[run]
first-year = 2026
[[program]]
id = "usual"
[[program.practice]]
key = "mow"
do = "mow"
height = "3 inchs"
every = "14 days"
from = "5 Nov"
to = "10 Apr"
hold = ["heat 95 degF"]
[[program.practice]]
key = "barrier"
do = "pre-emergent"
product = "prodiamin-wg-65"
rate = "0.3 oz/1000 ft2"
days-after = { practice = "mwo", days = 10 }
"#;

#[test]
fn ten_faults_are_all_told_in_order_with_their_lines() {
    let faults = bad(TEN_FAULTS);
    let lines: Vec<_> = faults.iter().map(|f| (line_of(TEN_FAULTS, &f.span), f.code)).collect();
    assert_eq!(
        lines,
        [
            (3, "bad-quantity"),
            (4, "unknown-key"),
            (6, "not-a-choice"),
            (7, "reversed-range"),
            (9, "unknown-grass"),
            (12, "out-of-range"),
            (22, "bad-quantity"),
            (24, "reversed-window"),
            (26, "bad-hold"),
            (30, "unknown-product"),
        ],
        "{}",
        told(TEN_FAULTS, &faults)
    );
    let helps: Vec<_> = faults.iter().map(|f| f.help.clone().unwrap_or_default()).collect();
    for (i, word) in [(1, "slope"), (2, "loam"), (4, "Kentucky bluegrass"), (9, "prodiamine-wg-65")]
    {
        assert!(helps[i].contains(word), "{i}: {}", helps[i]);
    }
    assert_eq!(faults[0].message, "`area`: \"6000\" has no unit");
    assert!(faults[0].expected.contains("\"6000 ft2\""), "{}", faults[0].expected);
    assert_eq!(helps[0], "did you mean \"6000 ft2\"?");
    assert_eq!(helps[8], "did you mean \"hotter than 95 degF\"?");
    assert_eq!(&TEN_FAULTS[faults[0].span.clone()], "6000");
    assert_eq!(&TEN_FAULTS[faults[1].span.clone()], "slop");
    assert_eq!(&TEN_FAULTS[faults[8].span.clone()], "\"heat 95 degF\"");
}

#[test]
fn spans_are_the_bytes_of_the_value() {
    let text = swapped(THIN, "\"14 days\"\nfrom", "\"fourteen days\"\nfrom");
    let (fault, at) = only_error(&text);
    assert_eq!((fault.code, at.as_str()), ("bad-quantity", "\"fourteen days\""));
    // Text of several bytes a letter before the fault does not shift it.
    let text = swapped(&text, "A thin front lawn", "Ein dünner Vorgarten – ½");
    let (_, at) = only_error(&text);
    assert_eq!(at, "\"fourteen days\"");
}

/// Each case swaps one piece of a good scenario for a bad one.
#[test]
fn each_fault_has_its_code() {
    let cases: &[(&str, &str, &str, &str)] = &[
        (THIN, "title = \"A thin front lawn\"", "titel = \"A\"", "missing-key unknown-key"),
        (THIN, "area = \"6000 ft2\"", "area = \"6000 lb\"", "bad-quantity"),
        (THIN, "area = \"6000 ft2\"", "area = [\"1 ft2\", \"2 ft2\"]", "not-uncertain"),
        (THIN, "share = \"60 %\"", "share = \"70 %\"", "shares-do-not-add-up"),
        (THIN, "sun = \"full\"", "sun = \"ful\"", "not-a-choice"),
        (THIN, "ph = 6.3", "ph = \"6.3\"", "wrong-type"),
        (THIN, "ph = 6.3", "ph = 63", "out-of-range"),
        (THIN, "station = \"jfk\"", "station = \"jfkk\"", "unknown-station"),
        (THIN, "\"matched-blocks\" ", "\"replay\" ", "missing-key"),
        (THIN, "id = \"frequent\"", "id = \"usual\"", "duplicate-id unknown-program"),
        (THIN, "based-on = \"frequent\"", "based-on = \"frequnt\"", "unknown-program"),
        (THIN, "based-on = \"usual\"", "based-on = \"split\"", "based-on-cycle based-on-cycle"),
        (THIN, "every = \"5 days\"", "every = \"2 weeks\"", "changes-nothing"),
        (THIN, "every = \"5 days\"", "evry = \"5 days\"", "unknown-key"),
        (THIN, "every = \"5 days\"", "", "no-change"),
        (THIN, "every = \"5 days\"", "every = 5\nheight = \"4 in\"", "more-than-one-change"),
        (
            THIN,
            "split = \"8 weeks\"",
            "split = \"8 weeks\"\n[[program.change]]\ndrop = \"feed\"",
            "more-than-one-change",
        ),
        (THIN, "practice = \"mow\"", "practice = \"mwo\"", "unknown-practice"),
        (THIN, "on = [\"10 May\", \"10 Sep\"]", "on = [\"31 Jun\"]", "bad-day"),
        (THIN, "on = [\"10 May\", \"10 Sep\"]", "on = 2026-05-10", "wrong-type"),
        (THIN, "on = [\"10 May\", \"10 Sep\"]", "", "no-cue"),
        (THIN, "on = [\"10 May\", \"10 Sep\"]", "on = \"10 May\"\nevery = 3", "two-cues"),
        (THIN, "on = [\"10 May\", \"10 Sep\"]", "on = \"10 May\"\nfrom = \"1 May\"", "stray-key"),
        (
            THIN,
            "on = [\"10 May\", \"10 Sep\"]",
            "days-after = { practice = \"feed\", days = 3 }",
            "cue-cycle",
        ),
        (
            THIN,
            "on = [\"10 May\", \"10 Sep\"]",
            "days-after = { practice = \"bariers\", days = 3 }",
            "unknown-practice unknown-practice unknown-practice unknown-practice",
        ),
        (THIN, "do = \"mow\"", "do = \"moww\"", "not-a-choice"),
        (THIN, "key = \"feed\"", "key = \"mow\"", "duplicate-id"),
        (THIN, "rate = \"0.5 lb ai/ac\"", "rate = \"0.5 oz/1000 ft2\"", "wrong-measure"),
        (THIN, "rate = \"0.5 lb ai/ac\"", "rate = \"50 lb ai/ac\"", "out-of-range"),
        (
            THIN,
            "product = \"dithiopyr-liquid-2\"",
            "active = \"dithiopir\"\ncarrier = \"spray\"",
            "unknown-active",
        ),
        (THIN, "product = \"dithiopyr-liquid-2\"", "active = \"dithiopyr\"", "missing-key"),
        (THIN, "\"0.75 lb N/1000 ft2\"", "\"0.75 lb/1000 ft2\"", "bad-quantity"),
        (THIN, "\"10 Apr\"", "\"5 Dec\"", "reversed-window"),
        (THIN, "\"dormant\", \"nothing", "\"brown\", \"nothing", "bad-hold"),
        (
            THIN,
            "rate = \"0.5 lb ai/ac\"",
            "rate = \"0.5 lb ai/ac\"\nlabel = { year = \"0.4 lb ai/ac\" }",
            "over-label",
        ),
        (LOT, "analysis = \"24-0-11\"", "analysis = \"24-0\"", "bad-analysis"),
        (LOT, "depth = \"1/4 in\"", "depth = \"1/0 in\"", "bad-quantity"),
        (LOT, "area = \"4500 ft2\"", "area = 4500 ft2", "syntax"),
        (LOT, "area = \"4500 ft2\"", "area = \"4500 ft2\"\narea = \"1 ac\"", "syntax"),
    ];
    for (text, from, to, codes) in cases {
        let text = swapped(text, from, to);
        let mut got: Vec<_> = errors(&text).into_iter().map(|e| e.1).collect();
        got.sort_unstable();
        assert_eq!(got.join(" "), *codes, "{from} -> {to}\n{}", told(&text, &bad(&text)));
    }
}

#[test]
fn a_fault_that_a_program_inherits_is_told_once() {
    let text = swapped(THIN, "height = \"3 in\"", "height = \"3 inchs\"");
    let (fault, at) = only_error(&text);
    assert_eq!((fault.code, at.as_str()), ("bad-quantity", "\"3 inchs\""));
    assert_eq!(fault.help.as_deref(), Some("did you mean \"3 in\"?"));
}

#[test]
fn defaults_stand_in_for_what_is_left_out() {
    let s = good(MINIMAL).scenario;
    close(s.crew.hour_cost, 24.0);
    close(s.slips.missed, 0.03);
    close(s.lawn.sun, 1.0);
    close(s.lawn.soil.topsoil_mm, 152.4);
    // 5 $ for 1000 US gallons of 3.785411784 L.
    close(s.crew.water_price_m3, 5.0 / 3.785_411_784);
    // 0.8 min on 92.90304 m2.
    close(s.crew.spread_minutes_per_100_m2, 0.8 / 0.929_030_4);
    assert_eq!(s.seasons, 2);
    assert_eq!(s.programs[0].practices[0].give_up_days, 7);
}

#[test]
fn constants_may_be_uncertain_and_keep_their_dotted_names() {
    let names: Vec<String> = sim::parameters::catalogue(sim::parameters::TEXT)
        .unwrap()
        .into_iter()
        .map(|entry| entry.name)
        .collect();
    let name = names.first().map_or("water.kc", String::as_str);
    let text = format!("{MINIMAL}[constants]\n\"{name}\" = [0.8, 1.0]\n");
    let overrides = good(&text).scenario.overrides;
    assert_eq!(overrides, [(name.to_string(), Uncertain::Range(0.8, 1.0))]);
    let nested = format!("{MINIMAL}[constants]\n{name} = 0.9\n");
    assert_eq!(good(&nested).scenario.overrides, [(name.to_string(), Uncertain::Exact(0.9))]);
    if !names.is_empty() {
        let text = format!("{MINIMAL}[constants]\n\"{name}x\" = 1\n");
        let (fault, _) = only_error(&text);
        assert_eq!(fault.code, "unknown-constant");
        assert!(fault.help.unwrap().contains(name));
    }
}

#[test]
fn cautions_name_the_practice_the_reason_and_the_mend() {
    let cautions = |text: &str| good(text).cautions;
    let find = |text: &str, code: &str| -> Fault {
        let all = cautions(text);
        let found = all.iter().find(|c| c.code == code).cloned();
        found.unwrap_or_else(|| panic!("no {code}: {}", told(text, &all)))
    };
    let high = swapped(THIN, "rate = \"0.5 lb ai/ac\"", "rate = \"1 lb ai/ac\"");
    let over = find(&high, "untypical-rate");
    assert!(over.message.contains("`barrier`") && over.expected.contains("label in your hand"));
    assert!(over.help.is_some());
    let year = find(&high, "much-active-in-a-year");
    assert!(year.expected.contains("typical; enter the figure of the label in your hand"));
    let late = find(&swapped(THIN, "\"50 degF\"", "\"60 degF\""), "late-barrier");
    assert!(late.message.contains("60 degF"), "{}", late.message);
    let low = find(&swapped(THIN, "height = \"3 in\"", "height = \"1 in\""), "low-cut");
    assert!(low.message.contains("`mow`"));
    let rich = find(&swapped(THIN, "0.75 lb N", "1.5 lb N"), "much-nitrogen-at-once");
    assert!(rich.message.contains("`feed`"));
    let split = find(&swapped(THIN, "\"8 weeks\"", "\"20 weeks\""), "odd-sequence");
    assert!(split.message.contains("140 days"), "{}", split.message);
    let deep = find(&swapped(LOT, "\"1/4 in\"", "\"1 in\""), "deep-compost");
    assert!(deep.message.contains("`compost`"));
    for text in [THIN, LOT, &high] {
        assert!(cautions(text).iter().all(|c| !format!("{c:?}").contains("within label")));
    }
}

/// A label that is looser than typical figures loosens nothing: the check keeps the stricter figure, says
/// which, and that it is from memory where it is.
#[test]
fn a_looser_label_loosens_nothing() {
    let stated = "rate = \"1 lb ai/ac\"\n\
                  label = { once = \"1 lb ai/ac\", year = \"1.5 lb ai/ac\", water-in = \"0 in\" }";
    let text = swapped(THIN, "rate = \"0.5 lb ai/ac\"", stated);
    let all = good(&text).cautions;
    for code in ["much-active-in-a-year", "not-watered-in"] {
        let found = all.iter().find(|c| c.code == code).unwrap_or_else(|| panic!("no {code}"));
        assert!(found.expected.contains("stricter than the figure that you gave"), "{found:?}");
    }
    let told = all.iter().find(|c| c.code == "looser-label").expect("it says so");
    assert!(told.message.contains("1.5 lb ai/ac") && told.message.contains("`barrier`"));
    assert!(told.expected.contains("0.5 lb ai/ac") && told.expected.contains("(typical)"));
    // A label that asks for more than typical figures is held to as it stands.
    let strict = "rate = \"0.5 lb ai/ac\"\nlabel = { water-in = \"0.6 in\" }";
    let text = swapped(THIN, "rate = \"0.5 lb ai/ac\"", strict);
    let all = good(&text).cautions;
    assert!(all.iter().all(|c| c.code != "looser-label"));
    let water = all.iter().find(|c| c.code == "not-watered-in").unwrap();
    assert!(water.expected.contains("0.6 in") && water.expected.contains("your label"));
}

#[test]
fn a_syntax_fault_does_not_hide_the_others() {
    let text = swapped(THIN, "area = \"6000 ft2\"", "area = 6000 ft2");
    let text = swapped(&text, "\"50 degF\"", "\"50\"");
    assert_eq!(errors(&text).iter().map(|e| e.1).collect::<Vec<_>>(), ["syntax", "bad-quantity"]);
}

#[test]
fn a_broken_products_text_is_a_fault_not_a_panic() {
    let faults = check(THIN, "[[fertilizer]]\nid = 3").unwrap_err();
    assert_eq!(faults[0].code, "products-file");
    assert!(faults[0].message.contains("line"), "{}", faults[0].message);
}

#[test]
fn an_override_takes_three_forms_and_keeps_to_its_bounds() {
    let over =
        |value: &str| format!("{MINIMAL}[constants]\n\"water.crop_coefficient\" = {value}\n");
    for (value, read) in [
        ("1", Uncertain::Exact(1.0)),
        ("[0.8, 1.1]", Uncertain::Range(0.8, 1.1)),
        ("{ low = 0.8, likely = 0.9, high = 1.1 }", Uncertain::Triple(0.8, 0.9, 1.1)),
    ] {
        let scenario = good(&over(value)).scenario;
        assert_eq!(scenario.overrides, [("water.crop_coefficient".to_string(), read)]);
    }
    let nested = format!(
        "{MINIMAL}[constants.water]\ncrop_coefficient = {{ low = 0.8, likely = 0.9, high = 1 }}\n"
    );
    assert_eq!(good(&nested).scenario.overrides[0].1, Uncertain::Triple(0.8, 0.9, 1.0));
    for (value, code) in [
        ("\"0.9\"", "wrong-type"),
        ("true", "wrong-type"),
        ("-1", "out-of-range"),
        ("nan", "wrong-type"),
        ("[0.9]", "wrong-type"),
        ("[1.1, 0.9]", "reversed-range"),
        ("{ low = 0.8, high = 1.1 }", "missing-key"),
        ("{ low = 0.8, likley = 0.9, high = 1.1 }", "missing-key unknown-key"),
        ("0.9\nwater.crop_coefficient = 0.8", "duplicate-id"),
    ] {
        let mut got: Vec<_> = errors(&over(value)).into_iter().map(|e| e.1).collect();
        got.sort_unstable();
        assert_eq!(got.join(" "), code, "{value}");
    }
    let share = format!("{MINIMAL}[constants]\n\"sward.par_share\" = 1.2\n");
    assert_eq!(only_error(&share).0.code, "out-of-range");
    let far: Vec<_> = good(&over("9")).cautions;
    let far = far.iter().find(|c| c.code == "far-from-known").expect("nine is far");
    assert!(far.help.as_ref().unwrap().contains("swardplay facts water.crop_coefficient"));
}

#[test]
fn a_constant_without_its_group_is_found() {
    for name in ["crop_coefficient", "soil.crop_coefficient", "water.crop_coeficient"] {
        let (fault, _) = only_error(&format!("{MINIMAL}[constants]\n\"{name}\" = 1\n"));
        assert_eq!(fault.code, "unknown-constant");
        assert_eq!(
            fault.help.as_deref(),
            Some("did you mean \"water.crop_coefficient\"?"),
            "{name}"
        );
    }
}

/// What a person may be unsure of takes a range; the plain field holds its likeliest value.
#[test]
fn facts_of_lawn_and_crew_may_be_ranges() {
    let text = swapped(
        THIN,
        "slope = \"3 %\"",
        "slope = [\"2 %\", \"6 %\"]\nirrigation-efficiency = [\"50 %\", \"80 %\"]",
    );
    let text = swapped(&text, "sun = \"full\" ", "sun = [\"half\", \"most\"] ");
    let text = swapped(
        &text,
        "topsoil = \"6 in\"",
        "topsoil = { low = \"3 in\", likely = \"4 in\", high = \"6 in\" }",
    );
    let text =
        swapped(&text, "texture = \"loam\" ", "sand = [\"30 %\", \"50 %\"]\nclay = \"20 %\" ");
    let text = swapped(&text, "hour-cost = \"25 $/h\"", "hour-cost = [\"20 $/h\", \"30 $/h\"]");
    let text = swapped(&text, "mower-speed = \"3 mph\"", "mower-speed = [\"2 mph\", \"3 mph\"]");
    let s = good(&text).scenario;
    assert_eq!(s.doubts.sun, Some(Uncertain::Range(0.5, 0.75)));
    assert_eq!(s.doubts.irrigation_efficiency, Some(Uncertain::Range(0.5, 0.8)));
    assert!(matches!(s.doubts.topsoil_mm, Some(Uncertain::Triple(..))));
    assert_eq!(s.doubts.clay, None);
    assert!(s.doubts.group_by_texture);
    close(s.lawn.sun, 0.625);
    close(s.lawn.slope, 0.04);
    close(s.lawn.soil.topsoil_mm, 101.6);
    close(s.lawn.soil.sand, 0.4);
    close(s.crew.hour_cost, 25.0);
    let plain = good(THIN).scenario.doubts;
    assert_eq!(plain, sim::scenario::Doubts { group_by_texture: true, ..Default::default() });
    let much = swapped(&text, "[\"30 %\", \"50 %\"]", "[\"30 %\", \"90 %\"]");
    assert_eq!(only_error(&much).0.code, "shares-do-not-add-up");
}

/// "nothing to cut" goes by the mowing's own height, and with nothing else.
#[test]
fn nothing_to_cut_goes_with_a_mowing() {
    let mow = &good(THIN).scenario.programs[0].practices[0];
    assert!(mow.holds.contains(&sim::scenario::Hold::NothingToCut));
    let odd = THIN.replacen("hold = [\"windy 12 mph\"", "hold = [\"nothing to cut\"", 1);
    let faults = bad(&odd);
    assert!(faults.iter().any(|f| f.code == "stray-hold" && f.message.contains("this is none")));
    let near = THIN.replacen("\"nothing to cut\"", "\"nothing cut\"", 1);
    let faults = bad(&near);
    let help = faults.iter().find_map(|f| f.help.clone()).unwrap_or_default();
    assert!(help.contains("nothing to cut"), "{help}");
}
