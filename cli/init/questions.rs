//! What `init` asks, and the usual answers.

use sim::quantity::{Kind, parse};

use super::draft;
use crate::args::InitAnswers;

/// What a question is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Topic {
    Area,
    Grass,
    Cover,
    Crabgrass,
    Sun,
    Soil,
    OrganicMatter,
    Compaction,
    Weather,
    MowEvery,
    Height,
    HourCost,
    MowerWidth,
    Compare,
}

/// One question.
#[derive(Debug)]
pub struct Question {
    /// What it is about.
    pub topic: Topic,
    /// The flag that answers it.
    pub flag: &'static str,
    /// As put to a person.
    pub ask: &'static str,
    /// Examples and choices.
    pub such_as: &'static str,
}

/// All questions, in the order of [`Topic`].
pub const QUESTIONS: [Question; 14] = [
    Question {
        topic: Topic::Area,
        flag: "area",
        ask: "How large is the lawn?",
        such_as: "6000 ft2, 560 m2, 0.2 ac. Metric units here make the file metric",
    },
    Question {
        topic: Topic::Grass,
        flag: "grass",
        ask: "Which grass grows there, one or two?",
        such_as: "Kentucky bluegrass, perennial ryegrass, tall fescue, fine fescue; a mix with its \
                  shares: Kentucky bluegrass 60 %, perennial ryegrass 40 %",
    },
    Question {
        topic: Topic::Cover,
        flag: "cover",
        ask: "How much of the ground is under live grass?",
        such_as: "55 %; not sure? 50 % to 60 %",
    },
    Question {
        topic: Topic::Crabgrass,
        flag: "crabgrass",
        ask: "How much of the lawn was under crabgrass last August?",
        such_as: "30 %; nobody looked? a wide range such as 5 % to 50 %",
    },
    Question {
        topic: Topic::Sun,
        flag: "sun",
        ask: "How much sun does it get?",
        such_as: "full, most, half, or a share such as 80 %, or a range",
    },
    Question {
        topic: Topic::Soil,
        flag: "soil",
        ask: "What is the soil?",
        such_as: "sand, loamy sand, sandy loam, loam, silt loam, sandy clay loam, clay loam, silty \
                  clay loam, clay ...; from a soil test: sand 40 %, clay 20 %",
    },
    Question {
        topic: Topic::OrganicMatter,
        flag: "organic-matter",
        ask: "How much organic matter is in the topsoil, by weight?",
        such_as: "3 %, as on a soil test; not tested? 1.5 % to 3.5 %",
    },
    Question {
        topic: Topic::Compaction,
        flag: "compaction",
        ask: "How does a probe or a long screwdriver go into the ground below the topsoil?",
        such_as: "none (freely), moderate (with effort), severe (not at all)",
    },
    Question {
        topic: Topic::Weather,
        flag: "weather",
        ask: "Whose weather?",
        such_as: "a carried station (jfk, seattle), or a daily CSV file, named from where the \
                  scenario lies;\n  what the file leaves open after its name: my-station.csv, latitude \
                  40.64, elevation 10 ft",
    },
    Question {
        topic: Topic::MowEvery,
        flag: "mow-every",
        ask: "How often is it mowed now?",
        such_as: "14 days, 1 week",
    },
    Question {
        topic: Topic::Height,
        flag: "height",
        ask: "How high is it cut?",
        such_as: "3 in, 75 mm",
    },
    Question {
        topic: Topic::HourCost,
        flag: "hour-cost",
        ask: "What does an hour of one person's work cost you?",
        such_as: "25 $/h, or a range: 22 $/h to 30 $/h; 0 $/h where nobody is paid",
    },
    Question {
        topic: Topic::MowerWidth,
        flag: "mower-width",
        ask: "How wide does the mower cut?",
        such_as: "21 in, 30 in, 53 cm",
    },
    Question {
        topic: Topic::Compare,
        flag: "compare",
        ask: "What shall be compared with the usual care?",
        such_as: draft::MENU_WORDS,
    },
];

/// The answers so far.
#[derive(Clone, Debug, Default)]
pub struct Answers {
    given: [Option<String>; QUESTIONS.len()],
}

impl Answers {
    /// Those that were given as flags.
    pub fn of_flags(flags: &InitAnswers) -> Answers {
        let f = flags.clone();
        Answers {
            given: [
                f.area,
                f.grass,
                f.cover,
                f.crabgrass,
                f.sun,
                f.soil,
                f.organic_matter,
                f.compaction,
                f.weather,
                f.mow_every,
                f.height,
                f.hour_cost,
                f.mower_width,
                f.compare,
            ],
        }
    }

    /// Whether there is no answer yet.
    pub fn none(&self) -> bool {
        self.given.iter().all(Option::is_none)
    }

    /// The answer to a question, where it has one.
    pub fn given(&self, topic: Topic) -> Option<&str> {
        self.given[topic as usize].as_deref()
    }

    /// Answers a question, in place of an earlier answer.
    pub fn put(&mut self, topic: Topic, text: String) {
        self.given[topic as usize] = Some(text);
    }

    /// The answer, or the usual one. Nothing is compared until that question is reached, so that no
    /// comparison spoils an answer before it.
    pub fn get(&self, topic: Topic) -> String {
        match (&self.given[topic as usize], topic) {
            (Some(text), _) => text.clone(),
            (None, Topic::Compare) => draft::NOTHING.to_string(),
            (None, _) => self.usual(topic),
        }
    }

    /// Whether the file is to be in metric units: the area is.
    pub fn metric(&self) -> bool {
        let area = self.given[Topic::Area as usize].as_deref().unwrap_or_default();
        area.contains('m') || area.contains("ha")
    }

    /// The usual answer: a thin, weedy lawn on middling soil, which any other can be told from.
    pub fn usual(&self, topic: Topic) -> String {
        let or = |us: &str, metric: &str| if self.metric() { metric } else { us }.to_string();
        match topic {
            Topic::Area => "5000 ft2".to_string(),
            Topic::Grass => "Kentucky bluegrass 60 %, perennial ryegrass 40 %".to_string(),
            Topic::Cover => "60 % to 80 %".to_string(),
            Topic::Crabgrass => "10 % to 40 %".to_string(),
            Topic::Sun => "full".to_string(),
            Topic::Soil => "loam".to_string(),
            Topic::OrganicMatter => "1.5 % to 3.5 %".to_string(),
            Topic::Compaction => "none".to_string(),
            Topic::Weather => "jfk".to_string(),
            Topic::MowEvery => "14 days".to_string(),
            Topic::Height => or("3 in", "75 mm"),
            Topic::HourCost => "24 $/h".to_string(),
            Topic::MowerWidth => or("21 in", "53 cm"),
            Topic::Compare if self.mows_often() => "barrier, split".to_string(),
            Topic::Compare => "often, barrier, split".to_string(),
        }
    }

    /// Whether the usual mowing is as frequent already as the one that it would be compared with.
    fn mows_often(&self) -> bool {
        let text = self.get(Topic::MowEvery);
        let days = text.trim().parse().or_else(|_| parse(&text, Kind::Duration));
        days.is_ok_and(|days| days <= draft::OFTEN_DAYS)
    }

    /// The scenario that these answers make.
    ///
    /// # Errors
    /// Why an answer could not be taken apart.
    pub fn draft(&self) -> Result<String, String> {
        draft::scenario(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn questions_stand_in_the_order_of_their_topics() {
        for (i, question) in QUESTIONS.iter().enumerate() {
            assert_eq!(question.topic as usize, i);
        }
    }
}
