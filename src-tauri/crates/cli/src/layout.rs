//! Text on a terminal: columns, headings and paragraphs that fit its width.

use std::io::IsTerminal;

use hibernacle_contract::records::Caution;
use hibernacle_contract::wording::Wording;
use textwrap::core::display_width;

/// Width used where the output is no terminal.
const USUAL_WIDTH: usize = 100;
/// Narrowest width that texts are laid out for.
const LEAST_WIDTH: usize = 40;
/// Space between two columns.
const GAP: &str = "  ";

/// The width of the terminal; absent where the output is none.
fn terminal_width() -> Option<usize> {
    std::io::stdout().is_terminal().then(|| textwrap::termwidth().max(LEAST_WIDTH))
}

/// The width to lay paragraphs out for.
fn width() -> usize {
    terminal_width().unwrap_or(USUAL_WIDTH)
}

/// A heading with a line under it.
pub(crate) fn heading(text: &str) -> String {
    format!("{text}\n{}\n", "─".repeat(display_width(text).min(width())))
}

/// A paragraph, indented.
pub(crate) fn paragraph(text: &str, indent: &str) -> String {
    marked(text, indent, indent)
}

/// A paragraph whose first line starts with a mark and whose others are indented.
pub(crate) fn marked(text: &str, mark: &str, indent: &str) -> String {
    let options = textwrap::Options::new(width())
        .initial_indent(mark)
        .subsequent_indent(indent)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    format!("{}\n", textwrap::fill(text, options))
}

/// Cautions with their whole texts.
pub(crate) fn cautions(cautions: impl IntoIterator<Item = Caution>, wording: &Wording) -> String {
    let mut text = String::new();
    for caution in cautions {
        text += &format!("\n! {}\n", wording.caution_title(caution));
        for line in wording.word(caution).lines() {
            text += &paragraph(line, "  ");
        }
    }
    text
}

/// Rows of cells in columns. On a terminal the last column is wrapped where it is too wide; in a file or pipe a row
/// stays one line, so that other programs can search it.
#[derive(Default)]
pub(crate) struct Table {
    rows: Vec<Vec<String>>,
}

impl Table {
    /// A table with a line of headings.
    pub(crate) fn headed(headings: &[String]) -> Self {
        Self { rows: vec![headings.to_vec()] }
    }

    /// Adds a row.
    pub(crate) fn row<const N: usize>(&mut self, cells: [String; N]) {
        self.rows.push(cells.into());
    }

    /// Adds a row of as many cells as there are headings.
    pub(crate) fn cells(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    /// The table as lines, indented.
    pub(crate) fn text(&self, indent: &str) -> String {
        let columns = self.rows.iter().map(Vec::len).max().unwrap_or_default();
        let widths: Vec<usize> = (0..columns)
            .map(|column| {
                self.rows
                    .iter()
                    .filter_map(|row| row.get(column))
                    .map(|cell| display_width(cell))
                    .max()
                    .unwrap_or(0)
            })
            .collect();
        self.rows.iter().map(|row| line(row, &widths, indent)).collect()
    }
}

fn line(cells: &[String], widths: &[usize], indent: &str) -> String {
    let mut start = indent.to_owned();
    let Some((last, others)) = cells.split_last() else { return "\n".to_owned() };
    for (cell, width) in others.iter().zip(widths) {
        start.push_str(cell);
        start.push_str(&" ".repeat(width.saturating_sub(display_width(cell))));
        start.push_str(GAP);
    }
    let under = " ".repeat(display_width(&start));
    let room = terminal_width().map_or(usize::MAX, |width| width.saturating_sub(under.len()));
    let text = if last.is_empty() {
        start.clone()
    } else if room < 20 || display_width(last) <= room {
        format!("{start}{last}")
    } else {
        marked(last, &start, &under)
    };
    format!("{}\n", text.trim_end())
}
