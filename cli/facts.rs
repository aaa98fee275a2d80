//! `facts`: every constant of the model with its value, spread, unit, source and grade.

use sim::parameters::{Entry, Spread};
use sim::quantity::show_number;

use crate::args::FactsArgs;
use crate::engine;
use crate::failure::Failure;
use crate::input;
use crate::terminal;

/// What the grades mean; design of the catalogue.
const GRADES: &str = "Grades: A measured on lawns in several studies, B one study or a handbook, \
                      C common practice, D our judgement.\n";

/// Runs `facts`.
///
/// # Errors
/// [`Failure::Input`] where no constant has the name.
pub fn run(args: &FactsArgs) -> Result<(), Failure> {
    let entries = engine::catalogue()?;
    let chosen = match &args.name {
        None => entries.iter().collect(),
        Some(name) => choose(&entries, name)?,
    };
    let mut out = listing(&chosen);
    if args.name.is_some()
        && let Some(entry) = chosen.first()
    {
        out.push_str(&how_to_override(entry));
    }
    terminal::say(&out)
}

/// How a scenario says another value, in its three forms.
pub fn how_to_override(entry: &Entry) -> String {
    let Entry { name, value, .. } = entry;
    let (low, high) = match entry.spread {
        Spread::Uniform(low, high) | Spread::Triangular(low, high) => (low, high),
        Spread::Normal(sd) => (value - sd, value + sd),
        Spread::LogNormal(gsd) => (value / gsd, value * gsd),
        Spread::Fixed => (0.9 * value, 1.1 * value),
    };
    let (low, high) = (show_number(low.min(high)), show_number(high.max(low)));
    format!(
        "\nYou know better? In a scenario, in the unit above and without quotes, one of:\n\n  \
         [constants]\n  \"{name}\" = {value}\n  \"{name}\" = [{low}, {high}]\n  \"{name}\" = {{ low = \
         {low}, likely = {value}, high = {high} }}\n\nA range is drawn evenly in every future, three \
         values with the likeliest in the middle.\n"
    )
}

/// The entry of this name, or all that it begins, or all that hold it.
///
/// # Errors
/// [`Failure::Input`] with a near miss.
pub fn choose<'a>(entries: &'a [Entry], name: &str) -> Result<Vec<&'a Entry>, Failure> {
    let wanted = name.trim().to_lowercase();
    let exact = |e: &&Entry| e.name == wanted;
    let begins = |e: &&Entry| e.name.starts_with(&wanted);
    let holds = |e: &&Entry| e.name.contains(&wanted);
    for found in [
        entries.iter().filter(exact).collect::<Vec<_>>(),
        entries.iter().filter(begins).collect(),
        entries.iter().filter(holds).collect(),
    ] {
        if !found.is_empty() && !wanted.is_empty() {
            return Ok(found);
        }
    }
    let groups = entries.iter().filter_map(|e| e.name.split_once('.')).map(|(group, _)| group);
    let last = entries.iter().filter_map(|e| e.name.rsplit('.').next());
    let names = entries.iter().map(|e| e.name.as_str()).chain(groups).chain(last);
    let hint = match input::nearest(&wanted, names) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`swardplay facts` lists all names".to_string(),
    };
    Err(Failure::Input(format!("there is no fact called `{}`; {hint}", terminal::harmless(name))))
}

/// The entries as text, three lines each, and the key to the grades.
pub fn listing(entries: &[&Entry]) -> String {
    let mut out = String::new();
    for entry in entries {
        let spread = spread(entry);
        out.push_str(&format!(
            "{}\n  {}{}{spread}\n  grade {}: {}\n",
            entry.name,
            entry.value,
            unit(entry),
            entry.grade,
            entry.source.trim()
        ));
    }
    out.push_str(&format!(
        "\n{} fact{}. {GRADES}",
        entries.len(),
        if entries.len() == 1 { "" } else { "s" }
    ));
    out
}

/// The unit after a space; a plain number has none.
fn unit(entry: &Entry) -> String {
    if entry.unit == "1" { String::new() } else { format!(" {}", entry.unit) }
}

fn spread(entry: &Entry) -> String {
    match entry.spread {
        Spread::Fixed => ", the same in every future".to_string(),
        Spread::Uniform(low, high) => format!(", drawn evenly from {low} to {high}"),
        Spread::Normal(sd) => format!(", drawn around it, give or take {sd} (normal)"),
        Spread::LogNormal(gsd) => {
            format!(", drawn around it, times or divided by {gsd} (log-normal)")
        }
        Spread::Triangular(low, high) => {
            format!(", drawn from {low} to {high}, this one likeliest (triangular)")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(name: &str) -> Entry {
        Entry {
            name: name.into(),
            value: 0.8,
            spread: Spread::Uniform(0.7, 0.9),
            unit: "1".into(),
            source: "A handbook, table 3".into(),
            grade: 'B',
        }
    }

    #[test]
    fn a_name_its_beginning_and_a_part_of_it_all_find_it() {
        let all = [entry("water.crop_coefficient"), entry("water.runoff"), entry("soil.depth")];
        assert_eq!(choose(&all, "water.runoff").unwrap().len(), 1);
        assert_eq!(choose(&all, "Water").unwrap().len(), 2);
        assert_eq!(choose(&all, "depth").unwrap().len(), 1);
    }

    #[test]
    fn an_unknown_name_is_met_with_the_nearest() {
        let all = [entry("water.crop_coefficient")];
        let failure = choose(&all, "water.crop_coeficient").unwrap_err();
        assert_eq!(failure.exit_code(), 2);
        assert!(
            failure.to_string().contains("did you mean `water.crop_coefficient`?"),
            "{failure}"
        );
    }

    #[test]
    fn an_override_is_shown_in_its_three_forms() {
        let text = how_to_override(&entry("water.crop_coefficient"));
        for form in ["= 0.8\n", "= [0.7, 0.9]\n", "= { low = 0.7, likely = 0.8, high = 0.9 }\n"] {
            assert!(text.contains(&format!("\"water.crop_coefficient\" {form}")), "{text}");
        }
    }

    #[test]
    fn an_entry_shows_value_spread_unit_source_and_grade() {
        let one = entry("water.crop_coefficient");
        let text = listing(&[&one]);
        assert!(text.starts_with(
            "water.crop_coefficient\n  0.8, drawn evenly from 0.7 to 0.9\n  grade B: A handbook, \
             table 3\n"
        ), "{text}");
    }
}
