//! Practices that cannot happen, that come to nothing, or that work against each other: each is told once
//! with its mend, and sound ones are left alone.

use super::*;

/// Codes of what is said of a program with these practices beside its mowing.
fn codes(head: &str, practices: &str) -> Vec<&'static str> {
    let text = swapped(MINIMAL, "[[program]]", &format!("{head}\n[[program]]"));
    let text = format!("{text}{practices}");
    let all = good(&text).cautions.into_iter();
    all.filter(|f| f.severity == Severity::Caution)
        .inspect(|f| assert!(f.help.as_ref().is_some_and(|h| !h.is_empty()), "{f:?}"))
        .map(|f| f.code)
        .collect()
}

fn feed(more: &str) -> String {
    format!(
        "[[program.practice]]\nkey = \"feed\"\ndo = \"spread\"\nanalysis = \"46-0-0\"\nslow = \"0 %\"\n\
         nitrogen = \"0.7 lb N/1000 ft2\"\n{more}\n"
    )
}

const BARRIER: &str = "[[program.practice]]\nkey = \"barrier\"\ndo = \"pre-emergent\"\n\
                       product = \"prodiamine-wg-65\"\nrate = \"0.3 lb ai/ac\"\nwater-in = \"13 mm\"\n";

#[test]
fn what_never_happens_is_told_and_what_does_is_not() {
    let says = |practice: &str, code: &str| codes("", practice).contains(&code);
    let water = |more: &str| {
        format!(
            "[[program.practice]]\nkey = \"w\"\ndo = \"water\"\ndepth = \"15 mm\"\ndry-soil = \"40 %\"\n\
             from = \"1 May\"\nto = \"30 Sep\"\n{more}\n"
        )
    };
    let never = "never-happens";
    for (practice, told) in [
        (feed("on = \"1 Jan\"\nhold = [\"closed 1 Dec to 1 Apr\"]"), true),
        (feed("on = \"10 May\"\nhold = [\"closed 1 Dec to 1 Apr\"]"), false),
        // Due inside, but it can wait until the season opens.
        (feed("on = \"25 Mar\"\nhold = [\"closed 1 Dec to 1 Apr\"]"), false),
        (water("hold = [\"drier than 50 %\"]"), true),
        (water("hold = [\"drier than 20 %\"]"), false),
        (
            format!("{BARRIER}soil-temperature = \"95 degF\"\nfrom = \"1 Mar\"\nto = \"1 May\"\n"),
            true,
        ),
        (
            format!("{BARRIER}soil-temperature = \"50 degF\"\nfrom = \"1 Mar\"\nto = \"1 May\"\n"),
            false,
        ),
    ] {
        assert_eq!(says(&practice, never), told, "{practice}");
    }
    let low = "[[program.practice]]\nkey = \"trim\"\ndo = \"mow\"\nheight = \"80 mm\"\n\
               canopy-height = \"70 mm\"\nfrom = \"1 May\"\nto = \"30 Sep\"\n";
    assert!(says(low, never));
    assert!(!says(&low.replace("70 mm", "110 mm"), never));
}

#[test]
fn visit_days_must_leave_room() {
    let crew = "[crew]\nvisit-days = [\"Tue\"]\n";
    let mow = |window: &str| {
        format!(
            "[[program.practice]]\nkey = \"m\"\ndo = \"mow\"\nheight = \"80 mm\"\nevery = 7\n{window}\n"
        )
    };
    let short = mow("from = \"1 May\"\nto = \"4 May\"");
    assert!(codes(crew, &short).contains(&"never-happens"));
    assert!(!codes("", &short).contains(&"never-happens"));
    let hasty =
        mow("from = \"1 May\"\nto = \"30 Sep\"\nhold = [\"wet 0.5 in\"]\ngive-up = \"3 days\"");
    assert!(codes(crew, &hasty).contains(&"never-happens"));
    assert!(!codes(crew, &hasty.replace("3 days", "8 days")).contains(&"never-happens"));
}

#[test]
fn practices_that_fight_are_told() {
    let says = |practice: &str, code: &str| codes("", practice).contains(&code);
    assert!(says(&feed("on = \"5 Jul\""), "nitrogen-in-heat"));
    assert!(!says(&feed("on = \"5 Jul\"\nwater-in = \"1/4 in\""), "nitrogen-in-heat"));
    assert!(!says(&feed("on = \"5 Jul\"\nhold = [\"hotter than 85 degF\"]"), "nitrogen-in-heat"));
    assert!(!says(&feed("on = \"5 May\""), "nitrogen-in-heat"));
    let bag = "[[program.practice]]\nkey = \"bag\"\ndo = \"mow\"\nheight = \"80 mm\"\nclippings = \
               \"bagged\"\non = \"1 Jun\"\n";
    assert!(says(bag, "bagged-and-hungry"));
    let rich = feed("on = [\"1 May\", \"1 Sep\", \"10 Oct\"]");
    assert!(!says(&format!("{bag}{rich}"), "bagged-and-hungry"));
    let sown = |days: u32| {
        format!(
            "[[program.practice]]\nkey = \"seed\"\ndo = \"overseed\"\nseed = {{ kind = \"tall fescue\" }}\n\
             rate = \"6 lb/1000 ft2\"\non = \"1 Sep\"\n[[program.practice]]\nkey = \"first\"\ndo = \"mow\"\n\
             height = \"80 mm\"\ndays-after = {{ practice = \"seed\", days = {days} }}\n"
        )
    };
    assert!(says(&sown(1), "mow-on-seed"));
    assert!(!says(&sown(28), "mow-on-seed"));
    let winter =
        "[[program.practice]]\nkey = \"late\"\ndo = \"mow\"\nheight = \"80 mm\"\non = \"5 Jan\"\n";
    assert!(says(winter, "mow-in-winter"));
    assert!(!says(&format!("{winter}hold = [\"nothing to cut\"]\n"), "mow-in-winter"));
}

/// Two passes of one active on known days, in one practice or in two, are held to the sequence of 60 to 90
/// days; a fall pass is no sequence.
#[test]
fn passes_on_dates_are_held_to_the_sequence() {
    let says = |text: &str| codes("", text).iter().filter(|c| **c == "odd-sequence").count();
    let twice = |second: &str| format!("{BARRIER}on = [\"1 Apr\", \"{second}\"]\n");
    assert_eq!(says(&twice("20 Apr")), 1);
    assert_eq!(says(&twice("10 Jun")), 0);
    assert_eq!(says(&twice("5 Sep")), 0);
    let other = BARRIER.replace("\"barrier\"", "\"again\"").replace("wg-65", "granule-0-43");
    let two = format!("{BARRIER}on = \"1 Apr\"\n{other}on = \"20 Apr\"\n");
    assert_eq!(says(&two), 1);
}

/// What waits for a practice that never comes never comes either, however long the chain, and the reason
/// is told: a hold, a rule of the place, weeds that the lawn does not have.
#[test]
fn what_follows_the_impossible_is_told() {
    let after = |key: &str, first: &str| {
        format!(
            "[[program.practice]]\nkey = \"{key}\"\ndo = \"water\"\ndepth = \"6 mm\"\n\
             days-after = {{ practice = \"{first}\", days = 3 }}\n"
        )
    };
    let never = |head: &str, practices: &str| -> Vec<String> {
        let text = swapped(MINIMAL, "[[program]]", &format!("{head}\n[[program]]"));
        let all = good(&format!("{text}{practices}")).cautions.into_iter();
        all.filter(|f| f.code == "never-happens").map(|f| f.message).collect()
    };
    let shut = feed("on = \"1 Jan\"\nhold = [\"closed 1 Dec to 1 Apr\"]");
    let chain = format!("{shut}{}{}", after("soak", "feed"), after("again", "soak"));
    let told = never("", &chain);
    assert_eq!(told.len(), 3, "{told:?}");
    assert!(told[1].contains("`soak` is never done: it waits for `feed`"), "{told:?}");
    assert!(told[2].contains("`again` is never done: it waits for `feed`"), "{told:?}");
    let open = chain.replace("1 Jan", "1 May");
    assert_eq!(never("", &open), Vec::<String>::new());
    // A rule of the place.
    let rules = "[local-rules]\nplace = \"Here\"\nsource = \"x\"\nchecked = \"22 Nov 2026\"\n\
                 fertilizer-closed = \"1 Dec to 1 Apr\"\n";
    let winter = format!("{}{}", feed("on = \"1 Feb\""), after("soak", "feed"));
    let told = never(rules, &winter);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].contains("`soak`") && told[0].contains("local rules close"), "{told:?}");
    assert_eq!(never("", &winter), Vec::<String>::new());
    // Hardly ever passes on as it is.
    let cold = format!(
        "{BARRIER}soil-temperature = \"95 degF\"\nfrom = \"1 Mar\"\nto = \"1 May\"\n{}",
        after("soak", "barrier")
    );
    assert!(never("", &cold)[1].contains("`soak` hardly ever happens"));
    // Weeds that nobody saw.
    let sedge = "[[program.practice]]\nkey = \"sedge\"\ndo = \"spray\"\nproduct = \"halosulfuron-wg-75\"\n\
                 rate = \"0.05 lb ai/ac\"\nnutsedge-cover = \"1 %\"\nfrom = \"1 Jun\"\nto = \"30 Jun\"\n";
    assert!(never("", sedge)[0].contains("nutsedge"));
    let seen =
        swapped(MINIMAL, "crabgrass-last-august", "nutsedge = \"2 %\", crabgrass-last-august");
    let all = good(&format!("{seen}{sedge}")).cautions;
    assert!(all.iter().all(|f| f.code != "never-happens"));
}
