//! Scenario texts made from the demo lawn: the same lawn, crew and weather, other programs.

use std::error::Error;
use swardplay::carried;
use toml::{Table, Value};

/// What a text could not be made from.
type Fault = Box<dyn Error>;

/// The demo's name.
pub const DEMO: &str = "thin-front-lawn";

/// Texts with the demo's lawn, weather, run and crew.
pub struct Texts {
    demo: Table,
    usual: Table,
}

impl Texts {
    /// Reads the demo; its first program is the usual care that all others are made from.
    pub fn new() -> Result<Texts, Fault> {
        let mut demo: Table = carried::example(DEMO).ok_or("no demo scenario")?.parse()?;
        let programs = demo.remove("program").ok_or("the demo has no program")?;
        let usual = programs.as_array().and_then(|all| all.first()).and_then(Value::as_table);
        let usual = usual.ok_or("the demo's first program is no table")?.clone();
        Ok(Texts { demo, usual })
    }

    /// The usual care under another name.
    pub fn usual(&self, id: &str) -> Program {
        let mut table = self.usual.clone();
        table.insert("id".into(), id.into());
        table.insert("title".into(), id.into());
        Program { table }
    }

    /// A scenario with these programs and constants.
    pub fn scenario(
        &self,
        programs: Vec<Program>,
        constants: &[(String, f64)],
    ) -> Result<String, Fault> {
        let mut all = self.demo.clone();
        let programs = programs.into_iter().map(|p| Value::Table(p.table)).collect();
        all.insert("program".into(), Value::Array(programs));
        let mut table = match all.remove("constants") {
            Some(Value::Table(table)) => table,
            _ => Table::new(),
        };
        for (name, value) in constants {
            table.insert(name.clone(), Value::Float(*value));
        }
        if !table.is_empty() {
            all.insert("constants".into(), Value::Table(table));
        }
        Ok(toml::to_string(&all)?)
    }
}

/// A program of a scenario text.
pub struct Program {
    table: Table,
}

impl Program {
    /// Without the barrier.
    pub fn bare(mut self) -> Result<Program, Fault> {
        self.practices()?.retain(|p| what(p) != Some("pre-emergent"));
        Ok(self)
    }

    /// With the barrier of a product laid on a date: once, or in two halves so many weeks apart.
    pub fn barrier(
        mut self,
        product: &str,
        rate: &str,
        on: &str,
        split_weeks: Option<u32>,
    ) -> Result<Program, Fault> {
        let barrier = self.practice("pre-emergent")?;
        for key in ["soil-temperature", "for", "from", "to", "active", "carrier", "strength"] {
            barrier.remove(key);
        }
        barrier.insert("product".into(), product.into());
        barrier.insert("rate".into(), rate.into());
        barrier.insert("on".into(), Value::Array(vec![on.into()]));
        if let Some(weeks) = split_weeks {
            barrier.insert("split".into(), format!("{weeks} weeks").into());
        }
        Ok(self)
    }

    /// Cut every so many days at a height; grass shorter than that is left.
    pub fn mown(mut self, days: u32, height: &str) -> Result<Program, Fault> {
        let mow = self.practice("mow")?;
        mow.insert("every".into(), format!("{days} days").into());
        mow.insert("height".into(), height.into());
        if let Some(Value::Array(holds)) = mow.get_mut("hold") {
            let short = |hold: &Value| hold.as_str().is_some_and(|h| h.starts_with("shorter than"));
            for hold in holds.iter_mut().filter(|h| short(h)) {
                *hold = format!("shorter than {height}").into();
            }
        }
        Ok(self)
    }

    fn practices(&mut self) -> Result<&mut Vec<Value>, Fault> {
        let all = self.table.get_mut("practice").and_then(Value::as_array_mut);
        Ok(all.ok_or("the demo's usual care has no practices")?)
    }

    fn practice(&mut self, wanted: &str) -> Result<&mut Table, Fault> {
        let found = self.practices()?.iter_mut().find(|p| what(p) == Some(wanted));
        let table = found.and_then(Value::as_table_mut);
        Ok(table
            .ok_or_else(|| format!("the demo's usual care has no practice that does {wanted}"))?)
    }
}

fn what(practice: &Value) -> Option<&str> {
    practice.get("do").and_then(Value::as_str)
}
