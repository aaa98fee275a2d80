//! `[local-rules]`: what it reads to, what it refuses, and what it says of a program.

use super::{MINIMAL, PRODUCTS, told};
use sim::calendar::{MonthDay, Weekdays};
use sim::scenario::{Checked, Fault, Severity, WaterDays, check_with_rules, line_of};
use swardplay::carried::LOCAL_RULES;
use swardplay::units::Units;
use swardplay::words::rules::tell;

/// 1 lb/1000 ft2 as g/m2 (international pound and foot).
const LB: f64 = 453.592_37 / 92.903_04;

const HEAD: &str =
    "place = \"Somewhere\"\nsource = \"the town\'s page\"\nchecked = \"22 Nov 2026\"\n";

fn with(rules: &str, practices: &str) -> String {
    format!("{MINIMAL}{practices}\n[local-rules]\n{rules}")
}

fn checked(text: &str) -> Checked {
    check_with_rules(text, PRODUCTS, LOCAL_RULES).unwrap_or_else(|f| panic!("{}", told(text, &f)))
}

fn only_error(rules: &str) -> Fault {
    let text = with(&format!("{HEAD}{rules}"), "");
    let faults = check_with_rules(&text, PRODUCTS, LOCAL_RULES).expect_err("an error");
    let mut errors: Vec<Fault> =
        faults.iter().filter(|f| f.severity == Severity::Error).cloned().collect();
    assert_eq!(errors.len(), 1, "{}", told(&text, &faults));
    errors.remove(0)
}

/// What the rules have to say of one practice more.
fn cautions(rules: &str, practice: &str) -> Vec<Fault> {
    let practice = format!("[[program.practice]]\nkey = \"it\"\n{practice}\n");
    let all = checked(&with(&format!("{HEAD}{rules}"), &practice)).cautions;
    all.into_iter().filter(|f| f.code == "local-rule").collect()
}

const FEED: &str = "do = \"spread\"\nanalysis = \"24-0-11\"\nslow = \"50 %\"\n\
                    nitrogen = \"1 lb N/1000 ft2\"\non = [\"10 May\"]";

fn on(month: u8, day: u8) -> MonthDay {
    MonthDay::new(month, day).unwrap()
}

#[test]
fn every_key_reads_to_its_rule() {
    let rules = format!(
        "{HEAD}nitrogen-once = \"0.9 lb N/1000 ft2\"\nquick-nitrogen-once = \"0.7 lb N/1000 ft2\"\n\
         nitrogen-year = \"3 lb N/1000 ft2\"\nslow-at-least = \"20 %\"\n\
         phosphate-at-most = \"0.67 %\"\nphosphorus-test = \"3 Mar 2026\"\n\
         fertilizer-closed = [\"1 Dec to 1 Apr\", \"1 Jun to 30 Sep\"]\n\
         fertilizer-closed-over = \"0.5 lb N/1000 ft2\"\npesticide-closed = \"1 Nov to 28 Feb\"\n\
         rain-coming = \"1 in\"\nwater-days = [\"Wed\", \"Saturdays\"]\n\
         setback = \"5 m\"\nshore = \"20 m\"\nsetback-for = \"fertilizer and pesticides\""
    );
    let rules = checked(&with(&rules, "")).scenario.rules;
    let close = |a: Option<f64>, b: f64| assert!((a.unwrap() - b).abs() < 1e-9 * b);
    assert_eq!(rules.place, "Somewhere");
    close(rules.nitrogen_once_g_m2, 0.9 * LB);
    close(rules.quick_nitrogen_once_g_m2, 0.7 * LB);
    close(rules.nitrogen_year_g_m2, 3.0 * LB);
    close(rules.slow_at_least, 0.2);
    close(rules.phosphate_at_most, 0.0067);
    assert!(rules.phosphorus_tested && rules.strip_without_pesticide);
    assert_eq!(rules.fertilizer_closed, [(on(12, 1), on(4, 1)), (on(6, 1), on(9, 30))]);
    close(Some(rules.fertilizer_closed_over_g_m2), 0.5 * LB);
    assert_eq!(rules.pesticide_closed, [(on(11, 1), on(2, 28))]);
    close(rules.rain_coming_mm, 25.4);
    assert_eq!(rules.water_days, WaterDays::Week(Weekdays::NONE.with(2).with(5)));
    assert!((rules.strip_m2 - 100.0).abs() < 1e-9);
    for (text, days) in [("odd", WaterDays::Odd), ("Even dates", WaterDays::Even)] {
        let text = with(&format!("{HEAD}water-days = \"{text}\""), "");
        assert_eq!(checked(&text).scenario.rules.water_days, days);
    }
    assert!(!checked(MINIMAL).scenario.rules.stated());
}

#[test]
fn what_is_not_understood_is_refused_with_what_was_expected() {
    for (rules, code, help) in [
        ("fertilizer-closed = \"1 Dec\"", "bad-stretch", "1 Dec to 1 Apr"),
        ("fertilizer-closed = \"1 Dec to 31 Apr\"", "bad-stretch", "no day 31"),
        ("pesticide-closed = [\"4/1 to 5/1\"]", "bad-stretch", "month by its name"),
        ("fertilizer-closed-over = \"0.5 lb N/1000 ft2\"", "stray-key", "fertilizer-closed"),
        ("water-days = [\"Wedn\", \"Sturday\"]", "bad-weekday", "Saturday"),
        ("water-days = [\"odd dates\", \"Wed\"]", "bad-weekday", "even dates"),
        ("water-days = []", "no-water-day", "leave the key out"),
        ("shore = \"20 m\"", "missing-key", "setback"),
        ("setback = \"50 m\"\nshore = \"20 m\"", "strip-beyond-lawn", "less than the lawn"),
        ("phosphorus-test = \"3 Mar\"", "bad-day", "with its year"),
        ("phosphorus-test = \"29 Feb 2026\"", "bad-day", "with its year"),
        ("nitrogen-once = \"0.9 lb/1000 ft2\"", "bad-quantity", "lb N"),
        ("nitrogen-onc = \"0.9 lb N/1000 ft2\"", "unknown-key", "nitrogen-once"),
        ("like = \"mariland\"", "unknown-place", "maryland"),
    ] {
        let fault = only_error(rules);
        let said = format!("{} {} {:?}", fault.message, fault.expected, fault.help);
        assert!(fault.code == code && said.contains(help), "{rules}: {fault:?}");
    }
    let nameless = with("nitrogen-once = \"0.9 lb N/1000 ft2\"", "");
    let faults = check_with_rules(&nameless, PRODUCTS, LOCAL_RULES).unwrap_err();
    assert!(faults.iter().any(|f| f.code == "missing-key" && f.message.contains("`place`")));
}

#[test]
fn rules_without_a_source_are_told_of() {
    let all = checked(&with("place = \"Somewhere\"\nwater-days = \"odd\"", "")).cautions;
    assert!(all.iter().any(|f| f.code == "rules-without-source"), "{all:?}");
    assert!(cautions("", FEED).is_empty());
}

/// The figures of the example are Maryland's: 0.9 lb at once, 0.7 of it soluble (a town's notice, 2013).
#[test]
fn an_example_is_taken_by_name_and_what_is_typed_stands_over_it() {
    let rules = checked(&with("like = \"maryland\"", "")).scenario.rules;
    assert_eq!(rules.place, "Maryland");
    assert!(!rules.source.contains("scenario's own"), "{}", rules.source);
    assert!((rules.quick_nitrogen_once_g_m2.unwrap() - 0.7 * LB).abs() < 1e-9);
    assert_eq!(rules.fertilizer_closed, [(on(11, 16), on(2, 28))]);
    // No shore is stated: no strip.
    assert_eq!(rules.strip_m2, 0.0);
    let own = "like = \"maryland\"\nplace = \"Our county\"\nnitrogen-once = \"0.5 lb N/1000 ft2\"\n\
               shore = \"20 ft\"";
    let rules = checked(&with(own, "")).scenario.rules;
    assert_eq!(rules.place, "Our county");
    // The law is not credited with what is not its own.
    assert!(rules.source.ends_with("figures of the scenario's own"), "{}", rules.source);
    assert!((rules.nitrogen_once_g_m2.unwrap() - 0.5 * LB).abs() < 1e-9);
    assert!((rules.strip_m2 - 300.0 * 0.092_903_04).abs() < 1e-9);
}

#[test]
fn every_example_is_dated_and_can_be_taken() {
    let table: toml::Table = toml::from_str(LOCAL_RULES).unwrap();
    assert!(table.len() >= 3);
    for name in table.keys() {
        let checked = checked(&with(&format!("like = \"{name}\""), ""));
        let rules = checked.scenario.rules;
        assert!(rules.checked.contains("2026") && !rules.source.is_empty(), "{name}");
        assert!(checked.cautions.iter().all(|f| f.code != "rules-without-source"), "{name}");
    }
    let broken = check_with_rules(MINIMAL, PRODUCTS, "[x]\nnitrogen = 3\n").unwrap_err();
    assert!(broken.iter().all(|f| f.code == "local-rules-file"), "{broken:?}");
}

/// Each rule, kept by one figure and broken by the next.
#[test]
fn a_practice_that_breaks_a_rule_is_named_with_rule_figure_and_mend() {
    let phosphate = FEED.replace("24-0-11", "18-3-6");
    let barrier = "do = \"pre-emergent\"\nproduct = \"prodiamine-wg-65\"\n\
                   rate = \"0.65 lb ai/ac\"\nsoil-temperature = \"50 degF\"\nfrom = \"1 Mar\"\n\
                   to = \"15 May\"";
    let water = "do = \"water\"\ndepth = \"0.5 in\"\nevery = 2\nfrom = \"1 Jun\"\nto = \"1 Sep\"";
    let dated = "do = \"water\"\ndepth = \"0.5 in\"\non = [\"2 Jun\"]";
    for (kept, broken, practice, said) in [
        (
            "nitrogen-once = \"1 lb N/1000 ft2\"",
            "nitrogen-once = \"0.9 lb N/1000 ft2\"",
            FEED,
            "1 lb N",
        ),
        (
            "quick-nitrogen-once = \"0.5 lb N/1000 ft2\"",
            "quick-nitrogen-once = \"0.4 lb N/1000 ft2\"",
            FEED,
            "quick nitrogen",
        ),
        ("slow-at-least = \"50 %\"", "slow-at-least = \"55 %\"", FEED, "50 %"),
        (
            "phosphate-at-most = \"3 %\"",
            "phosphate-at-most = \"0.67 %\"",
            phosphate.as_str(),
            "3 % phosphate",
        ),
        (
            "phosphate-at-most = \"0 %\"\nphosphorus-test = \"3 Mar 2026\"",
            "phosphate-at-most = \"0 %\"",
            phosphate.as_str(),
            "no soil test",
        ),
        (
            "fertilizer-closed = \"11 May to 9 May\"\nfertilizer-closed-over = \"1 lb N/1000 ft2\"",
            "fertilizer-closed = \"10 May to 1 Jun\"",
            FEED,
            "is due on 10 May",
        ),
        (
            "fertilizer-closed = \"11 May to 9 May\"",
            "fertilizer-closed = \"1 Nov to 10 May\"",
            FEED,
            "is due on 10 May",
        ),
        (
            "pesticide-closed = \"16 May to 28 Feb\"",
            "pesticide-closed = \"15 May to 28 Feb\"",
            barrier,
            "may fall due on 15 May",
        ),
        ("water-days = \"odd\"", "water-days = [\"Wed\", \"Sat\"]", water, "every 2 days"),
        ("water-days = \"even\"", "water-days = \"odd\"", dated, "2 Jun"),
    ] {
        assert_eq!(cautions(kept, practice), [], "{kept}");
        let all = cautions(broken, practice);
        assert_eq!(all.len(), 1, "{broken}: {all:?}");
        let fault = &all[0];
        assert!(fault.message.contains("`it`") && fault.message.contains(said), "{fault:?}");
        assert!(fault.message.contains("local rules of Somewhere"), "{fault:?}");
        assert!(fault.expected.contains("the town's page; read 22 Nov 2026"), "{fault:?}");
        assert!(fault.help.as_ref().is_some_and(|mend| !mend.is_empty()), "{fault:?}");
        assert!(!fault.message.contains("lawful") && !fault.message.contains("legal"), "{fault:?}");
    }
}

#[test]
fn a_year_adds_up_all_feedings() {
    let thrice = FEED.replace("[\"10 May\"]", "[\"10 May\", \"1 Sep\", \"15 Oct\"]");
    assert_eq!(cautions("nitrogen-year = \"3 lb N/1000 ft2\"", &thrice), []);
    let all = cautions("nitrogen-year = \"2.9 lb N/1000 ft2\"", &thrice);
    assert_eq!(all.len(), 1, "{all:?}");
    assert!(all[0].message.contains("3 lb N/1000 ft2"), "{all:?}");
}

/// The place's own ceiling stands instead of the common one.
#[test]
fn a_stated_ceiling_replaces_the_common_one() {
    let codes = |rules: &str| {
        let practice = format!("[[program.practice]]\nkey = \"it\"\n{FEED}\n");
        let all = checked(&with(&format!("{HEAD}{rules}"), &practice)).cautions;
        all.iter().map(|f| f.code).collect::<Vec<_>>()
    };
    assert_eq!(codes(""), ["much-nitrogen-at-once"]);
    assert_eq!(codes("nitrogen-once = \"1 lb N/1000 ft2\""), [""; 0]);
}

#[test]
fn a_follow_up_is_looked_at_on_its_own_day() {
    // 1 October and 60 days: 30 November.
    let follow = "do = \"spread\"\nanalysis = \"24-0-11\"\nnitrogen = \"0.5 lb N/1000 ft2\"\n\
                  days-after = { practice = \"first\", days = 60 }\n\
                  [[program.practice]]\nkey = \"first\"\ndo = \"topdress\"\ndepth = \"0.25 in\"\n\
                  on = [\"1 Oct\"]";
    assert_eq!(cautions("fertilizer-closed = \"1 Dec to 1 Apr\"", follow), []);
    let all = cautions("fertilizer-closed = \"30 Nov to 1 Apr\"", follow);
    assert!(all.len() == 1 && all[0].message.contains("30 Nov"), "{all:?}");
}

#[test]
fn watering_that_no_visit_day_allows_is_never_done() {
    let water = "do = \"water\"\ndepth = \"0.5 in\"\nevery = 7\nfrom = \"1 Jun\"\nto = \"1 Sep\"\n\
                 by = \"crew\"\n[crew]\nvisit-days = [\"Tue\", \"Fri\"]";
    assert_eq!(cautions("water-days = [\"Fri\"]", water), []);
    let all = cautions("water-days = [\"Wed\", \"Sat\"]", water);
    assert!(all.len() == 1 && all[0].message.contains("never done"), "{all:?}");
}

/// A change that breaks a rule is told of where the change stands.
#[test]
fn a_program_based_on_another_is_looked_at_too() {
    let text = with(
        &format!("{HEAD}nitrogen-once = \"1 lb N/1000 ft2\""),
        &format!(
            "[[program.practice]]\nkey = \"it\"\n{FEED}\n[[program]]\nid = \"b\"\nbased-on = \"a\"\n\
             [[program.change]]\npractice = \"it\"\nnitrogen = \"1.5 lb N/1000 ft2\"\n"
        ),
    );
    let all: Vec<Fault> =
        checked(&text).cautions.into_iter().filter(|f| f.code == "local-rule").collect();
    assert_eq!(all.len(), 1, "{}", told(&text, &all));
    let line = line_of(&text, &all[0].span);
    assert!(text.lines().nth(line - 1).unwrap().contains("1.5 lb N"), "line {line}");
}

#[test]
fn the_words_send_people_to_the_law_once_and_name_the_strip() {
    let text = with(&format!("{HEAD}setback = \"5 m\"\nshore = \"20 m\""), "");
    let scenario = checked(&text).scenario;
    let said = tell(&scenario, Units::Metric).replace('\n', " ");
    assert_eq!(said.matches("You must check what is in force").count(), 1);
    assert!(said.contains("100 m2 of 500 m2, gets no fertilizer"), "{said}");
    assert!(tell(&scenario, Units::Us).contains("1,076 ft2"));
    assert_eq!(tell(&checked(MINIMAL).scenario, Units::Us), "");
}
