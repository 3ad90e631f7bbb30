//! Checks against published figures live in this package's `tests` folder.
