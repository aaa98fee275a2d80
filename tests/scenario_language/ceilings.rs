//! Ways around a ceiling, each of which the check must see: figures are those of `products.toml`, whose
//! sources stand beside them.

use super::*;
use sim::scenario::check_with_rules;

fn practice(key: &str, what: &str, when: &str) -> String {
    format!("[[program.practice]]\nkey = \"{key}\"\n{what}\n{when}\n")
}

fn barrier(key: &str, product: &str, rate: &str, when: &str) -> String {
    let what = format!(
        "do = \"pre-emergent\"\nproduct = \"{product}\"\nrate = \"{rate}\"\nwater-in = \"0.6 in\""
    );
    practice(key, &what, when)
}

fn spray(key: &str, product: &str, rate: &str, when: &str) -> String {
    practice(key, &format!("do = \"spray\"\nproduct = \"{product}\"\nrate = \"{rate}\""), when)
}

fn feed(key: &str, nitrogen: &str, when: &str) -> String {
    let what = format!(
        "do = \"spread\"\nanalysis = \"44-0-0\"\nslow = \"95 %\"\nslow-lasts = 90\n\
         nitrogen = \"{nitrogen} lb N/1000 ft2\"\nwater-in = \"1/4 in\""
    );
    practice(key, &what, when)
}

fn all(practices: &str) -> Vec<Fault> {
    let text = format!("{MINIMAL}{practices}");
    match check(&text, PRODUCTS) {
        Ok(checked) => checked.cautions,
        Err(faults) => faults,
    }
}

fn maybe(practices: &str, code: &str) -> Option<Fault> {
    all(practices).into_iter().find(|fault| fault.code == code)
}

fn find(practices: &str, code: &str) -> Fault {
    maybe(practices, code).unwrap_or_else(|| panic!("no {code}: {:#?}", all(practices)))
}

const TALL: &str = "prodiamine-wg-65";

/// Tall fescue bears 1.5 lb of prodiamine a year, and no more at once.
#[test]
fn a_high_figure_on_the_label_does_not_raise_the_rate() {
    let rate =
        |label: &str| barrier("wall", TALL, "1.6 lb ai/ac", &format!("on = \"1 Apr\"\n{label}"));
    let high = find(&rate("label = { once = \"2 lb ai/ac\" }"), "untypical-rate");
    assert!(high.message.contains("above the typical range"), "{}", high.message);
    assert!(high.expected.contains("stricter than the figure that you gave"), "{}", high.expected);
    let year = find(&rate("label = { year = \"3 lb ai/ac\" }"), "much-active-in-a-year");
    assert!(year.expected.contains("1.5 lb ai/ac") && year.expected.contains("from memory"));
    // What passes the label too is an error all the same.
    let over = find(&rate("label = { year = \"1.55 lb ai/ac\" }"), "over-label");
    assert_eq!(over.severity, Severity::Error);
}

/// A barrier that weeds call may be called thrice from May to July: at 0.6 lb that passes 1.5 lb.
#[test]
fn what_the_lawn_calls_counts_as_often_as_it_may() {
    let when = "crabgrass-cover = \"3 %\"\nfrom = \"1 May\"\nto = \"31 Jul\"\nat-least-apart = 40";
    let often = find(&barrier("wall", TALL, "0.6 lb ai/ac", when), "much-active-in-a-year");
    assert!(often.message.contains("up to 1.8 lb ai/ac"), "{}", often.message);
    // A spray behind each mowing is due every week.
    let chained = "days-after = { practice = \"mow\", days = 2 }";
    let chained = spray("hunt", "mesotrione-post-4", "0.125 lb ai/ac", chained);
    assert!(find(&chained, "odd-sequence").message.contains("again after 7 days"));
    assert!(find(&chained, "much-active-in-a-year").message.contains("`hunt`"));
    // Nitrogen too: 61 days at least 10 apart make seven times 0.7 lb.
    let grown = "canopy-height = \"5 in\"\nfrom = \"1 May\"\nto = \"30 Jun\"\nat-least-apart = 10";
    let fed = find(&feed("green", "0.7", grown), "much-nitrogen-in-a-year");
    assert!(fed.message.contains("lays up to 4.9 lb"), "{}", fed.message);
}

/// Both mixes hold 2,4-D, and two broadcasts a year are what labels allow.
#[test]
fn one_ingredient_in_two_products_is_one() {
    let amine = spray("fall", "three-way-amine", "1 lb ai/ac", "on = [\"15 Apr\", \"1 Oct\"]");
    let ester =
        |day: &str| spray("late", "three-way-ester", "1 lb ai/ac", &format!("on = \"{day}\""));
    assert_eq!(maybe(&amine, "many-sprays-in-a-year"), None);
    let both = find(&format!("{amine}{}", ester("15 Nov")), "many-sprays-in-a-year");
    assert!(both.message.contains("`fall` and `late`: 2,4-D goes out up to 3 times"));
    let near = find(&format!("{amine}{}", ester("10 Oct")), "odd-sequence");
    assert!(near.message.contains("`late` comes 9 days after `fall`"), "{}", near.message);
    assert!(near.expected.contains("28 days between two of 2,4-D"), "{}", near.expected);
    // The label's count takes a barrier of the same active ingredient along.
    let meso = barrier("wall", "mesotrione-liquid-4", "0.125 lb ai/ac", "on = \"15 Apr\"");
    let twice = "on = [\"15 Jun\", \"10 Jul\"]\nlabel = { times = 2 }";
    let twice = spray("spray", "mesotrione-post-4", "0.125 lb ai/ac", twice);
    assert_eq!(maybe(&twice, "over-label"), None);
    assert_eq!(find(&format!("{meso}{twice}"), "over-label").severity, Severity::Error);
}

/// Fine fescue bears 0.156 lb of mesotrione at once (labels, from memory), as a barrier too.
#[test]
fn the_most_sensitive_grass_rules_a_barrier_at_once() {
    let meso = barrier("wall", "mesotrione-liquid-4", "0.25 lb ai/ac", "on = \"15 Apr\"");
    assert_eq!(maybe(&meso, "much-active-at-once"), None);
    let mixed = swapped(
        MINIMAL,
        "[{ kind = \"tall fescue\" }]",
        "[{ kind = \"tall fescue\", share = \"95 %\" }, { kind = \"fine fescue\", share = \"5 %\" }]",
    );
    let on_mixed = |practices: &str, code: &str| {
        let cautions = good(&format!("{mixed}{practices}")).cautions;
        cautions.into_iter().find(|fault| fault.code == code)
    };
    let once = on_mixed(&meso, "much-active-at-once").expect("told");
    assert!(once.expected.contains("at most 0.156 lb ai/ac"), "{}", once.expected);
    // Sown grass counts before it is up.
    let seed = practice(
        "seed",
        "do = \"overseed\"\nseed = { kind = \"fine fescue\" }\nrate = \"4 lb/1000 ft2\"",
        "on = \"15 Sep\"",
    );
    assert!(maybe(&format!("{meso}{seed}"), "much-active-at-once").is_some());
    let oxadiazon = barrier("wall", "oxadiazon-granule-2", "3 lb ai/ac", "on = \"15 Apr\"");
    assert_eq!(maybe(&oxadiazon, "hurts-grass"), None);
    assert!(on_mixed(&oxadiazon, "hurts-grass").is_some());
}

/// What follows a fall cue by 60 days may come in January for last year and in November for this.
#[test]
fn what_slips_into_the_new_year_counts_with_the_next() {
    let cue = "soil-temperature = \"50 degF\"\nfrom = \"1 Sep\"\nto = \"30 Nov\"";
    let first = feed("fall", "0.3", cue);
    let after = "days-after = { practice = \"fall\", days = 60 }";
    let second = barrier("wall", TALL, "0.8 lb ai/ac", after);
    let year = find(&format!("{first}{second}"), "much-active-in-a-year");
    assert!(year.message.contains("up to 1.6 lb ai/ac"), "{}", year.message);
    // The new year does not part two dates either.
    let dates = "on = [\"5 Jan\", \"28 Dec\"]";
    let near = find(&barrier("wall", TALL, "0.4 lb ai/ac", dates), "odd-sequence");
    assert!(near.message.contains("again after 8 days"), "{}", near.message);
}

/// One product has one label, whichever practice it is typed at.
#[test]
fn a_label_typed_once_holds_for_all_of_its_product() {
    let read = "on = \"1 Apr\"\nlabel = { once = \"0.5 lb ai/ac\" }";
    let first = barrier("early", TALL, "0.4 lb ai/ac", read);
    let second = barrier("late", TALL, "0.6 lb ai/ac", "on = \"15 Jun\"");
    let over = find(&format!("{first}{second}"), "over-label");
    assert!(over.message.contains("`late` lays 0.6 lb ai/ac"), "{}", over.message);
    let other = second.replace(TALL, "prodiamine-liquid-4");
    assert_eq!(maybe(&format!("{first}{other}"), "over-label"), None);
    // The year's figure counts all of the active ingredient, whoever's label it is on.
    let year = first.replace("once = \"0.5", "year = \"0.9");
    assert_eq!(find(&format!("{year}{other}"), "over-label").severity, Severity::Error);
}

/// Prodiamine's two passes lie 60 days apart at least (label text): 65 days on paper are 51 where a hold may
/// keep the first for two weeks; days-after counts from the day on which it was done.
#[test]
fn a_hold_may_push_a_pass_into_the_next() {
    let pair = |hold: &str, then: &str| {
        let first = barrier("early", TALL, "0.4 lb ai/ac", &format!("on = \"1 Apr\"\n{hold}"));
        format!("{first}{}", barrier("late", TALL, "0.4 lb ai/ac", then))
    };
    let rain = "hold = [\"rain coming 0.5 in\"]";
    assert_eq!(maybe(&pair("", "on = \"5 Jun\""), "odd-sequence"), None);
    let near = find(&pair(rain, "on = \"5 Jun\""), "odd-sequence");
    assert!(near.message.contains("within 51 days"), "{}", near.message);
    let follows = "days-after = { practice = \"early\", days = 65 }";
    assert_eq!(maybe(&pair(rain, follows), "odd-sequence"), None);
    // Windows of two practices, and a chain by way of a third.
    let window = "soil-temperature = \"60 degF\"\nfrom = \"1 May\"\nto = \"15 Jun\"";
    assert!(maybe(&pair("", window), "odd-sequence").is_some());
    let chain = format!(
        "{}{}{}",
        barrier("early", TALL, "0.4 lb ai/ac", "on = \"1 Apr\""),
        feed("feed", "0.5", "days-after = { practice = \"early\", days = 20 }"),
        barrier("late", TALL, "0.4 lb ai/ac", "days-after = { practice = \"feed\", days = 20 }")
    );
    let near = find(&chain, "odd-sequence");
    assert!(near.message.contains("`late` comes 40 days after `early`"), "{}", near.message);
}

/// Halves count together for the wait before seeding: 0.65 lb asks for 195 days, 0.33 lb for 120.
#[test]
fn two_halves_keep_seed_down_like_the_whole() {
    let seed = practice(
        "seed",
        "do = \"overseed\"\nseed = { kind = \"tall fescue\" }\nrate = \"5 lb/1000 ft2\"",
        "on = \"15 Sep\"",
    );
    let split = barrier("wall", TALL, "0.65 lb ai/ac", "on = \"1 Mar\"\nsplit = 65");
    let near = find(&format!("{split}{seed}"), "seed-near-barrier");
    // 1 March and 65 days is 5 May, 133 days before 15 September.
    assert!(near.message.contains("133 days after"), "{}", near.message);
    assert!(near.expected.contains("at least 195 days"), "{}", near.expected);
    let half = barrier("wall", TALL, "0.325 lb ai/ac", "on = \"5 May\"");
    assert_eq!(maybe(&format!("{half}{seed}"), "seed-near-barrier"), None);
}

/// Mesotrione goes down with the seed or four weeks after it is up, and not between (labels; McElroy 2007).
#[test]
fn what_goes_down_with_seed_may_not_follow_it_at_once() {
    let on = |day: &str| {
        let seed = practice(
            "seed",
            "do = \"overseed\"\nseed = { kind = \"tall fescue\" }\nrate = \"5 lb/1000 ft2\"",
            "on = \"1 Sep\"",
        );
        let wall =
            barrier("wall", "mesotrione-liquid-4", "0.2 lb ai/ac", &format!("on = \"{day}\""));
        maybe(&format!("{seed}{wall}"), "seed-near-barrier")
    };
    assert_eq!(on("1 Sep"), None);
    assert_eq!(on("20 Oct"), None);
    let young = on("20 Sep").expect("told");
    assert!(young.expected.contains("at least 42 days"), "{}", young.expected);
}

#[test]
fn nitrogen_laid_within_a_week_is_laid_at_once() {
    let two = |day: &str| {
        let second = feed("more", "0.6", &format!("on = \"{day}\""));
        format!("{}{second}", feed("feed", "0.6", "on = \"1 May\""))
    };
    let near = find(&two("4 May"), "much-nitrogen-at-once");
    assert!(near.message.contains("`feed` and `more` may come within a week"), "{}", near.message);
    assert!(near.message.contains("1.2 lb"), "{}", near.message);
    assert_eq!(maybe(&two("1 Jun"), "much-nitrogen-at-once"), None);
    let daily = feed("drip", "0.3", "every = 2\nfrom = \"1 May\"\nto = \"9 May\"");
    assert!(find(&daily, "much-nitrogen-at-once").message.contains("more than once within a week"));
}

/// The ceiling of the place takes all that comes within a week together too.
#[test]
fn a_rule_of_the_place_is_not_passed_in_two_trips() {
    let rules = "[local-rules]\nplace = \"Here\"\nsource = \"x\"\nchecked = \"22 Nov 2026\"\n\
                 nitrogen-once = \"1 lb N/1000 ft2\"\n";
    let told = |day: &str| {
        let fed = feed("feed", "0.6", "on = \"1 May\"");
        let more = feed("more", "0.6", &format!("on = \"{day}\""));
        let text = format!("{MINIMAL}{fed}{more}{rules}");
        let checked = check_with_rules(&text, PRODUCTS, "").unwrap_or_else(|f| panic!("{f:?}"));
        checked.cautions.into_iter().filter(|c| c.code == "local-rule").count()
    };
    assert_eq!((told("4 May"), told("1 Jun")), (1, 0));
}

/// Where nothing typical is known the check asks for the label, and is silent once it has it.
#[test]
fn an_active_ingredient_without_figures_is_not_waved_through() {
    let wall = |label: &str| {
        let what = format!(
            "do = \"pre-emergent\"\nactive = \"oryzalin\"\ncarrier = \"spray\"\nrate = \"2 lb ai/ac\"\n\
             water-in = \"0.5 in\"\n{label}"
        );
        practice("wall", &what, "on = \"1 Apr\"")
    };
    let unknown = find(&wall(""), "no-typical-figures");
    assert!(unknown.message.contains("`wall`") && unknown.message.contains("oryzalin"));
    assert!(unknown.expected.contains("once, year"), "{}", unknown.expected);
    let label = "label = { once = \"2 lb ai/ac\", year = \"4 lb ai/ac\", again = 60, \
                 water-in = \"0.5 in\", reseed = 120, after-seeding = 60 }";
    assert_eq!(maybe(&wall(label), "no-typical-figures"), None);
}

#[test]
fn what_comes_between_a_barrier_and_the_soil_is_told() {
    let compost = |day: &str| {
        practice("compost", "do = \"topdress\"\ndepth = \"1/4 in\"", &format!("on = \"{day}\""))
    };
    let wall = barrier("wall", TALL, "0.5 lb ai/ac", "on = \"10 Apr\"");
    let on = |day: &str| maybe(&format!("{}{wall}", compost(day)), "barrier-on-compost");
    let fresh = on("1 Apr").expect("told");
    assert!(fresh.message.contains("`wall`") && fresh.message.contains("`compost`"));
    assert!(fresh.help.unwrap().contains("after the barrier"));
    assert_eq!(on("15 Apr"), None);
    assert_eq!(on("1 Oct"), None);
    let granule = barrier("wall", "oxadiazon-granule-2", "3 lb ai/ac", "on = \"10 Apr\"");
    assert!(maybe(&granule, "granules-on-wet-leaf").is_some());
    assert_eq!(
        maybe(&format!("{granule}hold = [\"wet 0.02 in\"]\n"), "granules-on-wet-leaf"),
        None
    );
    // 0.38 lb ai/ac of 0.13 % is 6.7 lb/1000 ft2 of granules (trade table), a tenth of it 0.67 lb.
    let fed = barrier("wall", "dithiopyr-granule-0-13", "0.38 lb ai/ac", "on = \"10 Apr\"");
    let fed = find(&fed, "barrier-on-fertilizer");
    assert!(fed.message.contains("6.7") && fed.expected.contains("0.67"), "{fed:?}");
}

/// Only figures that the user typed, for once and for a year, put a practice among those held to its label.
#[test]
fn within_the_label_is_said_of_typed_figures_alone() {
    use swardplay::{units::Units, vet};
    let wall = |label: &str| {
        let wall = barrier("wall", TALL, "0.5 lb ai/ac", &format!("on = \"1 Apr\"\n{label}"));
        let scenario = good(&format!("{MINIMAL}{wall}")).scenario;
        let told = vet::verdict("x", &scenario, Units::Us);
        (
            vet::within_label(&scenario, Units::Us).len(),
            vet::unchecked(&scenario, Units::Us).len(),
            told,
        )
    };
    for label in ["", "label = { once = \"0.6 lb ai/ac\" }", "label = { year = \"0.6 lb ai/ac\" }"]
    {
        let (within, unchecked, told) = wall(label);
        assert_eq!((within, unchecked), (0, 1), "{label}");
        assert!(!told.to_lowercase().contains("within the label"), "{told}");
    }
    let (within, unchecked, told) =
        wall("label = { once = \"0.6 lb ai/ac\", year = \"0.6 lb ai/ac\" }");
    assert_eq!((within, unchecked), (1, 0));
    assert!(told.contains("Within the label figures that you gave"), "{told}");
}
