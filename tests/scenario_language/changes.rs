//! Programs that change one thing in another.

use super::*;
use sim::calendar::MonthDay;
use sim::scenario::Cue;

/// A split lays the same total, half of it so many days after the first half.
#[test]
fn a_split_halves_the_rate_and_keeps_the_total() {
    let checked = good(THIN);
    let single = barrier_rates(&checked.scenario, 1);
    let split = barrier_rates(&checked.scenario, 2);
    assert_eq!(single.len(), 1);
    assert_eq!(
        split.iter().map(|b| b.0.as_str()).collect::<Vec<_>>(),
        ["barrier", "barrier/second"]
    );
    // 1 lb/ac is 1.120851 kg/ha (NIST SP 811).
    close(single[0].1, 0.5 * 1.120_851_156);
    close(split.iter().map(|b| b.1).sum(), single[0].1);
    close(split.iter().map(|b| b.2).sum(), single[0].2);
    let second = &checked.scenario.programs[2].practices[2];
    assert_eq!(second.cue, Cue::DaysAfter { practice: 1, days: 56 });
}

#[test]
fn a_dropped_practice_that_another_waits_for_is_told_at_the_change() {
    let text = swapped(
        THIN,
        "on = [\"10 May\", \"10 Sep\"]",
        "days-after = { practice = \"barrier\", days = 30 }",
    );
    let text = swapped(&text, "practice = \"mow\"\nevery = \"5 days\"", "drop = \"barrier\"");
    let first = errors(&text)[0];
    assert_eq!(first.1, "unknown-practice");
    let line = text.lines().nth(first.0 - 1).unwrap();
    assert_eq!(line, "[[program.change]]");
}

#[test]
fn changes_of_every_form() {
    let base = "\n[[program]]\nid = \"b\"\nbased-on = \"a\"\n";
    let words = |change: &str| {
        let text = format!("{MINIMAL}{base}{change}");
        good(&text).scenario.programs[1].difference.clone()
    };
    assert_eq!(
        words("[program.change]\npractice = \"mow\"\nheight = \"3 in\"\n"),
        "mow: height 3 in instead of 80 mm"
    );
    assert_eq!(
        words("[[program.change]]\npractice = \"mow\"\nclippings = \"bagged\"\n"),
        "mow: clippings bagged instead of returned"
    );
    assert_eq!(
        words("[program.change]\npractice = \"mow\"\ncanopy-height = \"4 in\"\n"),
        "mow: when the grass stands 4 in high instead of every 7 days"
    );
    assert_eq!(
        words(
            "[program.change.add]\nkey = \"water\"\ndo = \"water\"\ndepth = \"1 in\"\n\
             dry-soil = \"40 %\"\nfrom = \"1 Jun\"\nto = \"31 Aug\"\n"
        ),
        "water added: when soil water is down to 40 %, 1 Jun to 31 Aug"
    );
}

#[test]
fn another_way_to_say_when_takes_the_place_of_the_old_one() {
    let text = format!(
        "{MINIMAL}\n[[program]]\nid = \"b\"\nbased-on = \"a\"\n[program.change]\n\
         practice = \"mow\"\non = [\"1 May\", \"1 Jul\"]\n"
    );
    let days = [MonthDay { month: 5, day: 1 }, MonthDay { month: 7, day: 1 }];
    assert_eq!(good(&text).scenario.programs[1].practices[0].cue, Cue::Dates(days.to_vec()));
}

/// Another product at its own rate is one choice, and the old price does not stick to it.
#[test]
fn another_product_brings_its_own_price() {
    let change = |new: &str| swapped(THIN, "split = \"8 weeks\"", new);
    let price = |text: &str, program: usize| {
        let scenario = good(text).scenario;
        match &scenario.programs[program].practices[1].what {
            What::PreEmergent { product, .. } => product.price_per_m2,
            _ => panic!("the second practice is the barrier"),
        }
    };
    let stated = "product = \"prodiamine-wg-65\"\nrate = \"0.65 lb ai/ac\"";
    let plain = price(&change(stated), 2);
    let dear = swapped(
        &change(stated),
        "rate = \"0.5 lb ai/ac\"",
        "rate = \"0.5 lb ai/ac\"\nprice = \"9 $/1000 ft2\"",
    );
    close(price(&dear, 1), 9.0 / 92.903_04);
    close(price(&dear, 2), plain);
    let by_active = change("active = \"prodiamine\"\ncarrier = \"granule\"");
    assert_eq!(
        good(&by_active).scenario.programs[2].difference,
        "barrier: prodiamine as granule instead of dithiopyr-liquid-2"
    );
}

/// Two faults of one kind in one program are both told.
#[test]
fn every_cue_that_names_nobody_is_told() {
    let text = swapped(
        THIN,
        "on = [\"10 May\", \"10 Sep\"]",
        "days-after = { practice = \"nobody\", days = 3 }",
    );
    let text = swapped(
        &text,
        "every = \"14 days\"\nfrom = \"10 Apr\"\nto = \"5 Nov\"",
        "days-after = { practice = \"someone\", days = 3 }",
    );
    let text = &text[..text.find("# The same lawn").unwrap()];
    assert_eq!(
        errors(text).iter().map(|e| e.1).collect::<Vec<_>>(),
        ["unknown-practice", "unknown-practice"]
    );
}
