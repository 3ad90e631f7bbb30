//! What is wrong with a file, an entry or a record, as a sentence: what, where, and what to do.

use super::{Arg, Say};
use crate::entry::EntryError;
use crate::file::{FileError, VERSION};
use crate::limits::{ENTRY_BYTES_MAX, FILE_BYTES_MAX, FILE_ENTRIES_MAX};
use crate::log::Log;
use crate::state::{Problem, ProblemKind};

/// Why a file was not taken.
pub fn of_file(error: &FileError) -> Say {
    match error {
        FileError::TooLarge => Say::new("file.too_large").with("n", FILE_BYTES_MAX / (1024 * 1024)),
        FileError::TooManyEntries => Say::new("file.too_many").with("n", FILE_ENTRIES_MAX),
        FileError::Empty => Say::new("file.empty"),
        FileError::NotText { line } => Say::new("file.not_text").with("line", *line),
        FileError::NotJson {
            line,
            cut_short: true,
            ..
        } => Say::new("file.cut_short").with("line", *line),
        FileError::NotJson { line, column, .. } => Say::new("file.not_json")
            .with("line", *line)
            .with("column", *column),
        FileError::NotOurs => Say::new("file.not_ours"),
        FileError::Newer { version } => Say::new("file.newer")
            .with("version", *version)
            .with("known", VERSION),
        FileError::BadEnvelope { line, .. } => Say::new("file.bad_envelope").with("line", *line),
        FileError::BadEntry { number, line, why } => Say::new("file.bad_entry")
            .with("number", *number)
            .with("line", *line)
            .with("why", of_entry(why)),
        FileError::TwiceTheSame { number, line } => Say::new("file.twice")
            .with("number", *number)
            .with("line", *line),
        FileError::WrongCount { said, found } => Say::new("file.wrong_count")
            .with("said", *said)
            .with("found", *found),
        FileError::WrongSum => Say::new("file.wrong_sum"),
    }
}

/// Why a text is no entry.
pub fn of_entry(error: &EntryError) -> Say {
    match error {
        EntryError::TooLong => Say::new("entry.too_long").with("n", ENTRY_BYTES_MAX / 1024),
        EntryError::NotAnObject(_) => Say::new("entry.not_an_object"),
        EntryError::BadField(field) => Say::new("entry.bad_field").with("field", *field),
        EntryError::BadNumber(number) => {
            Say::new("entry.bad_number").with("number", number.as_str())
        }
    }
}

/// What does not add up about an entry of a log, with its kind and, for an event, its day.
pub fn of_problem(log: &Log, problem: &Problem) -> Say {
    let entry = log.get(&problem.entry);
    let kind = entry.and_then(|entry| kind_key(entry.kind()));
    Say::new(key_of(problem.what))
        .with("kind", kind.map_or(Arg::Key("kind.unknown"), Arg::Key))
        .with_some("date", entry.and_then(|entry| entry.fact().date()))
}

fn key_of(what: ProblemKind) -> &'static str {
    match what {
        ProblemKind::Unreadable => "problem.unreadable",
        ProblemKind::Dangling => "problem.dangling",
        ProblemKind::BeforeItsTarget => "problem.before_its_target",
        ProblemKind::BeforeItsStart => "problem.before_its_start",
        ProblemKind::MoreThanThere => "problem.more_than_there",
    }
}

/// The key of the word for a kind of entry as written in files; `None` for a kind that this version does not know.
pub fn kind_key(kind: &str) -> Option<&'static str> {
    super::keys().find(|key| key.strip_prefix("kind.") == Some(kind) && *key != "kind.unknown")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::KINDS;
    use crate::words::Manner;

    #[test]
    fn every_kind_of_entry_has_a_word() {
        for kind in KINDS.iter() {
            assert!(kind_key(kind.name).is_some(), "{}", kind.name);
        }
        assert_eq!(kind_key("grafted"), None);
        assert_eq!(kind_key("unknown"), None);
    }

    /// A sentence says all that it is given, and leaves no gap and no bare key.
    #[test]
    fn every_fault_is_a_whole_sentence() {
        let faults = [
            (FileError::TooLarge, vec!["256"]),
            (FileError::TooManyEntries, vec!["1000000"]),
            (FileError::Empty, vec![]),
            (FileError::NotText { line: 7 }, vec!["7"]),
            (
                FileError::NotJson {
                    line: 12,
                    column: 34,
                    cut_short: false,
                },
                vec!["12", "34"],
            ),
            (
                FileError::NotJson {
                    line: 56,
                    column: 1,
                    cut_short: true,
                },
                vec!["56"],
            ),
            (FileError::NotOurs, vec![]),
            (FileError::Newer { version: 9 }, vec!["9", "1"]),
            (
                FileError::BadEnvelope {
                    line: 3,
                    why: "x".into(),
                },
                vec!["3"],
            ),
            (
                FileError::BadEntry {
                    number: 21,
                    line: 22,
                    why: EntryError::BadField("at"),
                },
                vec!["21", "22", "at"],
            ),
            (
                FileError::BadEntry {
                    number: 1,
                    line: 2,
                    why: EntryError::TooLong,
                },
                vec!["1", "2", "64"],
            ),
            (
                FileError::BadEntry {
                    number: 1,
                    line: 2,
                    why: EntryError::NotAnObject("x".into()),
                },
                vec!["1", "2"],
            ),
            (
                FileError::BadEntry {
                    number: 1,
                    line: 2,
                    why: EntryError::BadNumber("9e99".into()),
                },
                vec!["1", "2", "9e99"],
            ),
            (
                FileError::TwiceTheSame { number: 5, line: 6 },
                vec!["5", "6"],
            ),
            (
                FileError::WrongCount {
                    said: 40,
                    found: 39,
                },
                vec!["40", "39"],
            ),
            (FileError::WrongSum, vec![]),
        ];
        let mut seen = std::collections::BTreeSet::new();
        for (fault, says) in faults {
            let sentence = of_file(&fault).write(Manner::default());
            assert!(sentence.ends_with('.'), "{fault:?}: {sentence}");
            assert!(
                sentence.contains(' '),
                "{fault:?} is a bare key: {sentence}"
            );
            assert!(
                !sentence.contains("  ") && !sentence.contains('{'),
                "{sentence}"
            );
            for part in says {
                assert!(sentence.contains(part), "{part} is not in: {sentence}");
            }
            assert!(seen.insert(sentence.clone()), "twice: {sentence}");
        }
    }
}
