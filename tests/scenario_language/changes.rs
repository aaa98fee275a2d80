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

/// A variant of the minimal scenario: its difference, or its one error and what the error points at.
fn variant(base: &str, change: &str) -> String {
    format!("{base}\n[[program]]\nid = \"b\"\nbased-on = \"a\"\n[program.change]\n{change}\n")
}

#[test]
fn a_key_may_be_taken_out() {
    let held = MINIMAL.replace("every = 7", "every = 7\nhold = [\"dormant\"]\ngive-up = 3");
    let checked = good(&variant(&held, "practice = \"mow\"\nwithout = \"hold\""));
    assert_eq!(checked.scenario.programs[1].difference, "mow: no hold");
    assert!(checked.scenario.programs[1].practices[0].holds.is_empty());
    let checked = good(&variant(&held, "practice = \"mow\"\nwithout = \"give-up\""));
    assert_eq!(checked.scenario.programs[1].practices[0].give_up_days, 7);
    // Back from a split to the whole, which is the program before it again.
    let whole = swapped(
        THIN,
        "split = \"8 weeks\"",
        "split = \"8 weeks\"\n[[program]]\nid = \"whole\"\nbased-on = \"split\"\n[[program.change]]\npractice = \"barrier\"\nwithout = \"split\"",
    );
    let programs = good(&whole).scenario.programs;
    assert_eq!(programs[3].practices, programs[1].practices);
    assert_eq!(programs[3].difference, "barrier: all at once instead of in two halves");
}

#[test]
fn what_cannot_be_taken_out_is_told() {
    let cases = [
        ("practice = \"mow\"\nwithout = \"hold\"", "unknown-key", "`mow` has no `hold`"),
        ("practice = \"mow\"\nwithout = \"height\"", "unknown-key", "cannot be without `height`"),
        ("practice = \"mow\"\nwithout = \"evry\"", "unknown-key", "`mow` has no `evry`"),
        (
            "practice = \"mow\"\nwithout = \"every\"\nevery = 3",
            "more-than-one-change",
            "two changes",
        ),
        ("practice = \"mow\"\nwithout = 3", "wrong-type", "`without` is not a text"),
        ("practice = \"mow\"\ndo = \"water\"", "more-than-one-change", "another practice"),
        ("practice = \"mow\"\nkey = \"cut\"", "more-than-one-change", "another practice"),
        ("drop = \"mwo\"", "unknown-practice", "no practice \"mwo\""),
        ("drop = \"mow\"\nevery = 3", "unknown-key", "`every`"),
        ("add = \"mow\"", "wrong-type", "not a practice"),
        (
            "add = { key = \"mow\", do = \"water\", depth = \"1 in\", on = \"1 Jul\" }",
            "duplicate-id",
            "already",
        ),
        ("add = { key = \"w\", do = \"water\", on = \"1 Jul\" }", "missing-key", "`depth`"),
        ("add = { key = \"w\", do = \"water\", depth = \"1 in\" }", "no-cue", "when it happens"),
        ("drop = \"mow\"\nadd = { key = \"w\" }", "more-than-one-change", "changes of their own"),
        ("every = 3", "no-change", "does not say what it changes"),
    ];
    for (change, code, words) in cases {
        let (fault, _) = only_error(&variant(MINIMAL, change));
        assert_eq!(fault.code, code, "{change}: {}", fault.message);
        assert!(fault.message.contains(words), "{change}: {}", fault.message);
    }
    let (fault, at) = only_error(&variant(MINIMAL, "practice = \"mow\"\nwithout = \"evry\""));
    assert_eq!((fault.help.as_deref(), at.as_str()), (Some("did you mean \"every\"?"), "\"evry\""));
}

/// No care at all is a program; dropping the only practice makes it.
#[test]
fn the_last_practice_may_go() {
    let checked = good(&variant(MINIMAL, "drop = \"mow\""));
    assert!(checked.scenario.programs[1].practices.is_empty());
    assert_eq!(checked.scenario.programs[1].difference, "no mow");
}

/// Every key of every practice can be the one change, where it has another value.
#[test]
fn each_key_of_a_practice_can_be_the_one_change() {
    let feed = "key = \"feed\"\ndo = \"spread\"\nproduct = \"blend-24-0-11\"\nnitrogen = \"0.75 lb N/1000 ft2\"\non = \"1 Sep\"";
    let coat = "key = \"coat\"\ndo = \"topdress\"\ndepth = \"1/4 in\"\non = \"1 Sep\"";
    let wet = "key = \"wet\"\ndo = \"water\"\ndepth = \"1 in\"\ndry-soil = \"40 %\"\nfrom = \"1 Jun\"\nto = \"31 Aug\"";
    let bar = "key = \"bar\"\ndo = \"pre-emergent\"\nproduct = \"dithiopyr-liquid-2\"\nrate = \"0.5 lb ai/ac\"\nsoil-temperature = \"50 degF\"\nfrom = \"1 Mar\"\nto = \"10 May\"";
    let base = [feed, coat, wet, bar]
        .iter()
        .fold(MINIMAL.to_string(), |all, one| format!("{all}[[program.practice]]\n{one}\n"));
    for (practice, new) in [
        ("feed", "product = \"urea-46-0-0\""),
        ("feed", "analysis = \"30-0-4\""),
        ("feed", "nitrogen = \"0.5 lb N/1000 ft2\""),
        ("feed", "rate = \"2 lb/1000 ft2\""),
        ("feed", "on = [\"1 May\", \"1 Sep\"]"),
        ("feed", "slow = \"80 %\""),
        ("feed", "water-in = \"0.25 in\""),
        ("feed", "price = \"3 $/lb N\""),
        ("feed", "days-after = { practice = \"bar\", days = 30 }"),
        ("coat", "depth = \"1/2 in\""),
        ("coat", "price = \"45 $/yd3\""),
        ("wet", "depth = \"0.5 in\""),
        ("wet", "dry-soil = \"60 %\""),
        ("wet", "at-least-apart = 4"),
        ("wet", "hold = [\"rain in 3 days 0.5 in\"]"),
        ("bar", "product = \"prodiamine-wg-65\"\nrate = \"0.65 lb ai/ac\""),
        ("bar", "active = \"prodiamine\"\ncarrier = \"granule\"\nstrength = \"0.43 %\""),
        ("bar", "rate = \"0.4 lb ai/ac\""),
        ("bar", "split = 56"),
        ("bar", "soil-temperature = \"55 degF\""),
        ("bar", "for = 5"),
        ("bar", "from = \"1 Apr\""),
        ("bar", "on = \"1 Apr\""),
        ("bar", "give-up = 5"),
        ("bar", "label = { once = \"0.5 lb ai/ac\" }"),
    ] {
        let text = variant(&base, &format!("practice = \"{practice}\"\n{new}"));
        let scenario = good(&text).scenario;
        let [a, b] = &scenario.programs[..] else { panic!("two programs") };
        assert!(b.difference.starts_with(&format!("{practice}: ")), "{new}: {}", b.difference);
        let kept = |p: &&sim::scenario::Practice| !p.key.starts_with(practice);
        let others = |p: &sim::scenario::Program| {
            p.practices.iter().filter(kept).cloned().collect::<Vec<_>>()
        };
        assert_eq!(others(a), others(b), "{new}");
    }
}
