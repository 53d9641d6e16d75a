//! Lines of a text by byte offset.

/// Where the lines of a text begin.
pub(crate) struct Lines {
    starts: Vec<usize>,
}

impl Lines {
    /// Finds the lines of a text.
    pub(crate) fn of(text: &str) -> Self {
        let newlines = text.bytes().enumerate().filter(|&(_, byte)| byte == b'\n');
        Self { starts: newlines.map(|(at, _)| at + 1).collect() }
    }

    /// 1-based line of a byte offset; an offset past the end is on the last line.
    pub(crate) fn number(&self, offset: usize) -> usize {
        1 + self.starts.partition_point(|&start| start <= offset)
    }
}

#[cfg(test)]
mod tests {
    use super::Lines;

    #[test]
    fn an_offset_is_on_the_line_that_holds_its_byte() {
        let lines = Lines::of("one\ntwo\n\nfour");
        let found: Vec<usize> = [0, 3, 4, 7, 8, 9, 12, 99].map(|offset| lines.number(offset)).to_vec();
        assert_eq!(found, [1, 1, 2, 2, 3, 4, 4, 4]);
    }

    #[test]
    fn an_empty_text_has_one_line() {
        assert_eq!(Lines::of("").number(0), 1);
    }
}
