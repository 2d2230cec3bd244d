//! Rows of a table as text, each with the line it stands in.

use csv::StringRecord;

/// A row: its line from 1, where it begins in bytes, and its cells.
pub(super) struct TableRow {
    pub line: usize,
    pub offset: usize,
    pub cells: StringRecord,
}

/// The rows of a table, quoted cells whole; blank lines are passed over, and so are lines that begin with the `comment`.
pub(super) fn table_rows(
    text: &str,
    delimiter: u8,
    comment: Option<u8>,
) -> impl Iterator<Item = Result<TableRow, (usize, String)>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter)
        .comment(comment)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut places = Places { text, comment, offset: 0, line: 1 };
    let mut ended = false;
    std::iter::from_fn(move || {
        if ended {
            return None;
        }
        let begun = usize::try_from(reader.position().byte()).unwrap_or(usize::MAX);
        let (line, offset) = places.row_from(begun);
        let mut cells = StringRecord::new();
        match reader.read_record(&mut cells) {
            Ok(true) => Some(Ok(TableRow { line, offset, cells })),
            Ok(false) => None,
            Err(error) => {
                ended = true;
                Some(Err((line, error.to_string())))
            }
        }
    })
}

/// Counts lines. The reader tells where it began to look, which is before the blanks and comments it passes over.
struct Places<'t> {
    text: &'t str,
    comment: Option<u8>,
    offset: usize,
    line: usize,
}

impl Places<'_> {
    /// The line and the byte of the first row at or after a byte.
    fn row_from(&mut self, byte: usize) -> (usize, usize) {
        let byte = byte.clamp(self.offset, self.text.len());
        let between = self.text.as_bytes().get(self.offset..byte).unwrap_or_default();
        self.line += between.iter().filter(|b| **b == b'\n').count();
        self.offset = byte;
        loop {
            let rest = self.text.as_bytes().get(self.offset..).unwrap_or_default();
            let length = rest.iter().position(|b| *b == b'\n').map_or(rest.len(), |n| n + 1);
            let line = rest.get(..length).unwrap_or_default();
            let skipped = line.iter().all(|b| matches!(b, b'\r' | b'\n')) || line.first() == self.comment.as_ref();
            if !skipped || length == 0 {
                return (self.line, self.offset);
            }
            self.offset += length;
            self.line += 1;
        }
    }
}
