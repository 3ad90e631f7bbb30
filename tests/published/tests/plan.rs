//! The plan's figures compared with worked examples of a growers' handbook: the handbook derives them from
//! the figures given with them, so they check the arithmetic only.

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot set up must stop"
)]

#[path = "../../../src/season/tests/book/mod.rs"]
mod book;

use std::collections::BTreeMap;

use agronomy::climate::Cover;
use book::{Book, day};
use culture::Reference;
use season::fact::Wanted;
use season::forecast::stem_figures;
use season::plan::{cells_for, latest_sowing};

fn own(figures: &[(&str, f64)]) -> BTreeMap<String, f64> {
    figures
        .iter()
        .map(|(name, value)| ((*name).to_owned(), *value))
        .collect()
}

/// "60 stems a week x 6 weeks of snapdragon = 360; at 4 stems per plant, 70% marketable, 85% sold: 360/(4 x 0.7 x 0.85) = 151 plants."
#[test]
fn plants_for_stems_agree_with_the_worked_example() {
    let reference = Reference::builtin().expect("reference");
    let crop = reference.crop("antirrhinum").expect("snapdragon");
    let crop = crop
        .with_overrides(&own(&[
            ("stems_per_plant_season", 4.0),
            ("marketable_field", 0.7),
        ]))
        .expect("possible figures");
    let figures = stem_figures(&crop, Cover::Open).expect("figures");
    let plants = 60.0 * 6.0 / (figures.saleable_per_plant() * 0.85);
    assert_eq!(plants.round() as i64, 151);
}

/// "Over-sow factor = safety / (germination x usable). Safety 1.12, usable 0.92. So 85% germination gives
/// 1.43, 65% gives 1.87." The plan uses a probability of 80 % instead of a safety factor: for a hundred or
/// two plants the two agree within 8 %. (The safety factor does not depend on the uncertainty of the
/// germination: with little evidence the plan sows more.)
#[test]
fn cells_sown_are_near_the_handbooks_over_sowing_factor() {
    let (mut book, _) = Book::at_44_north();
    let variety = book.variety("v", "antirrhinum", None);
    for (germination, factor) in [(85.0, 1.43), (65.0, 1.87)] {
        let figures = own(&[("germination_pct", germination)]);
        book.ask(|almanac| {
            let crop = almanac
                .crop(&variety)
                .expect("crop")
                .with_overrides(&figures)
                .expect("possible");
            for plants in [100, 200] {
                let cells = cells_for(almanac, &crop, &variety, plants, 0.8, day("2027-02-01"))
                    .expect("cells")
                    .cells;
                let found = f64::from(cells) / f64::from(plants);
                assert!(
                    (found / factor - 1.0).abs() < 0.08,
                    "{germination}: {found} for {plants}, handbook {factor}"
                );
            }
        });
    }
}

/// "Latest useful sowing date. Zinnia trays: 1 Oct - 21 - 57 - 5 - 24 = about 16 June. Sunflower direct: 1
/// Oct - 7 - 60 = about 26 July." At 44 N with the first frost on 1 October. The plan computes thermal time
/// day by day instead of days at a warm mean, and plants sunflower from trays of 2.5 weeks; two weeks of a
/// target that ends with that frost can still be cut, one for sunflower.
#[test]
fn the_latest_sowing_is_near_the_handbooks() {
    let (mut book, spaces) = Book::at_44_north();
    for (crop, weeks, handbook) in [
        ("zinnia", "2027-W38", "2027-06-16"),
        ("helianthus", "2027-W40", "2027-07-26"),
    ] {
        book.variety(crop, crop, None);
        let wanted = Wanted {
            crop: Some(crop.into()),
            ..Wanted::default()
        };
        let target = book.target(crop, wanted, ("2027-W30", weeks), 40);
        let found = book.ask(|almanac| {
            let target = &almanac.season().targets[&target];
            let field = almanac.space(&spaces.field).expect("the field");
            let crop = almanac.reference().crop(crop).expect("crop");
            latest_sowing(almanac, crop, None, field, target).expect("a last day")
        });
        let apart = (found - day(handbook)).num_days();
        assert!(apart.abs() <= 14, "{crop}: {found}, handbook {handbook}");
    }
}
