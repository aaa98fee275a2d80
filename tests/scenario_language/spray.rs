//! Sprays on weeds that are up as written, their faults, and what the check says of them.

use super::*;
use sim::scenario::{Cue, Hold, Spray};
use sim::work::{Stand, Weed};

const OZ_PER_1000_FT2: f64 = 28.349_523_125 / 92.903_04;
const FL_OZ_PER_1000_FT2: f64 = 29.573_529_562_5 / 92.903_04;

/// Every hold that the check asks for.
const HELD: &str = "hold = [\"windy 10 mph\", \"rain coming\", \"hotter than 80 degF\", \
                    \"cooler than 50 degF\", \"mown within 3 days\", \"nothing to spray\"]";

fn spray(what: &str, when: &str) -> String {
    format!("[[program.practice]]\nkey = \"spray\"\ndo = \"spray\"\n{what}\n{when}\n")
}

/// Mowing that keeps off what was sprayed, and one spray.
fn with(what: &str, when: &str) -> String {
    let mown = swapped(MINIMAL, "every = 7", "every = 7\nhold = [\"sprayed within 3 days\"]");
    format!("{mown}{}", spray(what, when))
}

fn read(text: &str) -> Spray {
    match &good(text).scenario.programs[0].practices[1].what {
        What::Spray(spray) => spray.clone(),
        other => panic!("{other:?}"),
    }
}

fn all(text: &str) -> Vec<Fault> {
    match check(text, PRODUCTS) {
        Ok(checked) => checked.cautions,
        Err(faults) => faults,
    }
}

fn find(text: &str, code: &str) -> Fault {
    let all = all(text);
    let found = all.iter().find(|fault| fault.code == code).cloned();
    found.unwrap_or_else(|| panic!("no {code}: {}", told(text, &all)))
}

fn codes(text: &str) -> Vec<&'static str> {
    all(text).into_iter().map(|fault| fault.code).collect()
}

/// Rates of product by extension tables, to the hundredth of an ounce (thousandth where the table has
/// it): quinclorac 0.75 lb/ac of 75 % is 0.37 oz/1000 ft2; mesotrione 8 fl oz/ac of 4 lb/gal is 0.25 lb
/// and 0.184 fl oz; triclopyr 1 lb/ac of 4 lb/gal 0.73 fl oz (PNW handbook); halosulfuron 1 1/3 oz/ac is
/// 0.0625 lb and 0.031 oz (Pennsylvania State); topramezone 1.5 fl oz/ac of 2.8 lb/gal 0.033 lb and
/// 0.034 fl oz; bentazon 2 pt/ac of 4 lb/gal 1.0 lb.
#[test]
fn rates_are_those_of_extension_tables() {
    for (product, rate, liquid, wanted, to) in [
        ("quinclorac-df-75", "0.75 lb ai/ac", false, 0.37, 0.005),
        ("mesotrione-post-4", "0.25 lb ai/ac", true, 0.184, 0.0005),
        ("triclopyr-ester-4", "1 lb ai/ac", true, 0.73, 0.005),
        ("halosulfuron-wg-75", "0.0625 lb ai/ac", false, 0.031, 0.0005),
        ("topramezone-liquid-2-8", "0.0328 lb ai/ac", true, 0.034, 0.0005),
    ] {
        let read =
            read(&with(&format!("product = \"{product}\"\nrate = \"{rate}\""), "on = \"15 Jun\""));
        let unit = if liquid { FL_OZ_PER_1000_FT2 } else { OZ_PER_1000_FT2 };
        let amount = read.product.amount_per_m2 / unit;
        assert!((amount - wanted).abs() <= to, "{product}: {amount}");
        assert_eq!(read.product.liquid, liquid);
    }
    let pints =
        read(&with("product = \"bentazon-liquid-4\"\nrate = \"2 pt/ac\"", "on = \"15 Jun\""));
    assert!((pints.rate_kg_ha / 1.120_851 - 1.0).abs() < 1e-4, "{}", pints.rate_kg_ha);
}

#[test]
fn a_spray_is_read_as_written() {
    let text = with(
        "product = \"quinclorac-df-75\"\nrate = \"0.37 oz/1000 ft2\"\nwhere = \"spots\"\n\
         against = \"crabgrass\"\nvolume = \"2 gal/1000 ft2\"",
        "crabgrass-cover = \"3 %\"\nfrom = \"1 Jun\"\nto = \"31 Jul\"\nhold = [\"nothing to spray 1 %\"]",
    );
    let scenario = good(&text).scenario;
    let practice = &scenario.programs[0].practices[1];
    let spray = read(&text);
    assert!(spray.spots && !spray.label_read);
    assert_eq!(spray.weeds, [Weed::Crabgrass]);
    assert_eq!(spray.sought.stands().collect::<Vec<_>>(), [Stand::Crabgrass]);
    // 2 gal of 3.785 L on 92.9 m2.
    assert!((spray.volume_ml_m2 - 2.0 * 3_785.411_784 / 92.903_04).abs() < 1e-6);
    assert_eq!(practice.holds, [Hold::NothingToSpray { below: 0.01 }]);
    let Cue::WeedCover { stand: Stand::Crabgrass, at_least, min_gap_days: 21, .. } = practice.cue
    else {
        panic!("{:?}", practice.cue);
    };
    close(at_least, 0.03);
    // By active ingredient, in any spelling; the mixture's weeds are both broadleaf.
    let mix = "active = \"2,4-D + mecoprop + dicamba (amine)\"\nrate = \"1 lb ai/ac\"";
    let mix = read(&with(mix, "on = \"15 Oct\""));
    assert_eq!(mix.weeds, [Weed::Dandelion, Weed::Clover]);
    assert_eq!(mix.sought.stands().collect::<Vec<_>>(), [Stand::Broadleaf]);
    assert!(!mix.spots);
}

#[test]
fn each_fault_of_a_spray_has_its_code_and_a_near_miss() {
    let quinclorac = "product = \"quinclorac-df-75\"\nrate = \"0.75 lb ai/ac\"";
    for (what, when, code, help) in [
        (
            "product = \"quinclorak-df-75\"\nrate = \"1 lb ai/ac\"",
            "",
            "unknown-product",
            "quinclorac",
        ),
        ("active = \"mesotrion\"\nrate = \"0.2 lb ai/ac\"", "", "unknown-active", "mesotrione"),
        (
            "active = \"clopyralid\"\nrate = \"0.2 lb ai/ac\"",
            "",
            "not-for-home-lawns",
            "fluroxypyr",
        ),
        (
            "product = \"clopyralid 3 lb/gal\"\nrate = \"0.2 lb ai/ac\"",
            "",
            "not-for-home-lawns",
            "",
        ),
        ("rate = \"0.2 lb ai/ac\"", "", "missing-key", ""),
        (quinclorac, "where = \"spot\"", "not-a-choice", "spots"),
        (quinclorac, "against = [\"crabgras\"]", "unknown-weed", "crabgrass"),
        (quinclorac, "hold = [\"nothing to cut\"]", "stray-hold", ""),
        (quinclorac, "hold = [\"mowed yesterday\"]", "bad-hold", "mown within"),
        (quinclorac, "split = 30", "unknown-key", ""),
    ] {
        let (fault, _) = only_error(&with(what, &format!("on = \"15 Jun\"\n{when}")));
        assert_eq!(fault.code, code, "{what} {when}: {}", fault.message);
        let told = fault.help.unwrap_or_default();
        assert!(told.contains(help), "{code}: {told}");
    }
    let cover = "crabgrass-cover = \"0 %\"\nfrom = \"1 Jun\"\nto = \"31 Jul\"";
    let (fault, at) = only_error(&with(quinclorac, cover));
    assert_eq!((fault.code, at.as_str()), ("out-of-range", "\"0 %\""));
    let mowing = swapped(MINIMAL, "every = 7", "every = 7\nhold = [\"nothing to spray\"]");
    assert_eq!(only_error(&mowing).0.code, "stray-hold");
}

/// With every hold there, a usual rate and no seed near, only the product's own note is left.
#[test]
fn a_spray_with_its_holds_is_left_alone() {
    let text = with(
        "product = \"quinclorac-df-75\"\nrate = \"0.75 lb ai/ac\"",
        &format!("on = \"15 Jun\"\n{HELD}"),
    );
    assert_eq!(codes(&text), ["product-note"], "{}", told(&text, &all(&text)));
    let note = find(&text, "product-note");
    assert!(note.message.contains("one tiller") && note.message.contains("seed oil"));
}

/// Each caution names the practice, the reason and the mend.
#[test]
fn what_a_spray_lacks_is_told() {
    let bare = with(
        "product = \"three-way-amine\"\nrate = \"1 lb ai/ac\"",
        "on = [\"1 Jul\", \"15 Nov\"]",
    );
    for (code, reason, mend) in [
        ("spray-in-heat", "burns grass", "hotter than 85 degF"),
        ("spray-in-cold", "take up little", "cooler than 50 degF"),
        ("spray-before-rain", "washes it off", "rain coming"),
        ("spray-in-wind", "drifts", "windy 10 mph"),
        ("mowing-near-spray", "leaf to land on", "mown within 2 days"),
    ] {
        let fault = find(&bare, code);
        assert!(fault.message.contains("`spray`"), "{code}: {}", fault.message);
        assert!(fault.message.contains(reason), "{code}: {}", fault.message);
        assert!(fault.help.as_deref().unwrap_or_default().contains(mend), "{code}: {fault:?}");
    }
    let heat = find(&bare, "spray-in-heat");
    assert!(heat.expected.contains("typical; enter the figure of the label in your hand"));
    // A crew that rain sends away needs no hold.
    let rained_out = swapped(&bare, "[run]", "[crew]\nrain-out = {}\n[run]");
    assert!(!codes(&rained_out).contains(&"spray-before-rain"));
    // In spring and fall alone neither heat nor cold is met.
    let mild = swapped(&bare, "[\"1 Jul\", \"15 Nov\"]", "\"10 Oct\"");
    assert!(!codes(&mild).iter().any(|c| ["spray-in-heat", "spray-in-cold"].contains(c)));
}

#[test]
fn a_spray_for_a_weed_that_it_leaves_is_told() {
    let aimed =
        |what: &str, at: &str| with(what, &format!("{at}\nfrom = \"1 Jun\"\nto = \"30 Jun\""));
    let three_way = "product = \"three-way-amine\"\nrate = \"1 lb ai/ac\"";
    let sedge = find(&aimed(three_way, "nutsedge-cover = \"1 %\""), "wrong-weed");
    assert!(sedge.message.contains("does not control it"), "{}", sedge.message);
    assert!(sedge.expected.contains("halosulfuron"), "{}", sedge.expected);
    let halosulfuron = "product = \"halosulfuron-wg-75\"\nrate = \"0.0625 lb ai/ac\"";
    find(&aimed(halosulfuron, "crabgrass-cover = \"1 %\""), "wrong-weed");
    let right = aimed(halosulfuron, "nutsedge-cover = \"1 %\"");
    assert!(!codes(&right).contains(&"wrong-weed"));
    // Triclopyr alone leaves dandelion (Neal 1990).
    let dandelion = "against = [\"dandelion\", \"clover\"]\n";
    let triclopyr = "product = \"triclopyr-ester-4\"\nrate = \"0.75 lb ai/ac\"";
    let left = find(&with(triclopyr, &format!("{dandelion}on = \"1 Oct\"")), "wrong-weed");
    assert!(left.message.contains("dandelion"), "{}", left.message);
    // A barrier stops seed.
    let wall = "[[program.practice]]\nkey = \"wall\"\ndo = \"pre-emergent\"\n\
                product = \"prodiamine-wg-65\"\nrate = \"0.5 lb ai/ac\"\nwater-in = \"0.5 in\"\n\
                against = \"nutsedge\"\non = \"15 Apr\"\n";
    let wall = find(&format!("{MINIMAL}{wall}"), "wrong-weed");
    assert!(wall.message.contains("tubers"), "{}", wall.message);
}

/// Ceilings by the most sensitive grass, over barrier and spray of one active ingredient: mesotrione
/// 0.5 lb/ac in a year (HortScience 53:1689), 6 fl oz/ac (0.1875 lb) at once on ryegrass.
#[test]
fn ceilings_hold_over_all_of_a_program() {
    let meso = |rate: &str| format!("product = \"mesotrione-post-4\"\nrate = \"{rate}\"");
    let twice = with(&meso("0.25 lb ai/ac"), "on = [\"15 Jun\", \"10 Jul\"]");
    assert!(!codes(&twice).contains(&"much-active-in-a-year"));
    let wall = "[[program.practice]]\nkey = \"wall\"\ndo = \"pre-emergent\"\n\
                product = \"mesotrione-liquid-4\"\nrate = \"0.156 lb ai/ac\"\nwater-in = \"0.5 in\"\n\
                on = \"15 Apr\"\n";
    let year = find(&format!("{twice}{wall}"), "much-active-in-a-year");
    assert!(year.message.contains("0.656 lb ai/ac"), "{}", year.message);
    assert!(year.expected.contains("at most 0.5 lb ai/ac"), "{}", year.expected);
    assert!(!codes(&twice).contains(&"much-active-at-once"));
    let rye = swapped(
        &twice,
        "[{ kind = \"tall fescue\" }]",
        "[{ kind = \"tall fescue\", share = \"80 %\" }, { kind = \"perennial ryegrass\", share = \"20 %\" }]",
    );
    let once = find(&rye, "much-active-at-once");
    assert!(once.message.contains("`spray`") && once.message.contains("sensitive"));
    // A cue that weeds call may call oftener than the ceiling has room for: four times in 92 days.
    let seen = "crabgrass-cover = \"3 %\"\nfrom = \"1 May\"\nto = \"31 Jul\"\nat-least-apart = 30";
    let often = find(&with(&meso("0.25 lb ai/ac"), seen), "much-active-in-a-year");
    assert!(often.message.contains("up to 1 lb ai/ac"), "{}", often.message);
    let three = with(
        "product = \"three-way-amine\"\nrate = \"1 lb ai/ac\"",
        "on = [\"15 Apr\", \"1 Jun\", \"1 Oct\"]",
    );
    let three = find(&three, "many-sprays-in-a-year");
    assert!(three.message.contains("3 times"), "{}", three.message);
    let soon = with(&meso("0.125 lb ai/ac"), "on = [\"15 Jun\", \"22 Jun\"]");
    let soon = find(&soon, "odd-sequence");
    assert!(soon.message.contains("7 days") && soon.expected.contains("14 days"));
}

/// The label that the user typed is held to, and typical figures stay where they are stricter.
#[test]
fn neither_the_label_nor_the_typical_figure_is_loosened() {
    let text = |label: &str| {
        with(
            &format!(
                "product = \"mesotrione-post-4\"\nrate = \"0.25 lb ai/ac\"\nlabel = {{ {label} }}"
            ),
            &format!("on = [\"15 Jun\", \"10 Jul\", \"10 Aug\"]\n{HELD}"),
        )
    };
    let strict = text("once = \"0.2 lb ai/ac\"");
    let over = only_error(&strict).0;
    assert_eq!(over.code, "over-label");
    // What passes the label as well is an error; what passes the stricter typical figure alone is told.
    assert_eq!(only_error(&text("year = \"0.6 lb ai/ac\"")).0.code, "over-label");
    let year = text("year = \"0.8 lb ai/ac\"");
    let year = find(&year, "much-active-in-a-year");
    assert!(year.expected.contains("at most 0.5"), "{}", year.expected);
    assert!(year.expected.contains("stricter than the figure that you gave"), "{}", year.expected);
    assert_eq!(only_error(&text("year = \"0.4 lb ai/ac\"")).0.code, "over-label");
    assert_eq!(only_error(&text("times = 2")).0.code, "over-label");
    let fits = "once = \"0.25 lb ai/ac\", year = \"0.5 lb ai/ac\"";
    let fits = swapped(&text(fits), "\"15 Jun\", \"10 Jul\", \"10 Aug\"", "\"15 Jun\", \"10 Jul\"");
    assert!(read(&fits).label_read);
    let longer = with(
        "product = \"quinclorac-df-75\"\nrate = \"0.75 lb ai/ac\"\nlabel = { hottest = \"75 degF\" }",
        &format!("on = \"15 Jun\"\n{HELD}"),
    );
    let heat = find(&longer, "spray-in-heat");
    assert!(heat.expected.contains("75 degF") && heat.expected.contains("your label"));
}

/// Seed both ways: four weeks after the mix (label text), one day after mesotrione (Purdue).
#[test]
fn seed_near_a_spray_is_told() {
    let sown = |what: &str, when: &str| {
        let seed = "[[program.practice]]\nkey = \"seed\"\ndo = \"overseed\"\nrate = \"4 lb/1000 ft2\"\n\
                    seed = { kind = \"tall fescue\" }\non = \"1 Sep\"\n";
        format!("{}{seed}", with(what, when))
    };
    let mix = "product = \"three-way-amine\"\nrate = \"1 lb ai/ac\"";
    let before = find(&sown(mix, "on = \"18 Aug\""), "seed-near-spray");
    assert!(before.message.contains("`seed` comes 14 days after `spray`"), "{}", before.message);
    assert!(before.expected.contains("28 days"), "{}", before.expected);
    assert!(before.help.unwrap().contains("carfentrazone"));
    let after = find(&sown(mix, "on = \"1 Oct\""), "seed-near-spray");
    assert!(after.message.contains("`spray` comes 30 days after `seed`"), "{}", after.message);
    assert!(after.help.unwrap().starts_with("spray later"));
    let mesotrione = "product = \"mesotrione-post-4\"\nrate = \"0.2 lb ai/ac\"";
    assert!(!codes(&sown(mesotrione, "on = \"31 Aug\"")).contains(&"seed-near-spray"));
}

#[test]
fn what_hurts_the_grass_is_told() {
    let sulfentrazone = "product = \"sulfentrazone-liquid-4\"\nrate = \"0.2 lb ai/ac\"";
    let urea = "[[program.practice]]\nkey = \"feed\"\ndo = \"spread\"\nproduct = \"urea-46-0-0\"\n\
                nitrogen = \"0.5 lb N/1000 ft2\"\non = \"DAY\"\n";
    let fed = |day: &str| {
        format!("{}{}", with(sulfentrazone, "on = \"15 Jun\""), urea.replace("DAY", day))
    };
    let near = find(&fed("8 Jun"), "sulfentrazone-and-urea");
    assert!(near.message.contains("`spray`") && near.message.contains("`feed`"));
    assert!(codes(&fed("22 Jun")).contains(&"sulfentrazone-and-urea"));
    assert!(!codes(&fed("1 May")).contains(&"sulfentrazone-and-urea"));
    let bluegrass = swapped(&fed("8 Jun"), "tall fescue", "Kentucky bluegrass");
    assert!(!codes(&bluegrass).contains(&"sulfentrazone-and-urea"));
    let bentazon =
        with("product = \"bentazon-liquid-4\"\nrate = \"1 lb ai/ac\"", "on = \"15 Jun\"");
    assert!(!codes(&bentazon).contains(&"hurts-grass"));
    let rye = find(&swapped(&bentazon, "tall fescue", "perennial ryegrass"), "hurts-grass");
    assert!(rye.message.contains("perennial ryegrass"), "{}", rye.message);
}

/// Dithiopyr also takes young crabgrass, until it tillers (label text).
#[test]
fn dithiopyr_is_late_once_crabgrass_tillers() {
    let wall = |active: &str, day: &str| {
        format!(
            "{MINIMAL}[[program.practice]]\nkey = \"wall\"\ndo = \"pre-emergent\"\nactive = \"{active}\"\n\
             carrier = \"spray\"\nrate = \"0.5 lb ai/ac\"\nwater-in = \"0.5 in\"\non = \"{day}\"\n"
        )
    };
    assert!(codes(&wall("prodiamine", "25 May")).contains(&"late-barrier"));
    assert!(!codes(&wall("dithiopyr", "25 May")).contains(&"late-barrier"));
    let late = find(&wall("dithiopyr", "20 Jun"), "late-barrier");
    assert!(late.message.contains("tiller") && late.help.unwrap().contains("do = \"spray\""));
}
