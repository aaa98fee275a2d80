//! The players: practices in which two programs differ, and the programs between the two.

use super::shapley::Coalition;
use crate::scenario::{Cue, Practice, Program};

/// A practice in which two programs differ: changed, added or dropped.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Player {
    /// The practice's key, as written: the two halves of a split barrier are one practice.
    pub key: String,
    /// Indices in the baseline; none where it is added.
    pub before: Vec<usize>,
    /// Indices in the program; none where it is dropped.
    pub after: Vec<usize>,
}

/// A practice that nothing calls in some mix: the one that it waits for is not there.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Idle {
    /// Its key.
    pub practice: String,
    /// Key of the practice that it waits for.
    pub waits_for: String,
}

/// The practices in which a program differs from a baseline, by key: those of the baseline in its
/// order, then what the program adds.
pub fn players(base: &Program, program: &Program) -> Vec<Player> {
    let mut keys: Vec<&str> = Vec::new();
    for practice in base.practices.iter().chain(&program.practices) {
        let key = as_written(&practice.key);
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys.into_iter()
        .map(|key| Player { key: key.into(), before: of(base, key), after: of(program, key) })
        .filter(|player| {
            let pairs = player.before.iter().zip(&player.after);
            let same = |(b, a): (&usize, &usize)| same((base, *b), (program, *a));
            player.before.len() != player.after.len() || !pairs.into_iter().all(same)
        })
        .collect()
}

/// The key that a person wrote: the second half of a split practice hangs its own on a slash, which no
/// written key has.
fn as_written(key: &str) -> &str {
    key.split('/').next().unwrap_or(key)
}

/// Indices of the practices under a written key.
fn of(program: &Program, key: &str) -> Vec<usize> {
    let practices = program.practices.iter().enumerate();
    practices.filter(|(_, p)| as_written(&p.key) == key).map(|(at, _)| at).collect()
}

/// Key of the practice that a cue waits for.
fn leader<'a>(program: &'a Program, cue: &Cue) -> Option<&'a str> {
    match cue {
        Cue::DaysAfter { practice, .. } => program.practices.get(*practice).map(|p| p.key.as_str()),
        _ => None,
    }
}

/// Whether two practices are the same but for their places.
fn same((a_of, a): (&Program, usize), (b_of, b): (&Program, usize)) -> bool {
    let (a, b) = (&a_of.practices[a], &b_of.practices[b]);
    let cue = match (&a.cue, &b.cue) {
        (Cue::DaysAfter { days: x, .. }, Cue::DaysAfter { days: y, .. }) => {
            x == y && leader(a_of, &a.cue) == leader(b_of, &b.cue)
        }
        (a, b) => a == b,
    };
    cue && Practice { cue: b.cue.clone(), ..a.clone() } == *b
}

/// The program in which the players of a coalition are as in `program` and all others as in `base`,
/// with those of its practices that nothing calls left out and named. None and all give the two
/// programs themselves.
pub fn coalition(
    (base, program): (&Program, &Program),
    players: &[Player],
    set: Coalition,
) -> (Program, Vec<Idle>) {
    if set == 0 || set.count_ones() as usize == players.len() {
        return (if set == 0 { base } else { program }.clone(), vec![]);
    }
    let mixed = mixed(base, program, players, set);
    let leads: Vec<Option<&str>> = mixed.iter().map(|(of, p)| leader(of, &p.cue)).collect();
    let called = called(&mixed, &leads);
    let stays: Vec<usize> = (0..mixed.len()).filter(|at| called[*at]).collect();
    let practices = stays.iter().map(|&at| {
        let mut practice = mixed[at].1.clone();
        if let Cue::DaysAfter { practice: leader, .. } = &mut practice.cue
            && let Some(place) =
                stays.iter().position(|p| Some(mixed[*p].1.key.as_str()) == leads[at])
        {
            *leader = place;
        }
        practice
    });
    let practices = practices.collect();
    let idle = (0..mixed.len()).filter(|at| !called[*at]).map(|at| Idle {
        practice: mixed[at].1.key.clone(),
        waits_for: leads[at].unwrap_or_default().into(),
    });
    let mix = Program {
        id: format!("{}+{set}", base.id),
        title: program.title.clone(),
        based_on: None,
        difference: String::new(),
        practices,
    };
    (mix, idle.collect())
}

/// Practices of a mix, in the baseline's order, each with the program that it comes from.
fn mixed<'a>(
    base: &'a Program,
    program: &'a Program,
    players: &[Player],
    set: Coalition,
) -> Vec<(&'a Program, &'a Practice)> {
    let switched = |at: usize| set >> at & 1 == 1;
    let mut mixed = Vec::new();
    for (index, practice) in base.practices.iter().enumerate() {
        match players.iter().position(|player| player.before.contains(&index)) {
            Some(at) if switched(at) => {
                // Its new form stands where its first practice stood.
                if players[at].before.first() == Some(&index) {
                    let after = players[at].after.iter();
                    mixed.extend(after.map(|at| (program, &program.practices[*at])));
                }
            }
            _ => mixed.push((base, practice)),
        }
    }
    for (at, player) in players.iter().enumerate() {
        if player.before.is_empty() && switched(at) {
            mixed.extend(player.after.iter().map(|at| (program, &program.practices[*at])));
        }
    }
    mixed
}

/// Which practices are ever called: those with a cue of their own, and those that wait for one that is.
fn called(mixed: &[(&Program, &Practice)], leads: &[Option<&str>]) -> Vec<bool> {
    let mut called: Vec<bool> =
        mixed.iter().map(|(_, p)| !matches!(p.cue, Cue::DaysAfter { .. })).collect();
    loop {
        let next = (0..mixed.len()).find(|&at| {
            let leads = |other: usize| Some(mixed[other].1.key.as_str()) == leads[at];
            !called[at] && (0..mixed.len()).any(|other| called[other] && leads(other))
        });
        match next {
            Some(at) => called[at] = true,
            None => return called,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::MonthDay;
    use crate::scenario::{Hands, What};

    fn practice(key: &str, depth_mm: f64, after: Option<usize>) -> Practice {
        let on = MonthDay { month: 5, day: 1 };
        Practice {
            key: key.into(),
            what: What::Water { depth_mm },
            cue: match after {
                Some(practice) => Cue::DaysAfter { practice, days: 7 },
                None => Cue::Dates(vec![on]),
            },
            holds: vec![],
            give_up_days: 7,
            by: Hands::House,
        }
    }

    fn program(practices: Vec<Practice>) -> Program {
        Program {
            id: "p".into(),
            title: "P".into(),
            based_on: None,
            difference: String::new(),
            practices,
        }
    }

    fn keys(program: &Program) -> Vec<&str> {
        program.practices.iter().map(|p| p.key.as_str()).collect()
    }

    #[test]
    fn only_what_differs_plays_whatever_its_place() {
        let base = program(vec![practice("a", 1.0, None), practice("b", 1.0, Some(0))]);
        let moved = program(vec![
            practice("new", 1.0, None),
            practice("b", 1.0, Some(2)),
            practice("a", 1.0, None),
        ]);
        let found = players(&base, &moved);
        assert_eq!(found, [Player { key: "new".into(), before: vec![], after: vec![0] }]);
        assert!(players(&base, &base).is_empty());
    }

    #[test]
    fn halves_of_a_split_practice_are_one_player() {
        let base = program(vec![practice("barrier", 2.0, None), practice("feed", 1.0, None)]);
        let split = program(vec![
            practice("barrier", 1.0, None),
            practice("barrier/second", 1.0, Some(0)),
            practice("feed", 3.0, None),
        ]);
        let found = players(&base, &split);
        assert_eq!(found.len(), 2);
        let (mix, idle) = coalition((&base, &split), &found, 0b01);
        assert_eq!(keys(&mix), ["barrier", "barrier/second", "feed"]);
        assert_eq!(mix.practices[2], base.practices[1]);
        assert_eq!(mix.practices[1].cue, Cue::DaysAfter { practice: 0, days: 7 });
        assert!(idle.is_empty());
        let (mix, _) = coalition((&base, &split), &found, 0b10);
        assert_eq!(mix.practices, [base.practices[0].clone(), split.practices[2].clone()]);
        assert_eq!(coalition((&base, &split), &found, 0b11).0, split);
        assert_eq!(coalition((&base, &split), &found, 0).0, base);
    }

    /// "a" is dropped, "b" no longer waits for it, and "d" waits for the new "c", "e" for "d".
    #[test]
    fn what_waits_for_an_absent_practice_does_not_happen() {
        let base = program(vec![practice("a", 1.0, None), practice("b", 1.0, Some(0))]);
        let other = program(vec![
            practice("b", 1.0, None),
            practice("c", 1.0, None),
            practice("d", 1.0, Some(1)),
            practice("e", 1.0, Some(2)),
        ]);
        let found = players(&base, &other);
        let order: Vec<&str> = found.iter().map(|p| p.key.as_str()).collect();
        assert_eq!(order, ["a", "b", "c", "d", "e"]);
        let idle = |practice: &str, waits_for: &str| Idle {
            practice: practice.into(),
            waits_for: waits_for.into(),
        };
        let (mix, left) = coalition((&base, &other), &found, 0b00001);
        assert_eq!((keys(&mix), left), (vec![], vec![idle("b", "a")]));
        let (mix, left) = coalition((&base, &other), &found, 0b11000);
        assert_eq!((keys(&mix), left), (vec!["a", "b"], vec![idle("d", "c"), idle("e", "d")]));
        let (mix, left) = coalition((&base, &other), &found, 0b11101);
        assert_eq!((keys(&mix), left), (vec!["c", "d", "e"], vec![idle("b", "a")]));
        assert_eq!(mix.practices[2].cue, Cue::DaysAfter { practice: 1, days: 7 });
    }

    /// Each waits for the other in the mix alone: "a" as in the program, "b" as in the baseline.
    #[test]
    fn two_that_wait_for_each_other_never_begin() {
        let base = program(vec![practice("a", 1.0, None), practice("b", 1.0, Some(0))]);
        let other = program(vec![practice("a", 1.0, Some(1)), practice("b", 1.0, None)]);
        let found = players(&base, &other);
        let (mix, left) = coalition((&base, &other), &found, 0b01);
        assert_eq!((mix.practices.len(), left.len()), (0, 2));
    }
}
