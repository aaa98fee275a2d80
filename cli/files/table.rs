//! Comma-separated tables: LF line ends, a header line, rounded figures.

use std::io::{self, Write};

use sim::calendar::Day;

use crate::round;

/// A table being written. Cells are pushed one by one; [`Table::end`] closes a row.
pub struct Table<'a> {
    csv: csv::Writer<&'a mut dyn Write>,
    cell: String,
}

impl<'a> Table<'a> {
    /// Starts a table with its header.
    ///
    /// # Errors
    /// Where the header cannot be written.
    pub fn start(out: &'a mut dyn Write, header: &[&str]) -> io::Result<Table<'a>> {
        let csv =
            csv::WriterBuilder::new().terminator(csv::Terminator::Any(b'\n')).from_writer(out);
        let mut table = Table { csv, cell: String::new() };
        table.csv.write_record(header)?;
        Ok(table)
    }

    /// Adds a text cell.
    ///
    /// # Errors
    /// Where it cannot be written; so for all others.
    pub fn text(&mut self, text: &str) -> io::Result<()> {
        Ok(self.csv.write_field(text)?)
    }

    /// Adds a whole number.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn count(&mut self, count: usize) -> io::Result<()> {
        use std::fmt::Write as _;
        self.cell.clear();
        let _ = write!(self.cell, "{count}");
        Ok(self.csv.write_field(&self.cell)?)
    }

    /// Adds a figure with so many decimals.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn figure(&mut self, value: f64, decimals: usize) -> io::Result<()> {
        round::put(&mut self.cell, value, decimals);
        Ok(self.csv.write_field(&self.cell)?)
    }

    /// Closes the row.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn end(&mut self) -> io::Result<()> {
        Ok(self.csv.write_record(None::<&[u8]>)?)
    }

    /// Closes the table.
    ///
    /// # Errors
    /// Where the rest cannot be written.
    pub fn finish(mut self) -> io::Result<()> {
        self.csv.flush()
    }
}

/// ISO dates of a run of days, made once.
pub fn dates(first: Day, days: usize) -> Vec<String> {
    (0..days).map(|d| first.plus(d as i32).to_string()).collect()
}
