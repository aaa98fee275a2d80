//! Days one below the other; two programs between the same dates.

use sim::analysis::diary::{self, Entry, What};
use sim::calendar::Day;
use sim::ensemble::measure;

use super::amount::{HOLD, date, share};
use super::entry::Teller;
use super::opening::margin;
use super::{Told, Width, entries, wrap};
use crate::round::fixed;
use crate::words::name::shorts;

/// Width of the dates' margin.
const MARGIN: usize = 8;

/// One line of a track, in words.
struct Line {
    day: Day,
    entry: Entry,
    words: String,
}

/// The diary's days.
pub fn days(told: &Told) -> String {
    let lines = match told.retold.tracks.len() {
        2 => two(told),
        _ => one(told),
    };
    dated(told.width, lines)
}

/// Lines under their years, behind their dates.
pub fn dated(width: Width, lines: Vec<(Day, String)>) -> String {
    let mut out = String::new();
    let (mut year, mut day) = (i32::MIN, None);
    for (on, words) in lines {
        let of = on.ymd().0;
        if of != year {
            out.push_str(&format!("\n{of}\n"));
            (year, day) = (of, None);
        }
        let margin = if day == Some(on) { " ".repeat(6) } else { margin(on) };
        day = Some(on);
        let text = wrap(width, &words, MARGIN, MARGIN);
        out.push_str(&margin);
        out.push_str(text.get(margin.len()..).unwrap_or(&text));
    }
    out
}

fn teller<'a>(told: &'a Told, track: usize) -> Option<Teller<'a>> {
    let at = told.retold.tracks.get(track)?.program;
    Some(Teller { program: told.scenario.programs.get(at)?, units: told.units })
}

fn lines(told: &Told, track: usize, entries: Vec<Entry>) -> Vec<Line> {
    let Some(teller) = teller(told, track) else { return vec![] };
    entries.into_iter().map(|e| Line { day: e.day, words: teller.words(&e), entry: e }).collect()
}

fn one(told: &Told) -> Vec<(Day, String)> {
    lines(told, 0, entries(told, 0)).into_iter().map(|line| (line.day, line.words)).collect()
}

/// Entries of two programs are twins where they tell the same thing within so many days.
const TWIN_DAYS: i32 = 10;

/// What is the same under both is told once. Where both tell the same thing with other numbers, the
/// earlier tells it, and the other's number stands behind it; where only one tells it, what the other
/// lawn shows on that day.
fn two(told: &Told) -> Vec<(Day, String)> {
    let kept = [0, 1].map(|track| lines(told, track, entries(told, track)));
    // What the other program knows, whether or not it is told.
    let known = [0, 1].map(|track| lines(told, track, diary::all(&told.retold.tracks[track])));
    let mut order: Vec<(Day, usize, usize)> = Vec::new();
    for (track, lines) in kept.iter().enumerate() {
        order.extend(lines.iter().enumerate().map(|(at, line)| (line.day, at, track)));
    }
    // By day; on one day the first program's lines first.
    order.sort_by_key(|(day, at, track)| (*day, *track, *at));
    let mut said = [vec![false; kept[0].len()], vec![false; kept[1].len()]];
    let mut out: Vec<(Day, String)> = Vec::new();
    for (day, at, track) in order {
        if said[track][at] {
            continue;
        }
        let other = 1 - track;
        let line = &kept[track][at];
        let twin = twin(told, track, line, &kept[other], &said[other]);
        if let Some(twin) = twin {
            said[other][twin] = true;
        }
        let unsaid = vec![false; known[other].len()];
        let twin = twin.map(|at| &kept[other][at]).or_else(|| {
            self::twin(told, track, line, &known[other], &unsaid).map(|at| &known[other][at])
        });
        let words = match twin {
            Some(twin) if twin.day == day && twin.words == line.words => {
                format!("Both: {}", line.words)
            }
            Some(twin) => {
                let gist = teller(told, other).map_or(String::new(), |t| t.gist(&twin.entry));
                let on = if twin.day == day {
                    gist
                } else if gist.is_empty() {
                    format!("on {}", date(twin.day))
                } else {
                    format!("on {}, {gist}", date(twin.day))
                };
                format!("{}: {} ({}: {on}.)", label(told, track), line.words, label(told, other))
            }
            None => {
                let aside = aside(told, other, line).unwrap_or_default();
                format!("{}: {}{aside}", label(told, track), line.words)
            }
        };
        out.push((day, words));
    }
    out
}

/// The line among the other program's that tells the same thing, the nearest in time.
fn twin(told: &Told, track: usize, line: &Line, others: &[Line], said: &[bool]) -> Option<usize> {
    let key = |track: usize| {
        let teller = teller(told, track);
        move |practice: u16| teller.map(|t| t.practice_key(practice))
    };
    let apart = |other: &Line| (other.day.0 - line.day.0).abs();
    // Sums are of whole months, wherever they end.
    let sum = matches!(line.entry.what, What::Mowed(_) | What::Watered(_));
    let near = |other: &Line| sum || apart(other) <= TWIN_DAYS;
    let like =
        |other: &Line| line.entry.what.is_like(&other.entry.what, key(track), key(1 - track));
    let found = others.iter().enumerate().filter(|(at, o)| !said[*at] && near(o) && like(o));
    found.min_by_key(|(_, other)| apart(other)).map(|(at, _)| at)
}

/// What the other track shows on that day: " (Cut often: the barrier stops 74 %.)".
fn aside(told: &Told, other: usize, line: &Line) -> Option<String> {
    let What::Turning(turning) = line.entry.what else { return None };
    let key = turning.measure()?;
    let day = usize::try_from(line.day.0 - told.results.first.0).ok()?;
    let value = told.retold.tracks[other].measure(day, measure(key)?)?;
    let percent = share(value / 100.0);
    let words = match key {
        "barrier" => format!("the barrier stops {percent}"),
        "crabgrass_emerged" => format!("{} came through", told.units.count(value, "")),
        "crabgrass_cover" => format!("crabgrass {percent}"),
        "bare_ground" => format!("{percent} bare"),
        "turf_cover" => format!("turf {percent}"),
        "green_cover" => format!("{percent} of the lawn is green turf"),
        "colour" => format!("colour {}", fixed(value, 1)),
        "quality" => format!("quality {}", fixed(value, 1)),
        _ => return None,
    };
    Some(format!(" ({}: {words}.)", label(told, other)))
}

/// A track's program, short, as it stands before a colon. Short names may leave out what only one of
/// the two has; where that would name another program of the scenario, the whole title stands.
pub fn label(told: &Told, track: usize) -> String {
    let title = |at: usize| told.results.programs.get(at).map_or("", |p| p.title.as_str());
    let titles: Vec<&str> = told.retold.tracks.iter().map(|t| title(t.program)).collect();
    let label = shorts(&titles).get(track).cloned().unwrap_or_default();
    let own = titles.get(track).copied().unwrap_or_default();
    let others = told.results.programs.iter().filter(|p| p.title != own);
    let taken = label != own && others.into_iter().any(|p| p.title.starts_with(&label));
    if taken { own.to_string() } else { label.replace("+ ", &format!("+{HOLD}")) }
}
