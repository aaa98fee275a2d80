//! Gathering faults: nothing stops at the first.

use super::{Fault, Severity};
use std::ops::Range;

/// Most errors, and most cautions, that are kept of one text: nobody mends more at a time, and a text
/// of millions of them must not take hours and gigabytes to refuse.
pub const FAULTS_MOST: usize = 1000;

/// Longest word for which a near miss is looked for, characters; no name of the language is longer.
const NEAR_MOST: usize = 60;

/// The faults found so far.
#[derive(Default)]
pub(super) struct Faults {
    list: Vec<Fault>,
    /// Errors and cautions in the list.
    kept: [usize; 2],
    /// The program that is being looked at.
    program: Option<String>,
    by_program: Vec<(String, Fault)>,
}

impl Faults {
    /// Notes an error. The same error at the same place is noted once: a program that is based
    /// on another repeats what it inherits.
    pub(super) fn error(
        &mut self,
        code: &'static str,
        span: &Range<usize>,
        message: impl Into<String>,
        expected: impl Into<String>,
        help: Option<String>,
    ) {
        let fault = Fault {
            code,
            severity: Severity::Error,
            message: message.into(),
            span: span.clone(),
            expected: expected.into(),
            help,
        };
        self.add(fault);
    }

    /// Notes a caution: the reason in `message`, the mend in `help`.
    pub(super) fn caution(
        &mut self,
        code: &'static str,
        span: &Range<usize>,
        message: impl Into<String>,
        expected: impl Into<String>,
        mend: impl Into<String>,
    ) {
        let fault = Fault {
            code,
            severity: Severity::Caution,
            message: message.into(),
            span: span.clone(),
            expected: expected.into(),
            help: Some(mend.into()),
        };
        self.add(fault);
    }

    /// What is noted from here on concerns this program.
    pub(super) fn begin_program(&mut self, id: &str) {
        self.program = Some(id.to_string());
    }

    /// What is noted from here on concerns no program more than another.
    pub(super) fn end_program(&mut self) {
        self.program = None;
    }

    /// What concerned a program, with its id, in the order noted.
    pub(super) fn take_by_program(&mut self) -> Vec<(String, Fault)> {
        std::mem::take(&mut self.by_program)
    }

    fn add(&mut self, fault: Fault) {
        let kept = &mut self.kept[usize::from(fault.severity == Severity::Caution)];
        if *kept >= FAULTS_MOST {
            return;
        }
        if let Some(id) = &self.program {
            self.by_program.push((id.clone(), fault.clone()));
        }
        if !self.list.contains(&fault) {
            *kept += 1;
            self.list.push(fault);
        }
    }

    /// Whether an error was noted.
    pub(super) fn any_error(&self) -> bool {
        self.list.iter().any(|f| f.severity == Severity::Error)
    }

    /// Drops the faults that a broken text makes look missing.
    pub(super) fn forget(&mut self, codes: &[&str]) {
        self.list.retain(|f| !codes.contains(&f.code));
    }

    /// All faults in the order of the text.
    pub(super) fn in_order(mut self) -> Vec<Fault> {
        self.list.sort_by_key(|f| (f.span.start, f.span.end));
        self.list
    }
}

/// The line that a span starts on, from 1.
pub fn line_of(text: &str, span: &Range<usize>) -> usize {
    let start = span.start.min(text.len());
    1 + text.as_bytes()[..start].iter().filter(|b| **b == b'\n').count()
}

/// The candidate nearest to a word that was perhaps meant.
pub(crate) fn near<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Option<String> {
    if word.chars().nth(NEAR_MOST).is_some() {
        return None;
    }
    let word = word.to_lowercase();
    let allowed = word.chars().count().div_ceil(3);
    candidates
        .map(|c| {
            let low = c.to_lowercase();
            let edits = strsim::damerau_levenshtein(&word, &low);
            (edits, strsim::jaro_winkler(&word, &low), c)
        })
        .filter(|(edits, alike, _)| *edits <= allowed || *alike > 0.88)
        .min_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)))
        .map(|(_, _, c)| c.to_string())
}

/// "did you mean ..?" for a word, or nothing.
pub(crate) fn did_you_mean<'a>(
    word: &str,
    candidates: impl Iterator<Item = &'a str>,
) -> Option<String> {
    near(word, candidates).map(|c| format!("did you mean \"{c}\"?"))
}
