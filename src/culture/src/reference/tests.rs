//! Damage in the data, done on purpose: each kind must be refused by its name.

use super::*;

/// The reference with one place in its crops replaced by another text.
fn damaged(from: &str, to: &str) -> CultureError {
    assert!(CROPS.contains(from), "{from}");
    match Reference::parse(&CROPS.replacen(from, to, 1), SOURCES) {
        Err(error) => error,
        Ok(_) => panic!("{from} -> {to} went through"),
    }
}

/// The reference with a figure of yarrow, the first crop, replaced.
fn spacing(figure: &str) -> CultureError {
    let line = CROPS
        .lines()
        .find(|line| line.starts_with("\"spacing_cm\":"))
        .unwrap();
    damaged(line, &format!("\"spacing_cm\":{figure},"))
}

fn is_unsourced(error: &CultureError, figure: &str) -> bool {
    matches!(error, CultureError::Unsourced { name, .. } if name == figure)
}

#[test]
fn a_file_that_cannot_be_read_is_refused() {
    for (crops, sources) in [
        ("{", SOURCES),
        (CROPS, "{"),
        (CROPS, "{\"M\":[\"Memory.\"]}"),
    ] {
        assert!(matches!(
            Reference::parse(crops, sources),
            Err(CultureError::Unreadable(_))
        ));
    }
    for figure in [
        "[25,30]",
        "[25,30,45]",
        "[25,null,45,\"M\"]",
        "[25,30,45,\"M\",\"x\"]",
    ] {
        assert!(
            matches!(spacing(figure), CultureError::Unreadable(_)),
            "{figure}"
        );
    }
    assert!(matches!(
        Reference::parse(CROPS, &SOURCES.replacen("\"part read\"", "\"skimmed\"", 1)),
        Err(CultureError::Unreadable(_))
    ));
}

#[test]
fn a_figure_without_a_source_is_refused() {
    for keys in ["", " "] {
        let error = spacing(&format!("[25,30,45,\"{keys}\"]"));
        assert!(is_unsourced(&error, "spacing_cm"), "{error}");
    }
    let error = spacing("[25,30,45,\"ARM NOBODY\"]");
    assert!(
        matches!(&error, CultureError::Unknown { what: "source", name, .. } if name == "NOBODY"),
        "{error}"
    );
}

#[test]
fn a_note_without_a_source_is_refused() {
    let error = damaged("\"pinch\":[\"no\",\"M\"]", "\"pinch\":[\"no\",\"\"]");
    assert!(is_unsourced(&error, "pinch"), "{error}");
}

#[test]
fn nothing_is_sourced_that_rests_on_memory_or_practice() {
    for keys in ["M", "CP", "M CP", "derived"] {
        let error = spacing(&format!("[25,30,45,\"{keys}\",\"s\"]"));
        assert!(is_unsourced(&error, "spacing_cm"), "{keys}: {error}");
    }
}

#[test]
fn a_range_upside_down_or_out_of_its_limits_is_refused() {
    for figure in [
        "[45,30,25,\"ARM\"]",
        "[31,30,45,\"ARM\"]",
        "[25,30,29,\"ARM\"]",
        "[null,300,null,\"ARM\"]",
        "[1,30,45,\"ARM\"]",
        "[25,30,450,\"ARM\"]",
    ] {
        let error = spacing(figure);
        assert!(
            matches!(&error, CultureError::OutOfRange { crop, figure, .. }
                if crop == "achillea" && figure == "spacing_cm"),
            "{figure}: {error}"
        );
    }
}

/// The table of definitions gives every figure its unit and its limits, so a
/// figure without a unit is one that the table does not know.
#[test]
fn a_figure_without_a_unit_is_refused() {
    let error = damaged("\"spacing_cm\":[", "\"spacing_span\":[");
    assert!(
        matches!(&error, CultureError::NoSuchFigure { figure, .. } if figure == "spacing_span"),
        "{error}"
    );
    let error = damaged(
        "\"every_crop\":{",
        "\"every_crop\":{\"scent\":[1,2,3,\"M\"],",
    );
    assert!(
        matches!(&error, CultureError::NoSuchFigure { figure, .. } if figure == "scent"),
        "{error}"
    );
}

#[test]
fn a_crop_that_stands_twice_is_refused() {
    let error = damaged("\"id\":\"zinnia\"", "\"id\":\"cosmos\"");
    assert_eq!(error, CultureError::Twice("cosmos".to_owned()));
}

#[test]
fn a_rule_that_does_not_exist_is_refused() {
    let error = damaged("\"mat\":\"M1\"", "\"mat\":\"M9\"");
    assert!(
        matches!(&error, CultureError::Unknown { what: "rule", name, .. } if name == "M9"),
        "{error}"
    );
}
