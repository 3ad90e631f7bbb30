//! Pictures that are not trays, and invalid requests.

#![allow(clippy::unwrap_used, reason = "a test that cannot set up must stop")]

use imaging::protocol::{Request, Response, Tray, answer};
use imaging::warp::rectify;
use imaging::{Corners, CornersError, Look, LookError, Picture, Point, Remark, Seen, look};
use proptest::prelude::*;

const WIDTH: u32 = 240;
const HEIGHT: u32 = 160;

fn painted(colour: impl Fn(u32, u32) -> [u8; 3]) -> Vec<u8> {
    let places = (0..HEIGHT).flat_map(|y| (0..WIDTH).map(move |x| (x, y)));
    places
        .flat_map(|(x, y)| {
            let [red, green, blue] = colour(x, y);
            [red, green, blue, 255]
        })
        .collect()
}

fn whole() -> Corners {
    let (right, low) = (f64::from(WIDTH), f64::from(HEIGHT));
    Corners([(0.0, 0.0), (right, 0.0), (right, low), (0.0, low)].map(|(x, y)| Point::new(x, y)))
}

fn seen(bytes: &[u8]) -> Look {
    let picture = Picture::new(WIDTH, HEIGHT, bytes).unwrap();
    look(&picture, &whole(), 4, 6).unwrap()
}

/// Grain from 0 to `most`, reproducible by position.
fn grain(x: u32, y: u32, most: u32) -> u8 {
    let mixed = (x.wrapping_mul(73_856_093) ^ y.wrapping_mul(19_349_663)).wrapping_mul(83_492_791);
    ((mixed >> 13) % most) as u8
}

#[test]
fn a_wall_is_not_a_tray() {
    let look = seen(&painted(|_, _| [200, 190, 180]));
    assert!(look.remarks.contains(&Remark::NotLikeATray), "{look:?}");
    assert!(look.cells.iter().all(|cell| cell.seen == Seen::Empty));
    let look = seen(&painted(|_, _| [0, 0, 0]));
    assert!(look.remarks.contains(&Remark::NotLikeATray), "{look:?}");
    assert!(look.remarks.contains(&Remark::Dark));
}

#[test]
fn a_lawn_is_not_a_tray() {
    let look = seen(&painted(|x, y| {
        let light = grain(x, y, 60);
        [50 + light, 110 + light, 35 + light / 2]
    }));
    assert!(look.remarks.contains(&Remark::NotLikeATray), "{look:?}");
    // Half a lawn and half a path.
    let look = seen(&painted(|x, y| {
        let light = grain(x, y, 60);
        if x < WIDTH / 2 {
            [50 + light, 110 + light, 35 + light / 2]
        } else {
            [120 + light, 115 + light, 110 + light]
        }
    }));
    assert!(look.remarks.contains(&Remark::NotLikeATray), "{look:?}");
}

#[test]
fn bare_mix_is_an_empty_tray() {
    let look = seen(&painted(|x, y| {
        let light = grain(x, y, 70);
        [60 + light, 46 + light, 34 + light]
    }));
    assert!(
        look.cells.iter().all(|cell| cell.seen == Seen::Empty),
        "{look:?}"
    );
    assert!(
        look.cells.iter().all(|cell| cell.certainty > 0.75),
        "{look:?}"
    );
    assert_eq!(look.remarks, [Remark::NoGreen]);
}

#[test]
fn a_cell_hidden_by_glare_has_little_certainty() {
    let look = seen(&painted(|x, y| {
        let light = grain(x, y, 70);
        // The right half of the upper row.
        if x >= WIDTH / 2 && y < HEIGHT / 4 {
            [252, 250, 248]
        } else if x % 40 / 10 == 1 && y % 40 / 10 == 1 {
            [70, 130, 45]
        } else {
            [60 + light, 46 + light, 34 + light]
        }
    }));
    assert!(look.remarks.contains(&Remark::Glare), "{look:?}");
    for (at, cell) in look.cells.iter().enumerate() {
        if (3..6).contains(&at) {
            assert!(cell.certainty < 0.1, "cell {at}: {cell:?}");
        } else {
            assert_eq!(cell.seen, Seen::Up, "cell {at}");
            assert!(cell.certainty > 0.75, "cell {at}: {cell:?}");
        }
    }
}

#[test]
fn a_leaf_over_a_wall_belongs_to_its_own_cell() {
    // A leaf from the centre of the second cell far into the third, and touching leaves of the fifth and
    // sixth.
    let look = seen(&painted(|x, y| {
        let light = grain(x, y, 70);
        let leaf = (14..26).contains(&y) && ((54..92).contains(&x) || (174..226).contains(&x));
        if leaf {
            [70, 130, 45]
        } else {
            [60 + light, 46 + light, 34 + light]
        }
    }));
    let up: Vec<usize> = (0..24)
        .filter(|at| look.cells[*at].seen != Seen::Empty)
        .collect();
    assert_eq!(up, [1, 4, 5]);
}

#[test]
fn a_fine_pattern_does_not_turn_into_a_coarse_one() {
    // Stripes of one pixel, ten of which are in each pixel of the rectified tray.
    let (width, height) = (6_400, 640);
    let stripe = |x: usize| {
        if x.is_multiple_of(2) {
            [255; 4]
        } else {
            [0; 4]
        }
    };
    let bytes: Vec<u8> = (0..width * height)
        .flat_map(|at| stripe(at % width))
        .collect();
    let picture = Picture::new(width as u32, height as u32, &bytes).unwrap();
    let (right, low) = (width as f64, height as f64);
    let corners = [(0.0, 0.0), (right, 0.0), (right, low), (0.0, low)];
    let corners = Corners(corners.map(|(x, y)| Point::new(x, y)));
    let flat = rectify(&picture, &corners, 1, 10).unwrap();
    assert_eq!(flat.cell_px, 64);
    for [red, ..] in &flat.pixels {
        assert!((red - 127.5).abs() < 0.2 * 127.5, "{red}");
    }
}

#[test]
fn invalid_pictures_and_grids_are_refused() {
    let bytes = painted(|_, _| [90, 90, 90]);
    let small = Picture::new(15, 200, &bytes).unwrap_err();
    assert_eq!(
        small,
        LookError::Size {
            width: 15,
            height: 200
        }
    );
    assert!(matches!(
        Picture::new(16_000, 16_000, &[]),
        Err(LookError::Size { .. })
    ));
    let short = Picture::new(WIDTH, HEIGHT, &bytes[1..]).unwrap_err();
    assert!(matches!(
        short,
        LookError::Bytes {
            expected: 153_600,
            got: 153_599
        }
    ));
    let picture = Picture::new(WIDTH, HEIGHT, &bytes).unwrap();
    for (rows, columns) in [(0, 6), (4, 0), (101, 6), (4, 101)] {
        let refused = look(&picture, &whole(), rows, columns);
        assert_eq!(refused, Err(LookError::Grid { rows, columns }));
    }
    let refused = look(&picture, &whole(), 100, 100);
    assert_eq!(refused, Err(LookError::Corners(CornersError::Small)));
}

#[test]
fn messages_round_trip_between_page_and_worker() {
    let tray = Tray {
        width: WIDTH,
        height: HEIGHT,
        corners: whole(),
        rows: 4,
        columns: 6,
    };
    let text = serde_json::to_string(&Request::Look(tray)).unwrap();
    assert!(
        text.starts_with("{\"look\":{\"width\":240,\"height\":160,\"corners\":[{\"x\":0.0,"),
        "{text}"
    );
    let request: Request = serde_json::from_str(&text).unwrap();
    let bytes = painted(|x, y| [60 + grain(x, y, 60), 50, 40]);
    let response = answer(&request, &bytes);
    let Response::Looked(look) = &response else {
        panic!("{response:?}");
    };
    assert_eq!(look.cells.len(), 24);
    let text = serde_json::to_string(&response).unwrap();
    assert_eq!(serde_json::from_str::<Response>(&text).unwrap(), response);
    assert!(matches!(
        answer(&request, &[]),
        Response::Refused(LookError::Bytes { .. })
    ));
    // The page expects the same message from both kinds of thread.
    assert_eq!(
        serde_json::from_str::<Response>("\"ready\"").unwrap(),
        Response::Ready
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_picture_and_corners_give_cells_or_are_refused(
        bytes in proptest::collection::vec(any::<u8>(), 40 * 30 * 4),
        places in proptest::array::uniform4((-5.0..45.0, -5.0..35.0)),
        rows in 1_u32..5, columns in 1_u32..5,
    ) {
        let picture = Picture::new(40, 30, &bytes).unwrap();
        let corners = Corners(places.map(|(x, y)| Point::new(x, y)));
        match look(&picture, &corners, rows, columns) {
            Ok(look) => {
                prop_assert_eq!(look.cells.len() as u32, rows * columns);
                prop_assert!(look.cells.iter().all(|cell| (0.0..=1.0).contains(&cell.certainty)));
            }
            Err(error) => prop_assert!(matches!(error, LookError::Corners(_)), "{}", error),
        }
    }
}
