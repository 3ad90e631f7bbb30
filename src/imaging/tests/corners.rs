//! Valid corners, and moving them.

use imaging::{Corners, CornersError, Point};
use proptest::prelude::*;

const WIDTH: u32 = 800;
const HEIGHT: u32 = 600;

fn corners(places: [(f64, f64); 4]) -> Corners {
    Corners(places.map(|(x, y)| Point::new(x, y)))
}

#[test]
fn initial_corners_are_inside_the_border() {
    let begun = Corners::inset(WIDTH, HEIGHT);
    assert_eq!(begun.check(WIDTH, HEIGHT), Ok(()));
    assert_eq!(begun.0[0], Point::new(60.0, 60.0));
    assert_eq!(begun.0[2], Point::new(740.0, 540.0));
    assert!((begun.area() - 680.0 * 480.0).abs() < 1e-6);
}

#[test]
fn invalid_corners_are_refused() {
    let check = |places| corners(places).check(WIDTH, HEIGHT);
    let square = [
        (100.0, 100.0),
        (500.0, 100.0),
        (500.0, 400.0),
        (100.0, 400.0),
    ];
    assert_eq!(check(square), Ok(()));
    let [a, b, c, d] = square;
    for (places, error) in [
        // Two neighbours swapped.
        ([b, a, c, d], CornersError::Crossed),
        // Mirrored.
        ([d, c, b, a], CornersError::Crossed),
        // A corner points inwards.
        ([a, b, (200.0, 200.0), d], CornersError::Crossed),
        ([a, a, c, d], CornersError::Flat),
        ([a, (300.0, 100.0), b, d], CornersError::Flat),
        ([a, b, c, (100.0, 103.0)], CornersError::Flat),
        ([a, b, c, (-1.0, 400.0)], CornersError::Outside),
        ([a, b, (801.0, 400.0), d], CornersError::Outside),
        ([a, b, c, (f64::NAN, 400.0)], CornersError::Outside),
        ([a, b, c, (f64::INFINITY, 400.0)], CornersError::Outside),
    ] {
        assert_eq!(check(places), Err(error), "{places:?}");
    }
    // A tray may lie on its side or upside down in the picture.
    assert_eq!(check([b, c, d, a]), Ok(()));
    assert_eq!(corners(square).turned(), corners([b, c, d, a]));
}

#[test]
fn a_touch_selects_the_nearest_corner() {
    let begun = Corners::inset(WIDTH, HEIGHT);
    assert_eq!(begun.nearest(Point::new(0.0, 0.0)), 0);
    assert_eq!(begun.nearest(Point::new(790.0, 320.0)), 2);
    assert_eq!(begun.nearest(Point::new(70.0, 310.0)), 3);
}

proptest! {
    #[test]
    fn a_moved_corner_stays_in_the_picture(
        corner in 0_usize..6, x in any::<f64>(), y in any::<f64>(), by in -2000.0..2000.0,
    ) {
        let begun = Corners::inset(WIDTH, HEIGHT);
        let moved = begun.moved(corner, Point::new(x, y), WIDTH, HEIGHT);
        let nudged = begun.nudged(corner, Point::new(by, -by), WIDTH, HEIGHT);
        for after in [moved, nudged] {
            for (at, place) in after.0.iter().enumerate() {
                prop_assert!((0.0..=800.0).contains(&place.x) && (0.0..=600.0).contains(&place.y));
                prop_assert!(at == corner || *place == begun.0[at]);
            }
        }
        if corner < 4 && by.abs() < 60.0 {
            let from = begun.0[corner];
            prop_assert_eq!(nudged.0[corner], Point::new(from.x + by, from.y - by));
        }
    }
}
