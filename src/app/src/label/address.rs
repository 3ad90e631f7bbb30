//! The address that a label's code holds, and the tray that an address names.
//!
//! It is the app's own address with the tray's place behind it, so that a phone's camera opens the app at the tray without the
//! app's help. Two devices may have the app at different addresses: which tray is meant stands behind the `#` alone.

use season::ids::SowingId;

use crate::route::Route;

/// The app's own address, from that of one of its pages: what stands behind a `?` or `#` is of that page alone.
pub fn of_app(href: &str) -> &str {
    href.split(['?', '#']).next().unwrap_or_default()
}

/// The address of a tray in the app of which a page is at `href`.
pub fn of_tray(href: &str, id: &SowingId) -> String {
    format!("{}{}", of_app(href), Route::Tray(id.clone()).href())
}

/// The tray that a label's text names; `None` where it is another text. Whether the tray is known here is not asked.
pub fn tray_in(text: &str) -> Option<SowingId> {
    let (_, hash) = text.trim().rsplit_once('#')?;
    match hash.parse() {
        Ok(Route::Tray(id)) => Some(id),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Put together, since the app itself names no host.
    fn host(rest: &str) -> String {
        ["https:", "", rest].join("/")
    }

    #[test]
    fn an_address_names_its_tray_wherever_the_app_is() {
        let id = SowingId::mint(1_800_000_000_000, 7);
        for href in [
            host("farm.example/"),
            host("farm.example/app/index.html?today=2027-02-15#/bench/labels"),
            host("localhost:8080/#/today"),
        ] {
            let address = of_tray(&href, &id);
            assert!(!address.contains('?'), "{address}");
            assert!(address.starts_with(href.split(['?', '#']).next().unwrap()));
            assert_eq!(tray_in(&address), Some(id.clone()), "{address}");
        }
        assert_eq!(
            of_tray(&host("farm.example/app/?today=2027-02-15"), &id),
            host(&format!("farm.example/app/#/bench/{id}"))
        );
    }

    #[test]
    fn other_texts_name_no_tray() {
        for text in [
            "",
            "41",
            "#",
            "#/bench",
            "#/bench/new",
            "#/bench/find",
            "#/bench/labels",
            "#/beds/01J8",
            "#/bench/a b",
            "WIFI:S:barn;;",
        ] {
            assert_eq!(tray_in(text), None, "{text}");
        }
        assert_eq!(tray_in(&host("elsewhere.example/shop#/bench")), None);
    }
}
