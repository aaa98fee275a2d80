//! The program with its setting turned, as a scenario would write it: whatever the check of a scenario
//! refuses or warns of, it refuses or warns of here.

use crate::scenario::{Checked, Dial, Fault, Hold, Program, Severity};

/// One value of a setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// The value, in the setting's own unit.
    pub value: f64,
    /// The program with it; `None` where it may not be so.
    pub program: Option<Program>,
    /// Why not: the first fault.
    pub fault: Option<Fault>,
    /// What a person should look at that the scenario itself does not have.
    pub cautions: Vec<Fault>,
}

/// A program's practice at each of `values`, as `check` finds it in the scenario's text. The program's
/// own value is the program itself.
pub fn points(
    text: &str,
    check: impl Fn(&str) -> Result<Checked, Vec<Fault>>,
    checked: &Checked,
    (program, practice): (&Program, &str),
    (dial, nth): (&Dial, usize),
    values: &[f64],
) -> Vec<Point> {
    let id = free_id(checked);
    let at = |&value: &f64| {
        if dial.now.get(nth) == Some(&value) {
            let program = Some(program.clone());
            return Point { value, program, fault: None, cautions: vec![] };
        }
        let change = dial.change(value, nth);
        let base = &program.id;
        let text = format!(
            "{text}\n\n[[program]]\nid = \"{id}\"\nbased-on = \"{base}\"\n\n[[program.change]]\n\
             practice = \"{practice}\"\n{change}\n"
        );
        match check(&text) {
            Ok(Checked { mut scenario, mut cautions, .. }) => {
                cautions.retain(|caution| !checked.cautions.contains(caution));
                let mut turned = scenario.programs.pop();
                if let Some(turned) = turned.as_mut().filter(|_| dial.held_at) {
                    follow(turned, practice, value);
                }
                Point { value, program: turned, fault: None, cautions }
            }
            Err(faults) => {
                let fault = faults.into_iter().find(|f| f.severity == Severity::Error);
                Point { value, program: None, fault, cautions: vec![] }
            }
        }
    };
    values.iter().map(at).collect()
}

/// A name that no program has.
fn free_id(checked: &Checked) -> String {
    let taken = |id: &str| checked.scenario.programs.iter().any(|program| program.id == id);
    (0..).map(|n| format!("turned-{n}")).find(|id| !taken(id)).unwrap_or_default()
}

/// A hold that keeps the mower off grass shorter than the cut goes up and down with the cut.
fn follow(program: &mut Program, practice: &str, height_mm: f64) {
    let practices = program.practices.iter_mut().filter(|p| p.key == practice);
    for hold in practices.flat_map(|p| p.holds.iter_mut()) {
        if let Hold::ShorterThan { mm } = hold {
            *mm = height_mm;
        }
    }
}
