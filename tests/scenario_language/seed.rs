//! Overseeding as written, its faults and cautions; and release times that are not known exactly.

use super::*;
use sim::scenario::{Grass, Uncertain};
use sim::work::Sowing;

const SOWN: &str = r#"
[[program.practice]]
key = "overseed"
do = "overseed"
seed = [{ kind = "perennial ryegrass", share = "70 %" }, { kind = "Kentucky bluegrass", share = "30 %" }]
rate = "3 lb/1000 ft2"
method = "raked"
on = "1 Sep"
water-in = "1/4 in"
"#;

fn sown(more: &str) -> String {
    format!("{MINIMAL}{SOWN}{more}")
}

/// 3 lb/1000 ft2 are 14.65 g/m2. Prices of seed: the middle of 4-7 and of 7-12 $/lb.
#[test]
fn a_sowing_is_read_as_written() {
    let s = good(&sown("")).scenario;
    let What::Overseed { seed, pure_live_seed, method, water_in_mm, product } =
        &s.programs[0].practices[1].what
    else {
        panic!("it sows");
    };
    let pound = 453.592_37 / 92.903_04;
    let kinds: Vec<_> = seed.kinds().collect();
    assert_eq!((kinds[0].0, kinds[1].0), (Grass::PerennialRyegrass, Grass::KentuckyBluegrass));
    close(kinds[0].1, 0.7 * 3.0 * pound);
    close(kinds[1].1, 0.3 * 3.0 * pound);
    close(seed.total_g_m2(), product.amount_per_m2);
    close(*pure_live_seed, 0.81);
    close(*water_in_mm, 6.35);
    assert_eq!(*method, Sowing::Raked);
    close(product.price_per_m2 * 92.903_04, 3.0 * (0.7 * 5.5 + 0.3 * 9.5));
    assert_eq!(product.name, "perennial ryegrass and Kentucky bluegrass seed");
    // The lawn's own grass, then those that are sown into it.
    assert_eq!(
        s.lawn.grasses,
        [
            (Grass::TallFescue, 1.0),
            (Grass::PerennialRyegrass, 0.0),
            (Grass::KentuckyBluegrass, 0.0)
        ]
    );
}

/// Cornell: 1.5 million bluegrass seeds a pound, so that 2 lb/1000 ft2 lay 3,000 seeds a square
/// foot, and 95 % purity by 85 % germination are 81 % pure live seed. A lawn of 6,000 ft2 takes 12 lb
/// of it, at 8 $/lb 96 $.
#[test]
fn seed_for_an_area_by_cornells_figures() {
    let text = swapped(MINIMAL, "area = \"500 m2\"", "area = \"6000 ft2\"");
    let sowing = "[[program.practice]]\nkey = \"seed\"\ndo = \"overseed\"\nrate = \"2 lb/1000 ft2\"\n\
                  seed = { kind = \"kentucky-bluegrass\" }\nprice = \"8 $/lb\"\non = \"1 Sep\"\n";
    let s = good(&format!("{text}{sowing}")).scenario;
    let What::Overseed { seed, pure_live_seed, product, .. } = &s.programs[0].practices[1].what
    else {
        panic!("it sows");
    };
    let p = sim::parameters::Catalogue::embedded().central();
    let at = sim::parameters::GRASSES.iter().position(|g| g.0 == Grass::KentuckyBluegrass).unwrap();
    let per_ft2 = seed.total_g_m2() * 1000.0 / p.grass_seeds[at].mass_mg * 0.092_903_04;
    assert!((per_ft2 / 3000.0 - 1.0).abs() < 0.05, "{per_ft2} seeds a square foot");
    assert!((*pure_live_seed - 0.95 * 0.85).abs() < 0.005);
    let pounds = product.amount_per_m2 * s.lawn.area_m2 / 453.592_37;
    assert!((pounds - 12.0).abs() < 1e-6, "{pounds} lb");
    close(product.price_per_m2 * s.lawn.area_m2, 96.0);
}

#[test]
fn each_fault_of_a_sowing_has_its_code_its_line_and_a_near_miss() {
    let head = MINIMAL.lines().count();
    for (from, to, line, code, help) in [
        ("do = \"overseed\"", "do = \"oversed\"", 4, "not-a-choice", "overseed"),
        ("rate = \"3 lb/1000 ft2\"", "rat = \"3 lb/1000 ft2\"", 6, "unknown-key", "rate"),
        ("\"3 lb/1000 ft2\"", "\"3 lb\"", 6, "bad-quantity", ""),
        ("\"3 lb/1000 ft2\"", "\"3 lb N/1000 ft2\"", 6, "bad-quantity", ""),
        ("\"3 lb/1000 ft2\"", "\"300 lb/1000 ft2\"", 6, "out-of-range", ""),
        ("\"raked\"", "\"rakd\"", 7, "not-a-choice", "raked"),
        ("perennial ryegrass", "perenial ryegrass", 5, "unknown-grass", "perennial ryegrass"),
        ("perennial ryegrass", "kentucky bluegrass", 5, "duplicate-grass", ""),
        ("\"70 %\"", "\"60 %\"", 5, "shares-do-not-add-up", ""),
        (
            "[{ kind = \"perennial ryegrass\", ",
            "[{ kind = \"tall fescue\" }, { kind = \"perennial ryegrass\", ",
            5,
            "too-many",
            "",
        ),
        ("water-in = \"1/4 in\"", "split = \"3 weeks\"", 9, "unknown-key", ""),
        ("water-in = \"1/4 in\"", "price = \"9000 $/lb\"", 9, "out-of-range", ""),
        ("water-in = \"1/4 in\"", "price = \"6 $/lb N\"", 9, "bad-quantity", ""),
        ("water-in = \"1/4 in\"", "pure-live-seed = \"120 %\"", 9, "out-of-range", ""),
        ("on = \"1 Sep\"", "on = \"1 Sept 2026\"", 8, "bad-day", ""),
    ] {
        let text = swapped(&sown(""), from, to);
        let faults = bad(&text);
        let found = faults.iter().find(|f| f.code == code);
        let found = found.unwrap_or_else(|| panic!("{to}: no {code}\n{}", told(&text, &faults)));
        assert_eq!(line_of(&text, &found.span), head + line, "{to}");
        assert!(found.help.clone().unwrap_or_default().contains(help), "{to}: {:?}", found.help);
    }
    let (fault, _) = only_error(&swapped(&sown(""), "rate = \"3 lb/1000 ft2\"\n", ""));
    assert_eq!(fault.code, "missing-key");
}

#[test]
fn a_change_of_seed_takes_its_price_along() {
    let text = sown(
        "price = \"5 $/lb\"\n[[program]]\nid = \"b\"\nbased-on = \"a\"\n[program.change]\npractice = \"overseed\"\nseed = { kind = \"tall fescue\" }\nrate = \"5 lb/1000 ft2\"\n",
    );
    let s = good(&text).scenario;
    assert_eq!(
        s.programs[1].difference,
        "overseed: tall fescue instead of perennial ryegrass 70 % and Kentucky bluegrass 30 %, \
         rate 5 lb/1000 ft2 instead of 3 lb/1000 ft2"
    );
    let What::Overseed { product, .. } = &s.programs[1].practices[1].what else {
        panic!("it sows");
    };
    close(product.price_per_m2 * 92.903_04, 5.0 * 6.0);
}

/// One caution or error about seed and barrier, whole.
fn about_seed(text: &str) -> Option<Fault> {
    let all = match check(text, PRODUCTS) {
        Ok(checked) => checked.cautions,
        Err(faults) => faults,
    };
    let mut near: Vec<Fault> =
        all.into_iter().filter(|f| ["seed-near-barrier", "over-label"].contains(&f.code)).collect();
    assert!(near.len() < 2, "{}", told(text, &near));
    near.pop()
}

fn barrier(when: &str) -> String {
    barrier_of("dithiopyr-liquid-2", "0.5 lb ai/ac", when)
}

fn barrier_of(product: &str, rate: &str, when: &str) -> String {
    format!(
        "[[program.practice]]\nkey = \"wall\"\ndo = \"pre-emergent\"\nproduct = \"{product}\"\n\
         rate = \"{rate}\"\nwater-in = \"0.5 in\"\n{when}\n"
    )
}

/// Dithiopyr's wait is 90 days before seeding; prodiamine's rises with the rate (products.toml).
#[test]
fn a_barrier_near_a_sowing_is_told_with_reason_and_mend() {
    let near = about_seed(&sown(&barrier("on = \"18 Aug\""))).unwrap();
    assert!(near.message.contains("`overseed` comes 14 days after `wall`"), "{}", near.message);
    assert!(near.message.contains("dithiopyr stops sown grass"), "{}", near.message);
    assert!(near.expected.contains("at least 90 days"), "{}", near.expected);
    assert!(near.expected.contains("label in your hand"), "{}", near.expected);
    let help = near.help.unwrap();
    assert!(help.contains("siduron") && help.contains("mesotrione"), "{help}");
    // 15 April to 1 September are 139 days.
    assert_eq!(about_seed(&sown(&barrier("on = \"15 Apr\""))), None);
    let prodiamine = |rate| barrier_of("prodiamine-wg-65", rate, "on = \"15 Apr\"");
    assert_eq!(about_seed(&sown(&prodiamine("0.38 lb ai/ac"))), None);
    assert!(about_seed(&sown(&prodiamine("0.5 lb ai/ac"))).is_some());
    let safe = barrier_of("siduron-wp-50", "6 lb ai/ac", "on = \"1 Sep\"");
    assert_eq!(about_seed(&sown(&safe)), None);
    let safe = barrier_of("mesotrione-liquid-4", "0.2 lb ai/ac", "on = \"31 Aug\"");
    assert_eq!(about_seed(&sown(&safe)), None);
}

#[test]
fn a_barrier_soon_after_a_sowing_is_told_too() {
    let after = "days-after = { practice = \"overseed\", days = 10 }";
    let near = about_seed(&sown(&barrier(after))).unwrap();
    assert!(near.message.contains("`wall` comes 10 days after `overseed`"), "{}", near.message);
    assert!(near.message.contains("not up yet"), "{}", near.message);
    assert!(near.help.unwrap().starts_with("lay the barrier later"));
    let far = "days-after = { practice = \"overseed\", days = 60 }";
    assert_eq!(about_seed(&sown(&barrier(far))), None);
    // Next spring is far enough from this fall.
    assert_eq!(about_seed(&sown(&barrier("on = \"20 Mar\""))), None);
}

/// A cue that waits for the weather is taken by the days on which it may fall.
#[test]
fn windows_say_may() {
    let warm = "soil-temperature = \"50 degF\"\nfrom = \"10 Mar\"\nto = \"10 Jun\"";
    let near = about_seed(&sown(&barrier(warm))).unwrap();
    // 10 June to 1 September are 83 days.
    assert!(near.message.contains("may come as soon as 83 days after"), "{}", near.message);
    let early = warm.replace("10 Jun", "1 Jun");
    assert_eq!(about_seed(&sown(&barrier(&early))), None);
    // The same cue leads both: how far apart they are is known, whenever it falls.
    let follows = swapped(
        &sown(&barrier(&early)),
        "on = \"1 Sep\"",
        "days-after = { practice = \"wall\", days = 14 }",
    );
    let near = about_seed(&follows).unwrap();
    assert!(near.message.contains("comes 14 days after `wall`"), "{}", near.message);
    // Of a split barrier the half that comes last counts, and it is told once.
    let split = format!("{early}\nsplit = \"8 weeks\"");
    let near = about_seed(&sown(&barrier(&split))).unwrap();
    assert!(near.message.contains("after `wall`:"), "{}", near.message);
}

#[test]
fn the_users_own_label_is_held_to() {
    let label = |days: u32| {
        let when = format!("on = \"18 Aug\"\nlabel = {{ reseed = {days} }}");
        about_seed(&sown(&barrier(&when)))
    };
    // 90 days are typical: a shorter wait on the label does not stand alone.
    let looser = label(14).unwrap();
    assert_eq!((looser.code, looser.severity), ("seed-near-barrier", Severity::Caution));
    assert!(looser.expected.contains("at least 90 days"), "{}", looser.expected);
    assert!(looser.expected.contains("from memory, and stricter than the figure that you gave"));
    assert_eq!(label(120).unwrap().code, "over-label");
    let over = label(30).unwrap();
    assert_eq!((over.code, over.severity), ("over-label", Severity::Error));
    assert!(over.expected.contains("your label"), "{}", over.expected);
}

#[test]
fn rates_and_dry_seed_are_cautioned() {
    let codes = |text: &str| good(text).cautions.iter().map(|c| c.code).collect::<Vec<_>>();
    let plain = codes(&sown(""));
    assert!(plain.contains(&"seed-not-kept-moist"), "{plain:?}");
    assert!(!plain.contains(&"untypical-seed-rate"), "{plain:?}");
    for rate in ["0.5 lb/1000 ft2", "30 lb/1000 ft2"] {
        let text = swapped(&sown(""), "3 lb/1000 ft2", rate);
        assert!(codes(&text).contains(&"untypical-seed-rate"), "{rate}");
    }
    let kept = "[[program.practice]]\nkey = \"water\"\ndo = \"water\"\ndepth = \"4 mm\"\nevery = 1\n\
                from = \"1 Sep\"\nto = \"25 Sep\"\n";
    assert!(!codes(&sown(kept)).contains(&"seed-not-kept-moist"));
}

/// A release time may be a value, a range or low, likely and high; the practice holds the likeliest.
#[test]
fn a_release_time_may_be_a_range() {
    let feed = |lasts: &str| {
        format!(
            "{MINIMAL}[[program.practice]]\nkey = \"feed\"\ndo = \"spread\"\non = \"1 May\"\n\
             analysis = \"24-0-11\"\nslow = \"50 %\"\nnitrogen = \"0.7 lb N/1000 ft2\"\n\
             slow-lasts = {lasts}\n[[program]]\nid = \"b\"\nbased-on = \"a\"\n[program.change]\n\
             practice = \"mow\"\nevery = 5\n"
        )
    };
    let read = |lasts: &str| {
        let s = good(&feed(lasts)).scenario;
        let What::Spread { nitrogen, .. } = &s.programs[0].practices[1].what else {
            panic!("it spreads");
        };
        (nitrogen.coated_days, s.doubts.release_days)
    };
    assert_eq!(read("70"), (70.0, vec![]));
    assert_eq!(read("\"10 weeks\""), (70.0, vec![]));
    let key = || "feed".to_string();
    assert_eq!(read("[\"6 weeks\", 70]"), (56.0, vec![(key(), Uncertain::Range(42.0, 70.0))]));
    let triple = Uncertain::Triple(42.0, 56.0, 112.0);
    assert_eq!(read("{ low = 42, likely = 56, high = 112 }"), (56.0, vec![(key(), triple)]));
    for (lasts, code) in [
        ("[70, 42]", "reversed-range"),
        ("[42]", "wrong-type"),
        ("[42, 900]", "out-of-range"),
        ("\"6 in\"", "bad-quantity"),
    ] {
        let faults = bad(&feed(lasts));
        assert!(faults.iter().any(|f| f.code == code), "{lasts}: {}", told(&feed(lasts), &faults));
    }
}
