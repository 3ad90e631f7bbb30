//! Excess green, Otsu's threshold, labels, homographies and a small tray against other implementations.
//!
//! Sources: scikit-image 0.26.0 (`data/vectors.json`; `data/tray.ppm` was drawn for the check) and Woebbecke
//! et al. 1995 (`data/excess_green.csv`).

#![allow(clippy::unwrap_used, reason = "a test that cannot set up must stop")]

use imaging::blob::label;
use imaging::green::{Histogram, excess_green, split};
use imaging::warp::Homography;
use imaging::{Corners, Picture, Point, Seen, look};
use serde_json::Value;

fn vectors() -> Value {
    serde_json::from_str(include_str!("data/vectors.json")).unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    let all = value.as_array().unwrap().iter();
    all.map(|v| v.as_f64().unwrap()).collect()
}

fn points(value: &Value) -> [Point; 4] {
    let all: Vec<Point> = value.as_array().unwrap().iter().map(point).collect();
    all.try_into().unwrap()
}

fn point(value: &Value) -> Point {
    let place = numbers(value);
    Point::new(place[0], place[1])
}

fn flat(rows: &Value) -> Vec<f64> {
    rows.as_array().unwrap().iter().flat_map(numbers).collect()
}

#[test]
fn excess_green_is_that_of_the_formula() {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(include_str!("data/excess_green.csv").as_bytes());
    let mut seen = 0;
    for record in reader.records() {
        let record = record.unwrap();
        let channel = |at: usize| record[at].parse::<f32>().unwrap();
        let ours = excess_green([channel(0), channel(1), channel(2)]);
        let theirs: f64 = record[3].parse().unwrap();
        // Ours is computed in single precision.
        assert!(
            (f64::from(ours) - theirs).abs() < 2e-7,
            "{record:?}: {ours}"
        );
        seen += 1;
    }
    assert_eq!(seen, 9);
}

#[test]
fn otsus_threshold_of_integers_agrees() {
    let vectors = vectors();
    for case in vectors["otsu"].as_array().unwrap() {
        let values = flat(&case["image_uint8"]);
        let mut counts = vec![0_u32; 256];
        for v in &values {
            counts[*v as usize] += 1;
        }
        let found = split(&counts, |bin| bin as f64);
        let theirs = case["skimage_threshold"].as_u64().unwrap() as usize;
        // A picture of one value cannot be split; the reference returns that value.
        let threshold = found.unwrap_or(values[0] as usize);
        assert_eq!(threshold, theirs, "{}", case["name"]);
        let above = values.iter().filter(|v| **v > threshold as f64).count();
        assert_eq!(
            above as u64,
            case["n_foreground"].as_u64().unwrap(),
            "{}",
            case["name"]
        );
    }
}

#[test]
fn otsus_threshold_of_fractions_agrees() {
    let vectors = vectors();
    let case = &vectors["otsu_float"];
    let values: Vec<f32> = numbers(&case["values"]).iter().map(|v| *v as f32).collect();
    let histogram = Histogram::of(values.iter().copied()).unwrap();
    let threshold = histogram.otsu();
    assert!(
        (threshold - case["skimage_threshold"].as_f64().unwrap()).abs() < 1e-6,
        "{threshold}"
    );
    let above = values.iter().filter(|v| f64::from(**v) > threshold).count();
    assert_eq!(above as u64, case["n_foreground"].as_u64().unwrap());
    assert!(Histogram::of(core::iter::empty()).is_none());
    assert!(Histogram::of([0.1, f32::NAN].into_iter()).is_none());
}

#[test]
fn labels_of_connected_components_agree() {
    let vectors = vectors();
    let case = &vectors["label"];
    let mask: Vec<bool> = flat(&case["mask"]).iter().map(|v| *v > 0.0).collect();
    let width = case["mask"][0].as_array().unwrap().len();
    let (labels, count) = label(&mask, width);
    assert_eq!(
        u64::from(count),
        case["count_8_connectivity"].as_u64().unwrap()
    );
    let theirs: Vec<u32> = flat(&case["labels8"]).iter().map(|v| *v as u32).collect();
    assert_eq!(labels, theirs);
}

#[test]
fn homographies_agree() {
    let vectors = vectors();
    let cases = vectors["projective"].as_array().unwrap();
    assert_eq!(cases.len(), 4);
    for case in cases {
        let ours = Homography::between(points(&case["src_xy"]), points(&case["dst_xy"])).unwrap();
        let theirs = flat(&case["H_row_major_h22=1"]);
        for (a, b) in ours.figures().iter().zip(theirs) {
            assert!((a - b).abs() < 1e-6, "{a} {b}");
        }
        for map in case["maps"].as_array().unwrap() {
            let (to, theirs) = (ours.map(point(&map["p"])), point(&map["to"]));
            assert!(to.distance(theirs) < 1e-6, "{to:?} {theirs:?}");
        }
    }
    let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(|(x, y)| Point::new(x, y));
    for flat in [
        [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (0.0, 5.0)],
        [(3.0, 3.0), (3.0, 3.0), (9.0, 9.0), (0.0, 9.0)],
    ] {
        let flat = flat.map(|(x, y)| Point::new(x, y));
        assert!(Homography::between(flat, square).is_none(), "{flat:?}");
    }
}

#[test]
fn the_small_tray_is_recognised() {
    let vectors = vectors();
    let bytes = include_bytes!("data/tray.ppm");
    let start = bytes.len() - 120 * 90 * 3;
    let pixels: Vec<u8> = bytes[start..]
        .chunks(3)
        .flat_map(|c| [c[0], c[1], c[2], 255])
        .collect();
    let picture = Picture::new(120, 90, &pixels).unwrap();
    let corners = [(0.0, 0.0), (120.0, 0.0), (120.0, 90.0), (0.0, 90.0)];
    let corners = Corners(corners.map(|(x, y)| Point::new(x, y)));
    let look = look(&picture, &corners, 3, 4).unwrap();
    let drawn = flat(&vectors["synthetic_tray"]["cell_counts"]);
    for (at, (cell, drawn)) in look.cells.iter().zip(&drawn).enumerate() {
        let seen = match cell.seen {
            Seen::Empty => 0.0,
            Seen::Up => 1.0,
            Seen::Two => 2.0,
        };
        assert!(
            (seen - drawn).abs() < 0.5,
            "cell {at}: {cell:?}, drawn {drawn}"
        );
    }
    assert_eq!(look.remarks, []);

    // Otsu's threshold of the excess green of the whole picture.
    let excess = pixels.chunks(4).map(|c| {
        let [red, green, blue] = [c[0], c[1], c[2]].map(f32::from);
        excess_green([red, green, blue])
    });
    let excess: Vec<f32> = excess.collect();
    let otsu = Histogram::of(excess.iter().copied()).unwrap().otsu();
    let theirs = vectors["synthetic_tray"]["skimage_exg_otsu_threshold"]
        .as_f64()
        .unwrap();
    assert!((otsu - theirs).abs() < 1e-6, "{otsu} {theirs}");
    let mask: Vec<bool> = excess.iter().map(|v| f64::from(*v) > otsu).collect();
    let (labels, count) = label(&mask, 120);
    let mut areas = vec![0_u64; count as usize];
    for number in labels.iter().filter(|number| **number > 0) {
        areas[*number as usize - 1] += 1;
    }
    areas.sort_unstable();
    let theirs = numbers(&vectors["synthetic_tray"]["areas_sorted"]);
    let theirs: Vec<u64> = theirs.iter().map(|v| *v as u64).collect();
    assert_eq!(areas, theirs);
}
