//! One line of CSV at a time, so that line numbers are the file's own and a stray quote cannot
//! swallow the rest of the file.

use super::record::RecordFault;

/// Longest line of a table, bytes: one with every element of NOAA's has some 3,000.
const LINE_MOST: usize = 1 << 16;

/// Splits lines into fields, with a reader and buffers that are used again: to make a reader costs
/// a hundred times what it costs to split a line.
pub(super) struct CsvLine {
    reader: csv_core::Reader,
    text: Vec<u8>,
    ends: Vec<usize>,
}

impl CsvLine {
    pub(super) fn new() -> CsvLine {
        // The line is one record whatever is in it: a stray CR is not its end.
        let end = csv_core::Terminator::Any(b'\n');
        let reader = csv_core::ReaderBuilder::new().terminator(end).build();
        CsvLine { reader, text: Vec::new(), ends: Vec::new() }
    }

    /// The fields of a line, unquoted and trimmed.
    ///
    /// # Errors
    /// A quote that is opened and not closed on the line, or a line that is no day's.
    pub(super) fn split(&mut self, line: &str, number: usize) -> Result<Vec<String>, RecordFault> {
        if line.len() > LINE_MOST {
            let message = format!("the line is longer than {LINE_MOST} characters");
            return Err(RecordFault::new(message, "a table with a line for each day").at(number));
        }
        if line.matches('"').count() % 2 == 1 {
            return Err(RecordFault::new(
                "a quotation mark is opened and not closed",
                "quotation marks in pairs",
            )
            .at(number));
        }
        self.text.resize(line.len() + 1, 0);
        self.ends.resize(line.len() + 2, 0);
        self.reader.reset();
        let (mut read, mut wrote, mut fields) = (0, 0, 0);
        // The second turn, without input, tells the reader that the line is over.
        for _ in 0..2 {
            let (_, r, w, e) = self.reader.read_record(
                &line.as_bytes()[read..],
                &mut self.text[wrote..],
                &mut self.ends[fields..],
            );
            read += r;
            wrote += w;
            fields += e;
        }
        let mut start = 0;
        Ok(self.ends[..fields]
            .iter()
            .map(|&end| {
                let field = String::from_utf8_lossy(&self.text[start..end]);
                start = end;
                // A blank before a quote keeps it from being one for the reader: take it off here.
                field.trim().trim_matches('"').trim().to_owned()
            })
            .collect())
    }
}
