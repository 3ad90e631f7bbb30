use super::*;
use crate::fact::*;
use crate::ids::*;
use crate::sample::Sample;
use crate::words::Manner;

/// Varieties, a field, a recipe.
fn sample() -> Sample {
    let mut sample = Sample::new();
    sample.bed("b1", 5.0);
    for (id, crop, colour, name) in [
        ("chalk", "antirrhinum", "white", "Chalk spike"),
        ("dusk", "antirrhinum", "dusty pink", "Dusk"),
        ("blush", "callistephus", "pink", "Blush"),
        ("plume", "celosia_plumosa", "red", "Plume"),
        ("comb", "celosia_cristata", "red", "Comb"),
        ("comb2", "celosia_cristata", "gold", "Comb"),
        ("lace", "orlaya", "white", "Lace"),
        ("leaf", "ocimum", "green", "Leaf"),
    ] {
        let of = sample.variety(id, crop, colour);
        sample.add(VarietyFact {
            name: Some(name.into()),
            ..VarietyFact::new(of)
        });
    }
    sample.add(RecipeFact {
        name: Some("Market bouquet".into()),
        ..RecipeFact::new(RecipeId::new("r").expect("id"))
    });
    sample
}

/// A wish as "variety/crop/role/colour", or the key of what is wrong.
fn said(wish: &Result<Wanted, Say>) -> String {
    match wish {
        Ok(w) => format!(
            "{}/{}/{}/{}",
            w.variety.as_ref().map_or("", |v| v.as_str()),
            w.crop.as_deref().unwrap_or_default(),
            w.role.map_or("", Role::word),
            w.colour.as_deref().unwrap_or_default()
        ),
        Err(why) => why.key().to_owned(),
    }
}

#[test]
fn wishes_are_read_in_the_growers_own_words() {
    sample().with(|almanac| {
        for (typed, expected) in [
            ("Chalk spike", "chalk///"),
            ("white Chalk Spikes", "chalk///"),
            ("comb gold", "comb2///"),
            ("Comb", "paste.what_twice"),
            ("snapdragons", "/antirrhinum//"),
            ("White Snapdragon", "/antirrhinum//white"),
            ("snapdragon, dusty-pink", "paste.what_unknown"),
            ("dusty pink snapdragons", "/antirrhinum//dusty pink"),
            ("pink", "///pink"),
            ("any white flowers", "///white"),
            ("asters", "/callistephus//"),
            ("antirrhinum", "/antirrhinum//"),
            ("plume celosia", "/celosia_plumosa//"),
            ("celosia", "paste.crop_twice"),
            ("white spikes", "//spike/white"),
            ("focal flowers", "//focal/"),
            ("greenery", "//foliage/"),
            ("green", "///green"),
            ("spike antirrhinum", "/antirrhinum/spike/"),
            ("blue spikes", "paste.no_colour"),
            ("tulips", "paste.no_variety"),
            ("asparagus", "paste.what_unknown"),
            ("", "paste.no_what"),
            ("any", "paste.what_unknown"),
        ] {
            assert_eq!(said(&wish(almanac, typed)), expected, "{typed:?}");
        }
    });
}

/// A target as "what stems from-to space chance".
fn target(line: &Line<TargetRow>) -> String {
    match &line.read {
        Ok(row) => format!(
            "{} {} {}-{} {} {}",
            said(&Ok(row.wanted.clone())),
            row.stems,
            row.from,
            row.to,
            row.space.as_ref().map_or("any", |s| s.as_str()),
            row.chance
        ),
        Err(why) => why.key().to_owned(),
    }
}

fn read_targets(pasted: &str) -> Pasted<TargetRow> {
    let sample = sample();
    let today = sample.day("2027-01-10");
    sample.with(|almanac| targets(almanac, pasted, today))
}

#[test]
fn targets_are_read_with_a_header_in_any_order_and_without_one() {
    let expected = "//spike/white 40 2027-W24-2027-W31 field 0.9";
    for pasted in [
        "white spikes\t40\t24\t31\tField\t90",
        "white spikes;40;2027-W24;W31;field;0,9",
        "white spikes, 40, week 24, 2027-08-02, Field, 90 %",
        "Last week\tChance\tColour\tWhere\tRole\tStems / week\tStart\n31\t90\twhite\tfield\tspike\t40\t14 June 2027",
    ] {
        let found = read_targets(pasted);
        let lines: Vec<String> = found.lines.iter().map(target).collect();
        assert_eq!(lines, [expected], "{pasted}");
    }
    let short = read_targets("filler\t1,200\t50");
    assert_eq!(
        target(&short.lines[0]),
        "//filler/ 1200 2027-W50-2027-W50 any 0.8"
    );
}

#[test]
fn every_bad_line_says_what_is_wrong_and_nothing_of_it_is_lost() {
    let header = "what,stems,from,to,space,chance";
    let good = "white spikes,40,24,31,,";
    let bad = [
        ("moon flowers,40,24,31,,", "paste.what_unknown"),
        ("white spikes,many,24,31,,", "paste.in_column"),
        ("white spikes,0,24,31,,", "paste.in_column"),
        ("white spikes,40,6/7/2027,31,,", "paste.in_column"),
        ("white spikes,40,24,31,Moon,", "paste.in_column"),
        ("white spikes,40,24,31,,20", "paste.in_column"),
        (
            "white spikes,40,2027-W31,2027-W24,,",
            "check.weeks_upside_down",
        ),
        ("white spikes,40,2026-W24,2026-W31,,", "check.target_past"),
        ("white spikes,40,2027-W24,2031-W24,,", "check.weeks_many"),
        ("white spikes", "paste.in_column"),
    ];
    let lines: Vec<&str> = bad.iter().map(|(line, _)| *line).collect();
    let pasted = [&[header, good], lines.as_slice()].concat().join("\n");
    let found = read_targets(&pasted);
    assert_eq!(found.header.as_deref(), Some(header));
    assert_eq!((found.rows().count(), found.problems()), (1, bad.len()));
    for (line, (raw, key)) in found.lines.iter().skip(1).zip(bad) {
        assert_eq!((line.raw.as_str(), target(line).as_str()), (raw, key));
        let said = line
            .read
            .as_ref()
            .expect_err("wrong")
            .write(Manner::default());
        assert!(said.ends_with(['.', '?']) && !said.contains('{'), "{said}");
    }
    assert_eq!(found.lines[1].number, 3);
    let rest = found.left_over();
    assert_eq!(rest, [&[header], lines.as_slice()].concat().join("\n"));
    assert_eq!(
        read_targets(&rest).problems(),
        bad.len(),
        "what is left is pasted again"
    );
    assert_eq!(read_targets(good).left_over(), "");
    assert_eq!(read_targets("").lines, []);
}

#[test]
fn a_paste_without_end_is_cut_off_with_a_sentence() {
    let found = read_targets(&"white spikes,40,24,31\n".repeat(3_000));
    assert_eq!(found.rows().count(), ROWS_MAX);
    let last = found.lines.last().expect("a line");
    assert_eq!(target(last), "paste.many");
}

#[test]
fn lines_for_one_person_on_one_day_are_one_order() {
    let sample = sample();
    let today = sample.day("2027-05-10");
    let pasted = "Date\tFor\tWhat\tNumber\n\
        12.6.2027\tAda\twhite spikes\t30\n\
        2027-06-12\tada\tMarket bouquet\t12\n\
        June 13, 2027\tAda\tblush\t5\n\
        3/4/2027\tAda\tblush\t5\n\
        2027-05-01\tBea\tblush\t5\n";
    let found = sample.with(|almanac| orders(almanac, pasted, today));
    assert_eq!(found.problems(), 1, "3 April or 4 March");
    let asks: Vec<_> = found.lines.iter().map(|line| line.asks.len()).collect();
    assert_eq!(
        asks,
        [0, 0, 0, 0, 1],
        "a day that has passed is asked about"
    );
    let orders = together(found.rows());
    let shapes: Vec<_> = orders
        .iter()
        .map(|o| {
            (
                o.date.to_string(),
                o.who.as_str(),
                o.lines.len(),
                o.pieces.len(),
            )
        })
        .collect();
    assert_eq!(
        shapes,
        [
            ("2027-06-12".into(), "Ada", 1, 1),
            ("2027-06-13".into(), "Ada", 1, 0),
            ("2027-05-01".into(), "Bea", 1, 0)
        ]
    );
    assert_eq!(orders[0].pieces[0].pieces, 12);
}

#[test]
fn orders_name_recipes_in_a_column_of_their_own() {
    let sample = sample();
    let today = sample.day("2027-05-10");
    let pasted = "who;recipe;flower;pieces;stems;date\n\
        Ada;Market bouquet;;12;;2027-06-12\n\
        Ada;;white spike;;30;2027-06-12\n\
        Ada;Posy;;12;;2027-06-12\n";
    let found = sample.with(|almanac| orders(almanac, pasted, today));
    let order = &together(found.rows())[0];
    assert_eq!((order.pieces[0].pieces, order.lines[0].stems), (12, 30));
    let why = found.lines[2].read.as_ref().expect_err("no such recipe");
    assert!(
        why.write(Manner::default())
            .contains("No recipe is called “Posy”")
    );
}
