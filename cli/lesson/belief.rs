//! How far a lesson's answer may be believed: what the published trials that ask much the same made
//! of the model.

use crate::carried;

/// What came of one study.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Study {
    /// What it asked, in plain words.
    pub plain: String,
    /// Results near what was published, and all.
    pub near: (u32, u32),
    /// Whether it helped to set the model's numbers.
    pub sets: bool,
}

/// Lines of the table of studies: id, rank, what it set, weather, "2 of 3".
fn rows() -> impl Iterator<Item = [&'static str; 5]> {
    let cells = |line: &'static str| {
        let inner = line.strip_prefix("| ")?.strip_suffix(" |")?;
        <[&str; 5]>::try_from(inner.split(" | ").collect::<Vec<_>>()).ok()
    };
    carried::STUDIES.lines().filter_map(cells).filter(|row| row[2].starts_with("sets"))
}

/// The ids of studies that were played.
pub fn ids() -> Vec<&'static str> {
    rows().filter(|row| near(row[4]).is_some()).map(|row| row[0]).collect()
}

/// What came of a study.
pub fn study(id: &str) -> Option<Study> {
    let row = rows().find(|row| row[0] == id)?;
    let plain = plain(id).or_else(|| title(id)).unwrap_or_else(|| id.to_string());
    Some(Study { plain, near: near(row[4])?, sets: row[2] == "sets" })
}

/// "2 of 3".
fn near(cell: &str) -> Option<(u32, u32)> {
    let (hits, of) = cell.split_once(" of ")?;
    Some((hits.parse().ok()?, of.parse().ok()?))
}

fn plain(id: &str) -> Option<String> {
    let head = format!("[{id}]");
    let mut lines = carried::STUDIES_PLAIN.lines().skip_while(|line| *line != head).skip(1);
    let line = lines.next()?.strip_prefix("plain = \"")?;
    Some(line.strip_suffix('"')?.to_string())
}

fn title(id: &str) -> Option<String> {
    let head = format!("## {id}: ");
    let line = carried::STUDIES.lines().find_map(|line| line.strip_prefix(&head))?;
    Some(line.to_string())
}

/// How far to believe an answer, in sentences.
pub fn told(ids: &[String]) -> Vec<String> {
    let studies: Vec<Study> = ids.iter().filter_map(|id| study(id)).collect();
    if studies.is_empty() {
        return vec![
            "None of the published trials that the model was held against asks this. The answer \
             follows from parts that were checked one by one; it has not been checked as a whole."
                .to_string(),
        ];
    }
    let mut lines =
        vec!["Published trials that ask much the same, and how near the model comes:".to_string()];
    for study in &studies {
        let (near, of) = study.near;
        let results = if of == 1 { "result" } else { "results" };
        let word = if study.sets { "helped to set" } else { "had no say in" };
        lines.push(format!(
            "- {}: {near} of {of} {results} near, in a trial that {word} the model's numbers",
            study.plain
        ));
    }
    if studies.iter().any(|study| study.near.0 < study.near.1) {
        lines.push("Where the model misses a trial, go by the trial.".to_string());
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn studies_are_found_with_their_words_and_results() {
        assert!(ids().len() > 40, "{:?}", ids());
        let study = study("interval").unwrap();
        assert!(study.plain.contains("seven weeks of cutting"), "{study:?}");
        assert!(!study.sets && study.near.1 >= 1);
    }

    #[test]
    fn what_no_trial_asks_is_said() {
        assert!(told(&[])[0].starts_with("None of the published trials"));
        assert!(told(&["interval".to_string()])[1].contains(" near, in a trial"));
    }
}
