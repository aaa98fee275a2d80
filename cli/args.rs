//! What a person can type.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use sim::weather::TableUnits;

use crate::parts::Which;
use crate::sheet::Lang;
use crate::units::Units;

/// Most members that one run may have.
pub const MEMBERS_MAX: u32 = 100_000;

/// Reads a number of futures as a person types it.
fn members(text: &str) -> Result<u32, String> {
    let number = text.trim().parse().ok().filter(|n| (1..=MEMBERS_MAX).contains(n));
    number.ok_or_else(|| {
        format!("expected a whole number of futures, 1 to {MEMBERS_MAX}, such as 400")
    })
}

/// Plays a lawn's seasons out under several programs of care, so that you can see what each
/// choice changes before you spend a season finding out.
#[derive(Debug, Parser)]
#[command(
    name = "swardplay",
    version,
    args_conflicts_with_subcommands = true,
    after_help = "With no command, the carried example lawn is played into ./swardplay-out.\n\
                  Exit codes: 0 done, 2 something in the input needs mending, 1 anything else."
)]
pub struct Cli {
    /// The command; none plays the carried example.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// How to play the carried example, where there is no command.
    #[command(flatten)]
    pub example: PlayOptions,
}

/// One command.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Play a lawn through many simulated futures under each program, and compare them
    Play(PlayArgs),
    /// Put the parts of a run together, wherever each was played
    Merge(MergeArgs),
    /// Play one scenario on many lawns, each with facts of its own
    Lawns(LawnsArgs),
    /// Check a scenario file without playing it
    Vet(VetArgs),
    /// Write a scenario of your own lawn from a few answers
    Init(Box<InitArgs>),
    /// List the numbers that the model stands on, with where each one comes from
    Facts(FactsArgs),
    /// Tell what a station's weather record is like, and whether seasons can be drawn from it
    Climate(ClimateArgs),
    /// Tell one simulated future day by day: what was done, what the lawn did, and why
    Diary(DiaryArgs),
    /// Guess what one change does to a lawn, then see it played: exercises for new crew
    Lesson(LessonArgs),
    /// Try one setting of one practice at many values, and tell where it does best
    When(WhenArgs),
    /// Share what a program changes out among the practices in which it differs from another
    Credit(CreditArgs),
    /// Write the dated work of one program on one lawn for the crew: days, loads, minutes, cost
    Sheet(SheetArgs),
    /// Tell whether low-input programs hold what you need, and look for the cheapest one that does
    Thrift(ThriftArgs),
    /// Tell which facts, if you went and measured them, would change the choice between programs
    MeasureFirst(MeasureFirstArgs),
}

/// Arguments of `play`.
#[derive(Clone, Debug, Args)]
pub struct PlayArgs {
    /// The scenario: a file that you wrote, or the name of a carried example
    /// (thin-front-lawn, new-build-lot, dry-summer-lawn, tight-budget-lawn, fall-renovation,
    /// clover-nutsedge-lawn, own-station). For a file of the same name, write ./NAME
    #[arg(default_value = EXAMPLE)]
    pub scenario: String,
    /// Play a run again: the run.json that it wrote. Refused where anything that goes into it has
    /// changed since
    #[arg(long, value_name = "RUN.json",
          conflicts_with_all = ["scenario", "members", "seed", "units", "tracks"])]
    pub again: Option<PathBuf>,
    /// Play one part of the futures only, such as 3/10 for the third of ten, into a part file;
    /// `merge` puts the parts together
    #[arg(long, value_name = "I/N", allow_hyphen_values = true, value_parser = crate::parts::read_which,
          conflicts_with = "in_parts")]
    pub part: Option<Which>,
    /// Play so many parts one after the other and keep each on disk until the run is done: typed again
    /// after a stop, the run goes on from there
    #[arg(long, value_name = "N", allow_negative_numbers = true,
          value_parser = clap::value_parser!(u32).range(1..=i64::from(crate::parts::PARTS_MAX)))]
    pub in_parts: Option<u32>,
    /// How to play it.
    #[command(flatten)]
    pub options: PlayOptions,
}

/// The scenario that is played where none is named.
pub const EXAMPLE: &str = "thin-front-lawn";

/// How to play a scenario, whichever it is.
#[derive(Clone, Debug, Args)]
pub struct PlayOptions {
    /// Folder for tables and pictures; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-out")]
    pub out: PathBuf,
    /// How many simulated futures to play; more of them make steadier odds and take longer
    #[arg(long, value_name = "N", default_value_t = 1000, allow_negative_numbers = true,
          value_parser = members)]
    pub members: u32,
    /// Which set of futures to draw; the same number gives the same futures again
    #[arg(long, value_name = "S", default_value_t = 1, allow_negative_numbers = true)]
    pub seed: u64,
    /// How many processor cores to use; all of them if not given. Never changes the results
    #[arg(long, value_name = "T", allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(1..=1024))]
    pub threads: Option<u32>,
    /// Units in words and pictures; those of the scenario if not given. Tables are always metric
    #[arg(long, value_enum)]
    pub units: Option<Units>,
    /// Also write every future day by day (tracks.csv, a large file)
    #[arg(long)]
    pub tracks: bool,
}

impl Default for PlayOptions {
    fn default() -> PlayOptions {
        PlayOptions {
            out: PathBuf::from("swardplay-out"),
            members: 1000,
            seed: 1,
            threads: None,
            units: None,
            tracks: false,
        }
    }
}

/// Which futures an analysis plays, and how it tells them.
#[derive(Clone, Debug, Args)]
pub struct AnalysisOptions {
    /// How many simulated futures to play; each command has a usual number
    #[arg(long, value_name = "N", allow_negative_numbers = true,
          value_parser = members)]
    pub members: Option<u32>,
    /// Which set of futures to draw; the same number gives the same futures again
    #[arg(long, value_name = "S", default_value_t = 1, allow_negative_numbers = true)]
    pub seed: u64,
    /// How many processor cores to use; all of them if not given. Never changes the results
    #[arg(long, value_name = "T", allow_negative_numbers = true, value_parser = clap::value_parser!(u32).range(1..=1024))]
    pub threads: Option<u32>,
    /// Units in words and pictures; those of the scenario if not given. Tables are always metric
    #[arg(long, value_enum)]
    pub units: Option<Units>,
}

impl PlayArgs {
    /// The carried example, played with these options.
    pub fn example(options: PlayOptions) -> PlayArgs {
        PlayArgs { scenario: EXAMPLE.to_string(), again: None, part: None, in_parts: None, options }
    }
}

/// Arguments of `vet`.
#[derive(Clone, Debug, Args)]
pub struct VetArgs {
    /// The scenario: a file that you wrote, or the name of a carried example
    pub scenario: String,
    /// Units in words; those of the scenario if not given
    #[arg(long, value_enum)]
    pub units: Option<Units>,
}

/// Arguments of `merge`.
#[derive(Clone, Debug, Args)]
pub struct MergeArgs {
    /// Part files, or folders that hold them
    #[arg(value_name = "PART or DIR", required = true)]
    pub parts: Vec<PathBuf>,
    /// Folder for tables and pictures; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-out")]
    pub out: PathBuf,
}

/// Arguments of `lawns`.
#[derive(Clone, Debug, Args)]
pub struct LawnsArgs {
    /// A table of lawns as CSV: a column `name`, and one column for each fact that differs, headed by its
    /// key in a scenario, such as lawn.area or lawn.seen.grass-cover
    pub table: PathBuf,
    /// The scenario that all lawns start from: a file that you wrote, or the name of a carried example
    #[arg(long, value_name = "SCENARIO", default_value = EXAMPLE)]
    pub template: String,
    /// Folder for the table of results; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-lawns")]
    pub out: PathBuf,
    /// Play one part of the lawns only, such as 3/10 for the third of ten; the tables of all parts, one
    /// after the other, are that of all lawns
    #[arg(long, value_name = "I/N", allow_hyphen_values = true, value_parser = crate::parts::read_which)]
    pub part: Option<Which>,
    /// Which futures, and how they are told; 200 futures a lawn if not given.
    #[command(flatten)]
    pub options: AnalysisOptions,
}

/// Arguments of `init`: every answer may be given as a flag.
#[derive(Clone, Debug, Args)]
pub struct InitArgs {
    /// The file to write
    #[arg(default_value = "my-lawn.toml")]
    pub file: PathBuf,
    /// Replace the file if it is there
    #[arg(long)]
    pub force: bool,
    /// Ask nothing: what no flag says takes its usual answer
    #[arg(long)]
    pub yes: bool,
    /// The answers.
    #[command(flatten)]
    pub answers: InitAnswers,
}

/// Answers of `init`, as typed.
#[derive(Clone, Debug, Default, Args)]
#[command(next_help_heading = "Answers (a range such as \"50 % to 60 %\" where you are unsure)")]
pub struct InitAnswers {
    /// Area of turf: "6000 ft2", "560 m2"
    #[arg(long, value_name = "AREA")]
    pub area: Option<String>,
    /// One or two grasses: "tall fescue", "Kentucky bluegrass 60 %, perennial ryegrass 40 %"
    #[arg(long, value_name = "GRASSES")]
    pub grass: Option<String>,
    /// Share of the ground under live grass: "50 % to 60 %"
    #[arg(long, value_name = "SHARE")]
    pub cover: Option<String>,
    /// Share of the lawn under crabgrass last August: "10 % to 40 %"
    #[arg(long, value_name = "SHARE")]
    pub crabgrass: Option<String>,
    /// Sun: full, most, half, or a share such as "80 %"
    #[arg(long, value_name = "SHARE")]
    pub sun: Option<String>,
    /// Soil texture: loam, "silt loam", ..., or "sand 40 %, clay 20 %" from a soil test
    #[arg(long, value_name = "TEXTURE")]
    pub soil: Option<String>,
    /// Organic matter of the topsoil: "2 %", "1.5 % to 3 %"
    #[arg(long, value_name = "SHARE")]
    pub organic_matter: Option<String>,
    /// Compaction below the topsoil: none, moderate, severe
    #[arg(long, value_name = "HOW")]
    pub compaction: Option<String>,
    /// Weather: a carried station's name (jfk, seattle), or a daily CSV file of your own, with what it
    /// leaves open after its name: "my-station.csv, latitude 40.64, elevation 10 ft"
    #[arg(long, value_name = "STATION")]
    pub weather: Option<String>,
    /// How often the lawn is mowed now: "14 days"
    #[arg(long, value_name = "DAYS")]
    pub mow_every: Option<String>,
    /// How high it is cut: "3 in", "75 mm"
    #[arg(long, value_name = "HEIGHT")]
    pub height: Option<String>,
    /// What a person-hour of work costs: "25 $/h"
    #[arg(long, value_name = "MONEY")]
    pub hour_cost: Option<String>,
    /// Width that the mower cuts: "21 in", "30 in"
    #[arg(long, value_name = "WIDTH")]
    pub mower_width: Option<String>,
    /// What to compare with the usual care, such as "often, barrier, split"
    #[arg(long, value_name = "NAMES")]
    pub compare: Option<String>,
}

/// Arguments of `facts`.
#[derive(Clone, Debug, Args)]
pub struct FactsArgs {
    /// A name or the beginning of one, such as "barrier"; everything if not given
    pub name: Option<String>,
}

/// Arguments of `climate`.
#[derive(Clone, Debug, Args)]
pub struct ClimateArgs {
    /// A file of daily weather, or the name of a carried record (jfk, seattle)
    #[arg(value_name = "FILE")]
    pub record: String,
    /// Folder for the table and the pictures; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-climate")]
    pub out: PathBuf,
    /// Which station to take where the file holds several
    #[arg(long, value_name = "ID")]
    pub station: Option<String>,
    /// Units of the file where its columns do not say them
    #[arg(long, value_enum)]
    pub file_units: Option<FileUnits>,
    /// Latitude of the station, degrees north, where the file does not say it
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true)]
    pub latitude: Option<f64>,
    /// Elevation of the station with its unit ("10 ft"), where the file does not say it
    #[arg(long, value_name = "HEIGHT", allow_hyphen_values = true)]
    pub elevation: Option<String>,
    /// First year of the file to read
    #[arg(long, value_name = "YEAR", value_parser = clap::value_parser!(i32).range(1750..=2200))]
    pub from: Option<i32>,
    /// Last year of the file to read
    #[arg(long, value_name = "YEAR", value_parser = clap::value_parser!(i32).range(1750..=2200))]
    pub to: Option<i32>,
    /// Units in words and pictures. The table is always metric
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
}

/// Arguments of `lesson`.
#[derive(Clone, Debug, Args)]
pub struct LessonArgs {
    /// The lesson; all of them are listed if not given
    pub name: Option<String>,
    /// A lesson of your own instead (scenarios/lessons/README.md tells how one is written)
    #[arg(long, value_name = "FILE", conflicts_with = "name")]
    pub file: Option<PathBuf>,
    /// Your guess, such as B: nothing is asked then. A pipe may give it too
    #[arg(long, value_name = "LETTER", conflicts_with = "sheet")]
    pub answer: Option<String>,
    /// Write a sheet for print: questions first, answers on the pages behind. All lessons, or the
    /// one named
    #[arg(long)]
    pub sheet: bool,
    /// Folder for the sheet (swardplay-lesson if not given), or for the picture of one lesson (not
    /// drawn if not given)
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Which futures, and how they are told; 200 futures if not given.
    #[command(flatten)]
    pub options: AnalysisOptions,
}

/// Arguments of `when`.
#[derive(Clone, Debug, Args)]
pub struct WhenArgs {
    /// The scenario: a file that you wrote, or the name of a carried example
    pub scenario: String,
    /// Id of the program that has the practice
    #[arg(long, value_name = "P")]
    pub program: Option<String>,
    /// Key of the practice
    #[arg(long, value_name = "KEY")]
    pub practice: Option<String>,
    /// Which of its settings: split, date, every, height, rate, depth, or any other of its keys that
    /// is an amount or a time; that which says when, if not given
    #[arg(long, value_name = "SETTING")]
    pub setting: Option<String>,
    /// Which date, where the practice has several: 1 is the first of the year
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub nth: Option<u32>,
    /// Least value to try, with its unit: "2 weeks", "15 Mar", "2.5 in"
    #[arg(long, value_name = "VALUE", allow_hyphen_values = true)]
    pub from: Option<String>,
    /// Greatest value to try
    #[arg(long, value_name = "VALUE", allow_hyphen_values = true)]
    pub to: Option<String>,
    /// How many values to try; about 13, at round steps, if not given
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(2..=60))]
    pub steps: Option<u32>,
    /// Which outcome to judge by, such as crabgrass_peak, days_acceptable or cost; that which the
    /// practice is for, if not given
    #[arg(long, value_name = "OUTCOME")]
    pub outcome: Option<String>,
    /// Folder for the table and the picture; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-when")]
    pub out: PathBuf,
    /// Members are counted twice: so many choose the best value, as many fresh ones judge it.
    #[command(flatten)]
    pub options: AnalysisOptions,
}

/// Arguments of `diary`.
#[derive(Clone, Debug, Args)]
pub struct DiaryArgs {
    /// The scenario: a file that you wrote, or the name of a carried example
    pub scenario: String,
    /// The program to tell, by its id; the scenario's first if not given
    #[arg(long, value_name = "P")]
    pub program: Option<String>,
    /// A second program, told beside it in the same weather and with the same luck
    #[arg(long, value_name = "Q")]
    pub against: Option<String>,
    /// Which future to tell, from 1 to the number of futures; the most typical one if not given
    #[arg(long, value_name = "K", allow_negative_numbers = true)]
    pub member: Option<i64>,
    /// Tell everything, not only what matters most
    #[arg(long)]
    pub all: bool,
    /// Write the diary to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Replace the file if it is there
    #[arg(long, requires = "out")]
    pub force: bool,
    /// Which futures there are to choose from, and the units.
    #[command(flatten)]
    pub options: AnalysisOptions,
}

/// Arguments of `credit`.
#[derive(Clone, Debug, Args)]
pub struct CreditArgs {
    /// The scenario: a file that you wrote, or the name of a carried example
    pub scenario: String,
    /// Id of the program whose practices are to be credited
    #[arg(long, value_name = "P")]
    pub program: Option<String>,
    /// Id of the program that it is compared with; the first of the scenario, if not given
    #[arg(long, value_name = "BASE")]
    pub against: Option<String>,
    /// Outcomes to tell and draw, such as crabgrass_peak or cost; those that matter most, if not given.
    /// The table has all
    #[arg(long, value_name = "OUTCOME", num_args = 1..)]
    pub outcome: Vec<String>,
    /// Folder for the table and the picture; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-credit")]
    pub out: PathBuf,
    /// Which futures, and how they are told.
    #[command(flatten)]
    pub options: AnalysisOptions,
}

/// Arguments of `sheet`.
#[derive(Clone, Debug, Args)]
pub struct SheetArgs {
    /// The scenario: a file that you wrote, or the name of a carried example
    pub scenario: String,
    /// Id of the program to write the sheet of; not needed where the scenario has one
    #[arg(long, value_name = "P")]
    pub program: Option<String>,
    /// Which future the days are taken from: its number, or typical
    #[arg(long, value_name = "K", default_value = "typical", allow_hyphen_values = true)]
    pub member: String,
    /// Which season to print: 1 is the first, all prints each
    #[arg(long, value_name = "N", default_value = "1", allow_hyphen_values = true)]
    pub season: String,
    /// Language of the sheet
    #[arg(long, value_enum, default_value_t = Lang::En)]
    pub lang: Lang,
    /// What the sprayer's tank holds, such as "4 gal"; the scenario's gear if not given
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub tank: Option<String>,
    /// Folder for sheet.html and sheet.csv; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-sheet")]
    pub out: PathBuf,
    /// Which futures the dates spread over, and the units; 200 futures if not given.
    #[command(flatten)]
    pub options: AnalysisOptions,
}

/// Arguments of `thrift`.
#[derive(Clone, Debug, Args)]
pub struct ThriftArgs {
    /// The scenario: a file that you wrote, or the name of a carried example
    pub scenario: String,
    /// Id of a program to judge and to search from; may be repeated. All, if not given
    #[arg(long, value_name = "P")]
    pub program: Vec<String>,
    /// What must hold, such as "quality >= 6 on 60 % of summer days" or "crabgrass peak < 5 %"; may be
    /// repeated. Needs and budgets given here stand in place of the scenario's
    #[arg(long, value_name = "NEED")]
    pub need: Vec<String>,
    /// What there is to spend, such as "$450 a season", "40 h in all", "4 in of water" or
    /// "2 lb N/1000 ft2"; may be repeated. A season is meant where nothing is said
    #[arg(long, value_name = "AMOUNT")]
    pub budget: Vec<String>,
    /// In how many futures all of it must hold, such as "17 of 20", which is also the usual value
    #[arg(long, value_name = "ODDS")]
    pub odds: Option<String>,
    /// What the cheapest program is to spend least of: money (the usual), hours, water or nitrogen
    #[arg(long, value_name = "WHAT")]
    pub cheap_in: Option<String>,
    /// Ends between which one setting may go, such as "mow.every=7..21 days"; may be repeated
    #[arg(long, value_name = "SETTING=FROM..TO")]
    pub vary: Vec<String>,
    /// A practice, or one setting of it, that stays as it is, such as mow or mow.height; may be repeated
    #[arg(long, value_name = "NAME")]
    pub keep: Vec<String>,
    /// How many programs to try; more of them find cheaper ones and take longer
    #[arg(long, value_name = "N", default_value_t = 600,
          value_parser = clap::value_parser!(u32).range(10..=20_000))]
    pub tries: u32,
    /// Id of the program whose failure is told; the one that comes nearest to holding, if not given
    #[arg(long, value_name = "P")]
    pub story: Option<String>,
    /// Folder for the tables and pictures; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-thrift")]
    pub out: PathBuf,
    /// Members search, and twice as many fresh ones judge; 200 search if not given.
    #[command(flatten)]
    pub options: AnalysisOptions,
}

/// Arguments of `measure-first`.
#[derive(Clone, Debug, Args)]
pub struct MeasureFirstArgs {
    /// The scenario: a file that you wrote, or the name of a carried example
    pub scenario: String,
    /// Id of a program to choose from; say it at least twice. All of the scenario, if not given
    #[arg(long, value_name = "P")]
    pub program: Vec<String>,
    /// Which outcome to choose by, such as crabgrass_peak or quality_summer; if not given, the first of
    /// crabgrass, look, cover and organic matter that the programs change by what matters
    #[arg(long, value_name = "OUTCOME")]
    pub outcome: Option<String>,
    /// What one unit of the outcome is worth to you, such as "20 $ per point": it is then weighed
    /// against cost. Cost is left out if not given
    #[arg(long, value_name = "MONEY", allow_hyphen_values = true)]
    pub worth: Option<String>,
    /// Folder for the table and the picture; made if it is not there
    #[arg(long, value_name = "DIR", default_value = "swardplay-measure-first")]
    pub out: PathBuf,
    /// Which futures, and how they are told; 1000 futures if not given.
    #[command(flatten)]
    pub options: AnalysisOptions,
}

/// Units of a station file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum FileUnits {
    /// Degrees Fahrenheit and inches
    Us,
    /// Degrees Celsius and millimetres
    Metric,
    /// Tenths of a degree Celsius and of a millimetre
    Tenths,
}

impl From<FileUnits> for TableUnits {
    fn from(units: FileUnits) -> TableUnits {
        match units {
            FileUnits::Us => TableUnits::Us,
            FileUnits::Metric => TableUnits::Metric,
            FileUnits::Tenths => TableUnits::Tenths,
        }
    }
}

#[cfg(test)]
mod tests {
    use clap::{CommandFactory, Parser};

    use super::*;

    #[test]
    fn the_argument_tables_are_consistent() {
        Cli::command().debug_assert();
    }

    #[test]
    fn the_program_alone_means_play_with_its_defaults() {
        let Some(Command::Play(typed)) = Cli::parse_from(["swardplay", "play"]).command else {
            panic!("`play` is a command");
        };
        let bare = PlayArgs::example(Cli::parse_from(["swardplay"]).example);
        assert_eq!(format!("{typed:?}"), format!("{bare:?}"));
        let usual = PlayArgs::example(PlayOptions::default());
        assert_eq!(format!("{typed:?}"), format!("{usual:?}"));
    }

    #[test]
    fn the_program_alone_takes_the_options_of_play() {
        let options = ["--members", "3", "--seed", "9", "--tracks"];
        let bare = Cli::parse_from(["swardplay"].iter().chain(&options)).example;
        let Some(Command::Play(typed)) =
            Cli::parse_from(["swardplay", "play"].iter().chain(&options)).command
        else {
            panic!("`play` is a command");
        };
        assert_eq!(format!("{:?}", typed.options), format!("{bare:?}"));
    }
}
