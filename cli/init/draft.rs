//! The scenario that the answers make, with a comment on each line that a person may want to change.

use std::fmt::Write as _;

use super::questions::{Answers, Topic};
use super::toml_value::{days, name_and_share, quoted, uncertain, words};
use crate::{carried, input};

/// The answer that compares nothing.
pub const NOTHING: &str = "nothing";

/// Days between mowings of the program that cuts often.
pub const OFTEN_DAYS: f64 = 5.0;

/// What can be compared, as a question puts it.
pub const MENU_WORDS: &str =
    "often (cut every 5 days), taller (cut at 4 in), bag (clippings taken away),
  barrier (a pre-emergent in spring), split (the same in two halves), feed (nitrogen in May
  and September), compost (a thin coat in September), water (in dry spells); nothing";

/// One program that can be compared with the usual care or with another.
struct Offer {
    name: &'static str,
    title: &'static str,
    based_on: &'static str,
    comment: &'static str,
    us: &'static str,
    metric: &'static str,
}

const OFFERS: [Offer; 8] = [
    Offer {
        name: "often",
        title: "Cut every 5 days",
        based_on: "usual",
        comment: "The same lawn, the same height, cut more often.",
        us: "[[program.change]]\npractice = \"mow\"\nevery = \"5 days\"\n",
        metric: "[[program.change]]\npractice = \"mow\"\nevery = \"5 days\"\n",
    },
    Offer {
        name: "taller",
        title: "Cut higher",
        based_on: "usual",
        comment: "The same mowings, cut higher.",
        us: "[[program.change]]\npractice = \"mow\"\nheight = \"4 in\"\n",
        metric: "[[program.change]]\npractice = \"mow\"\nheight = \"100 mm\"\n",
    },
    Offer {
        name: "bag",
        title: "Clippings bagged",
        based_on: "usual",
        comment: "The same mowings, with the clippings taken away.",
        us: "[[program.change]]\npractice = \"mow\"\nclippings = \"bagged\"\n",
        metric: "[[program.change]]\npractice = \"mow\"\nclippings = \"bagged\"\n",
    },
    Offer {
        name: "barrier",
        title: "A barrier in spring",
        based_on: "usual",
        comment: "A pre-emergent before crabgrass comes up; rain has to water it in. The rate is a \
                  typical one:\n# the label in your hand and local law come first (dithiopyr in New \
                  York: licensed applicators\n# only, and not in every county).",
        us: "[program.change.add]\nkey = \"barrier\"\ndo = \"pre-emergent\"\n\
             product = \"dithiopyr-liquid-2\"\nrate = \"0.5 lb ai/ac\"\n\
             soil-temperature = \"50 degF\"         # at 2 in, as a daily mean\n\
             for = \"4 days\"\nfrom = \"1 Mar\"\nto = \"10 May\"\n\
             hold = [\"windy 12 mph\", \"wet 0.5 in\"]\n",
        metric: "[program.change.add]\nkey = \"barrier\"\ndo = \"pre-emergent\"\n\
                 product = \"dithiopyr-liquid-2\"\nrate = \"0.56 kg ai/ha\"\n\
                 soil-temperature = \"10 degC\"         # at 5 cm, as a daily mean\n\
                 for = \"4 days\"\nfrom = \"1 Mar\"\nto = \"10 May\"\n\
                 hold = [\"windy 5 m/s\", \"wet 12 mm\"]\n",
    },
    Offer {
        name: "split",
        title: "The barrier in two halves",
        based_on: "barrier",
        comment: "The same pre-emergent: half of it then, half eight weeks later.",
        us: "[[program.change]]\npractice = \"barrier\"\nsplit = \"8 weeks\"\n",
        metric: "[[program.change]]\npractice = \"barrier\"\nsplit = \"8 weeks\"\n",
    },
    Offer {
        name: "feed",
        title: "Nitrogen in May and September",
        based_on: "usual",
        comment: "Half of the nitrogen quick, half slow. Some states close a season: see `hold`.",
        us: "[program.change.add]\nkey = \"feed\"\ndo = \"spread\"\nproduct = \"blend-24-0-11\"\n\
             nitrogen = \"0.75 lb N/1000 ft2\"\non = [\"10 May\", \"10 Sep\"]\n\
             hold = [\"hotter than 88 degF\", \"dormant\", \"rain coming 1 in\", \
             \"closed 1 Dec to 1 Apr\"]\n",
        metric: "[program.change.add]\nkey = \"feed\"\ndo = \"spread\"\nproduct = \"blend-24-0-11\"\n\
                 nitrogen = \"3.7 g N/m2\"\non = [\"10 May\", \"10 Sep\"]\n\
                 hold = [\"hotter than 31 degC\", \"dormant\", \"rain coming 25 mm\", \
                 \"closed 1 Dec to 1 Apr\"]\n",
    },
    Offer {
        name: "compost",
        title: "A coat of compost each September",
        based_on: "usual",
        comment: "A thin coat, so that the grass looks through.",
        us: "[program.change.add]\nkey = \"compost\"\ndo = \"topdress\"\ndepth = \"1/4 in\"\n\
             on = [\"15 Sep\"]\nhold = [\"wet 0.5 in\", \"dormant\"]\n",
        metric: "[program.change.add]\nkey = \"compost\"\ndo = \"topdress\"\ndepth = \"6 mm\"\n\
                 on = [\"15 Sep\"]\nhold = [\"wet 12 mm\", \"dormant\"]\n",
    },
    Offer {
        name: "water",
        title: "Watered in dry spells",
        based_on: "usual",
        comment: "Deep and seldom: when half of the water that roots can reach is gone.",
        us: "[program.change.add]\nkey = \"water\"\ndo = \"water\"\ndepth = \"0.75 in\"\n\
             dry-soil = \"50 %\"\nfrom = \"15 May\"\nto = \"30 Sep\"\n\
             hold = [\"rain in 3 days 0.5 in\"]\n",
        metric: "[program.change.add]\nkey = \"water\"\ndo = \"water\"\ndepth = \"20 mm\"\n\
                 dry-soil = \"50 %\"\nfrom = \"15 May\"\nto = \"30 Sep\"\n\
                 hold = [\"rain in 3 days 12 mm\"]\n",
    },
];

/// The scenario that the answers make.
///
/// # Errors
/// Why an answer could not be taken apart.
pub fn scenario(answers: &Answers) -> Result<String, String> {
    let get = |topic| answers.get(topic);
    let mut out = format!(
        "# A lawn and programs of care for it, made by `swardplay init`.\n\
         #\n\
         # A line is `key = \"value\"`; values carry their unit, US or metric. What follows a # is for\n\
         # people only. A number that you do not know may be a range, [\"50 %\", \"60 %\"], or\n\
         # {{ low = \"40 %\", likely = \"55 %\", high = \"60 %\" }}.\n\n\
         title = \"My lawn\"\n\n\
         [lawn]\n\
         area = {}\n",
        quoted(&get(Topic::Area)),
    );
    line(
        &mut out,
        "sun",
        &uncertain(&get(Topic::Sun)),
        "full, most, half, or a share such as \"80 %\"",
    );
    out.push_str("\n[lawn.soil]\n");
    soil(&mut out, &get(Topic::Soil));
    let organic = uncertain(&get(Topic::OrganicMatter));
    line(&mut out, "organic-matter", &organic, "of the topsoil, by weight");
    let how = quoted(&get(Topic::Compaction));
    line(&mut out, "compaction", &how, "none, moderate, severe: how a probe goes in");
    grasses(&mut out, &get(Topic::Grass));
    out.push_str("\n# The walk-round: what a person saw.\n[lawn.seen]\n");
    let cover = uncertain(&get(Topic::Cover));
    line(&mut out, "grass-cover", &cover, "ground under live grass; the rest was bare or weeds");
    let _ = writeln!(out, "crabgrass-last-august = {}", uncertain(&get(Topic::Crabgrass)));
    line(
        &mut out,
        "season-before",
        "\"usual\"",
        "last year's care: only lawns that it left so are played",
    );
    out.push_str("\n[weather]\n");
    weather(&mut out, &get(Topic::Weather));
    let _ = writeln!(out, "\n[run]\nfirst-year = {}\nseasons = 2\n\n[crew]", next_season());
    let hour = uncertain(&get(Topic::HourCost));
    line(&mut out, "hour-cost", &hour, "of one person, taxes and insurance included");
    let _ = writeln!(out, "mower-width = {}", quoted(&get(Topic::MowerWidth)));
    usual_care(&mut out, answers);
    for offer in chosen(&get(Topic::Compare))? {
        let Offer { name, title, based_on, comment, us, metric } = offer;
        let change = if answers.metric() { metric } else { us };
        let _ = write!(
            out,
            "\n# {comment}\n[[program]]\nid = \"{name}\"\ntitle = \"{title}\"\nbased-on = \
             \"{based_on}\"\n\n{change}"
        );
    }
    Ok(out)
}

/// One line with its comment at a common column.
fn line(out: &mut String, key: &str, value: &str, comment: &str) {
    let said = format!("{key} = {value}");
    let _ = writeln!(out, "{said:<33} # {comment}");
}

fn usual_care(out: &mut String, answers: &Answers) {
    out.push_str(
        "\n# The usual care. It is the baseline: the others are told as differences from their base.\n\
         [[program]]\nid = \"usual\"\ntitle = \"Usual care\"\n\n\
         [[program.practice]]\nkey = \"mow\"\ndo = \"mow\"\n",
    );
    let height = answers.get(Topic::Height);
    let _ = writeln!(out, "height = {}", quoted(&height));
    line(out, "clippings", "\"returned\"", "or bagged");
    let _ = writeln!(out, "every = {}", days(&answers.get(Topic::MowEvery)));
    line(out, "from", "\"10 Apr\"", "your first and last mowing of a year");
    let wet = if answers.metric() { "\"wet 12 mm\"" } else { "\"wet 0.5 in\"" };
    let _ = writeln!(out, "to = \"5 Nov\"\nhold = [{wet}, \"dormant\", \"nothing to cut\"]");
}

/// The offers that an answer names, in the order of the menu, with what they are based on.
fn chosen(text: &str) -> Result<Vec<&'static Offer>, String> {
    let mut names = words(&text.to_lowercase());
    names.retain(|name| name != NOTHING && name != "none");
    let known = || OFFERS.iter().map(|offer| offer.name);
    if let Some(odd) = names.iter().find(|name| !known().any(|k| k == name.as_str())) {
        let near = input::nearest(odd, known()).map(|n| format!("\n  did you mean \"{n}\"?"));
        return Err(format!(
            "\"{odd}\" is not a program on offer\n  expected one or more of {}, or \
             {NOTHING}{}",
            known().collect::<Vec<_>>().join(", "),
            near.unwrap_or_default()
        ));
    }
    let wanted = |offer: &&Offer| {
        let base_of = |name: &String| {
            OFFERS.iter().any(|o| o.name == name.as_str() && o.based_on == offer.name)
        };
        names.iter().any(|name| name == offer.name || base_of(name))
    };
    Ok(OFFERS.iter().filter(wanted).collect())
}

fn soil(out: &mut String, text: &str) {
    if !text.contains(|c: char| c.is_ascii_digit()) {
        line(out, "texture", &quoted(text), "or sand = \"40 %\" and clay = \"20 %\"");
        return;
    }
    for part in words(text) {
        let (name, share) = name_and_share(&part);
        let _ = writeln!(out, "{} = {}", bare(&name), uncertain(&share.unwrap_or_default()));
    }
}

/// A key: what does not look like one is quoted, so that the message is about the key.
fn bare(name: &str) -> String {
    let plain = !name.is_empty() && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    if plain { name.to_lowercase() } else { quoted(name) }
}

fn grasses(out: &mut String, text: &str) {
    let all = words(text);
    let equal = all.len() > 1 && all.iter().all(|one| name_and_share(one).1.is_none());
    for one in &all {
        let (name, share) = name_and_share(one);
        let share = share.or_else(|| equal.then(|| format!("{} %", 100 / all.len())));
        let _ = write!(out, "\n[[lawn.grass]]\nkind = {}\n", quoted(&name));
        if let Some(share) = share {
            line(out, "share", &quoted(&share), "of the grass, not of the lawn");
        }
    }
}

/// A carried station by its name, or a file: names of files have a dot or a folder in them. What the
/// file leaves open stands after it: "my-station.csv, latitude 40.64, elevation 10 ft".
fn weather(out: &mut String, text: &str) {
    let mut parts = text.split(',').map(str::trim);
    let named = parts.next().unwrap_or_default();
    let station = carried::STATIONS.iter().any(|s| s.key.eq_ignore_ascii_case(named));
    if station || !named.contains(['.', '/', '\\']) {
        line(out, "station", &quoted(text), "or file = \"my-station.csv\"");
        return;
    }
    let _ = writeln!(out, "file = {}", quoted(named));
    for part in parts {
        let (key, value) = part.split_once(char::is_whitespace).unwrap_or((part, ""));
        let value = value.trim();
        let number = match key {
            "latitude" => value.parse().ok().filter(|n: &f64| n.is_finite()).map(|n| n.to_string()),
            "from-year" | "to-year" => value.parse().ok().map(|n: i32| n.to_string()),
            _ => None,
        };
        let value = number.unwrap_or_else(|| quoted(value));
        let _ = writeln!(out, "{} = {value}", bare(key));
    }
}

/// The year of the next season to plan: this one until midsummer, then the next.
fn next_season() -> i16 {
    let today = jiff::tz::TimeZone::UTC.to_datetime(jiff::Timestamp::now()).date();
    if today.month() <= 6 { today.year() } else { today.year() + 1 }
}
