//! Keys of a lesson: a scenario, or the name of one, and what is asked about it.

use super::super::key::{Def, Key, MAY, MUST, Need, Shape, key};
use super::place::ROOT;
use crate::calendar::MONTHS;

/// The top of a lesson file: a scenario's own keys, which may come from the scenario that it names.
pub(in crate::scenario) static LESSON_ROOT: Def = Def {
    name: "lesson file",
    groups: &[
        ROOT.groups[0],
        &[
            key(
                "scenario",
                Shape::Text(200),
                MAY,
                "The scenario that the lesson is about: a carried example, or a file beside the \
                 lesson. What the lesson itself states takes the place of what stands there, key by \
                 key; its programs come beside those that are there.",
            ),
            key("lesson", Shape::Table(&LESSON), MUST, "What is asked."),
        ],
    ],
};

/// What is looked at, and when.
const LOOKED: &[Key] = &[
    key("outcome", Shape::Text(60), MAY, "Key of an outcome, as in `outcomes.csv`."),
    key("measure", Shape::Text(60), MAY, "Instead: key of a daily measure, as in `bands.csv`."),
    key("on", Shape::Day, MAY, "With `measure`: its value on the evening of this day."),
    key("in", Shape::Choice(&MONTHS), MAY, "Or: its mean over this month."),
    key("season", Shape::Whole(1, 20), MAY, "With `measure`: which season; the last."),
];

static LESSON: Def = Def {
    name: "lesson",
    groups: &[&[
        key("story", Shape::Text(1000), MUST, "The lawn and what somebody wants to do there."),
        key("change", Shape::Text(40), MUST, "Id of the program with the one change."),
        key("question", Shape::Text(200), MUST, "The question, as it is put."),
        key("asked", Shape::Table(&ASKED), MUST, "What answers it."),
        key("choice", Shape::Tables(&CHOICE), MUST, "The answers to choose from, in order."),
        key(
            "popular",
            Shape::Choice(&["A", "B", "C", "D", "E", "F"]),
            MAY,
            "The answer that many people would give (C, common practice).",
        ),
        key(
            "studies",
            Shape::Texts(60),
            MAY,
            "Studies of tests/STUDIES.md that ask much the same, by their id.",
        ),
        key("show", Shape::Text(60), MUST, "Key of the measure that is shown over the season."),
        key("link", Shape::Tables(&LINK), MUST, "The chain from cause to effect, in order."),
    ]],
};

static ASKED: Def = Def {
    name: "lesson.asked",
    groups: &[
        LOOKED,
        &[key(
            "of",
            Shape::Choice(&["difference", "value"]),
            Need::Else("difference"),
            "Whether the answers are about the change, future by future, or about the value under \
             the changed program.",
        )],
    ],
};

static CHOICE: Def = Def {
    name: "lesson.choice",
    groups: &[&[
        key("says", Shape::Text(160), MUST, "The answer in words; its range is told beside it."),
        key(
            "because",
            Shape::Text(160),
            MAY,
            "Why one might think so: told with the question, never with the answer.",
        ),
        key("from", Shape::Text(40), MAY, "Lower end, such as \"-5 points\"; without it, no end."),
        key("to", Shape::Text(40), MAY, "Upper end, not included; without it, no end."),
    ]],
};

static LINK: Def = Def {
    name: "lesson.link",
    groups: &[
        LOOKED,
        &[key(
            "says",
            Shape::Text(300),
            MUST,
            "A sentence. {a} stands for the figure with the change and {b} for the one without; \
             {more|less|about as much} takes the first wording where it is more with the change, the \
             second where it is less, the third where the futures do not tell.",
        )],
    ],
};

/// Every table of the language, for the reference page.
pub(super) static LESSON_TABLES: [&Def; 4] = [&LESSON, &ASKED, &CHOICE, &LINK];
