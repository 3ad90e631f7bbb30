//! Counting tests from what the test runners print.

use std::fmt;
use std::ops::AddAssign;

/// Tests passed and failed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// How many passed.
    pub passed: u32,
    /// How many failed.
    pub failed: u32,
}

impl Tally {
    /// One check, passed.
    pub const PASSED: Self = Self {
        passed: 1,
        failed: 0,
    };
    /// One check, failed.
    pub const FAILED: Self = Self {
        passed: 0,
        failed: 1,
    };

    /// What one line of a runner's output adds.
    ///
    /// Cargo's runner sums up each program as
    /// `test result: ok. 3 passed; 0 failed; ...`, node's a file as
    /// `# pass 3` and `# fail 0` on lines of their own, with another mark
    /// than `#` on a terminal.
    pub fn of_line(line: &str) -> Self {
        let mut tally = Self::default();
        if let Some(results) = line.strip_prefix("test result: ") {
            for part in results.split([';', '.']) {
                let mut words = part.split_whitespace();
                let count = words.next().and_then(|word| word.parse().ok());
                match (count, words.next()) {
                    (Some(count), Some("passed")) => tally.passed = count,
                    (Some(count), Some("failed")) => tally.failed = count,
                    _ => {}
                }
            }
            return tally;
        }
        let words: Vec<&str> = line.split_whitespace().collect();
        if let [mark, what, count] = words.as_slice()
            && matches!(*mark, "#" | "ℹ")
            && let Ok(count) = count.parse()
        {
            match *what {
                "pass" => tally.passed = count,
                "fail" | "cancelled" => tally.failed = count,
                _ => {}
            }
        }
        tally
    }

    /// The sum of a runner's whole output, given whether it reported success:
    /// a failure that names no failed test still counts, and so does a success
    /// that ran no test at all.
    pub fn of_run(self, success: bool) -> Self {
        let nothing_ran = self == Self::default();
        if (!success && self.failed == 0) || (success && nothing_ran) {
            Self {
                failed: self.failed + 1,
                ..self
            }
        } else {
            self
        }
    }
}

impl AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.passed += other.passed;
        self.failed += other.failed;
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} passed, {} failed", self.passed, self.failed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sum(output: &str) -> Tally {
        let mut tally = Tally::default();
        for line in output.lines() {
            tally += Tally::of_line(line);
        }
        tally
    }

    #[test]
    fn cargos_results_are_summed() {
        let output = "running 3 tests\ntest a ... ok\n\
            test result: ok. 3 passed; 0 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.10s\n\
            test result: FAILED. 2 passed; 1 failed; 0 ignored; 0 measured; 0 filtered out; finished in 1.00s\n";
        assert_eq!(
            sum(output),
            Tally {
                passed: 5,
                failed: 1
            }
        );
    }

    #[test]
    fn nodes_results_are_summed_in_both_dresses() {
        for mark in ["#", "ℹ"] {
            let output = format!(
                "{mark} tests 4\n{mark} suites 0\n{mark} pass 2\n{mark} fail 1\n\
                 {mark} cancelled 1\n{mark} skipped 0\n{mark} todo 0\n{mark} duration_ms 81.2\n"
            );
            assert_eq!(
                sum(&output),
                Tally {
                    passed: 2,
                    failed: 2
                },
                "{mark}"
            );
        }
    }

    #[test]
    fn a_failure_without_a_named_test_counts() {
        let three = Tally {
            passed: 3,
            failed: 0,
        };
        assert_eq!(three.of_run(true), three);
        assert_eq!(three.of_run(false).failed, 1);
        assert_eq!(Tally::default().of_run(true), Tally::FAILED);
        assert_eq!(Tally::FAILED.of_run(false), Tally::FAILED);
    }
}
