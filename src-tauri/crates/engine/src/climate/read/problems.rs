//! Problems met while reading, with long runs summed up.

use super::super::RecordProblem;

/// Problems of one kind that are told one by one; further ones are summed up.
const TOLD: usize = 3;

/// Collects problems by kind.
#[derive(Debug, Default)]
pub(super) struct ProblemLog {
    kinds: Vec<Kind>,
}

#[derive(Debug)]
struct Kind {
    /// What they are, in the plural, for the sum (`days given twice`).
    plural: &'static str,
    told: Vec<RecordProblem>,
    count: u32,
    /// Line of the first that is not told, and of the last.
    untold: (u32, u32),
}

impl ProblemLog {
    /// Notes a problem; `what` says what was found and what was done about it.
    pub(super) fn add(&mut self, line: u32, plural: &'static str, what: impl FnOnce() -> String) {
        let at = self.kinds.iter().position(|kind| kind.plural == plural).unwrap_or_else(|| {
            self.kinds.push(Kind { plural, told: Vec::new(), count: 0, untold: (0, 0) });
            self.kinds.len() - 1
        });
        let kind = &mut self.kinds[at];
        kind.count += 1;
        if kind.told.len() < TOLD {
            kind.told.push(RecordProblem { line, what: what() });
        } else if kind.untold.0 == 0 {
            kind.untold = (line, line);
        } else {
            kind.untold.1 = line;
        }
    }

    /// The first problem by line.
    pub(super) fn first(&self) -> Option<&RecordProblem> {
        self.kinds.iter().flat_map(|kind| &kind.told).min_by_key(|problem| problem.line)
    }

    /// All problems in order of their lines.
    pub(super) fn finish(self) -> Vec<RecordProblem> {
        let mut problems: Vec<RecordProblem> = Vec::new();
        for kind in self.kinds {
            let more = kind.count as usize - kind.told.len();
            problems.extend(kind.told);
            let (first, last) = kind.untold;
            if more > 0 {
                let until = if last > first { format!(", the last in line {last}") } else { String::new() };
                problems
                    .push(RecordProblem { line: first, what: format!("{more} more {}{until}", kind.plural) });
            }
        }
        problems.sort_by_key(|problem| problem.line);
        problems
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_runs_are_summed_up() {
        let mut log = ProblemLog::default();
        for line in 1..=6 {
            log.add(line * 10, "days given twice", || format!("problem {line}"));
        }
        log.add(15, "odd lines", || "odd".into());
        let told: Vec<(u32, String)> = log.finish().into_iter().map(|p| (p.line, p.what)).collect();
        let expected = [
            (10, "problem 1"),
            (15, "odd"),
            (20, "problem 2"),
            (30, "problem 3"),
            (40, "3 more days given twice, the last in line 60"),
        ];
        assert_eq!(told, expected.map(|(line, what)| (line, what.to_string())));
    }
}
