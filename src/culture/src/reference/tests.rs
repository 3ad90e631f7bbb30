//! Deliberate damage in the data: each kind must be refused with the right error.

use super::*;

/// The error for the reference with one place in its crops replaced.
fn damaged(from: &str, to: &str) -> CultureError {
    assert!(CROPS.contains(from), "{from}");
    match Reference::parse(&CROPS.replacen(from, to, 1), SOURCES) {
        Err(error) => error,
        Ok(_) => panic!("{from} -> {to} went through"),
    }
}

/// The error with a figure of yarrow, the first crop, replaced.
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
fn an_unreadable_file_is_refused() {
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
fn memory_and_practice_are_never_sourced() {
    for keys in ["M", "CP", "M CP", "derived"] {
        let error = spacing(&format!("[25,30,45,\"{keys}\",\"s\"]"));
        assert!(is_unsourced(&error, "spacing_cm"), "{keys}: {error}");
    }
}

#[test]
fn a_range_out_of_order_or_out_of_its_limits_is_refused() {
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

/// The table of definitions has the unit and limits of every figure, so a figure without a unit is one that
/// the table lacks.
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
fn a_duplicate_crop_is_refused() {
    let error = damaged("\"id\":\"zinnia\"", "\"id\":\"cosmos\"");
    assert_eq!(error, CultureError::Twice("cosmos".to_owned()));
}

#[test]
fn an_unknown_rule_is_refused() {
    let error = damaged("\"mat\":\"M1\"", "\"mat\":\"M9\"");
    assert!(
        matches!(&error, CultureError::Unknown { what: "rule", name, .. } if name == "M9"),
        "{error}"
    );
}
