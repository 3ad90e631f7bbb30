//! Writes drawn pictures into a folder for other programs: raw bytes, and a line of JSON with size, corners,
//! grid and truth for each.
//!
//! `cargo run -p imaging-checks --bin pictures -- FOLDER [PICTURE...]`, for example with `clean-000`; without
//! names, all of them.

use std::error::Error;
use std::io::Write;
use std::path::PathBuf;

use imaging::Picture;
use imaging::warp::rectify;
use imaging_checks::{cases, drawn};

fn main() -> Result<(), Box<dyn Error>> {
    let mut asked = std::env::args().skip(1);
    let folder = PathBuf::from(asked.next().ok_or("into which folder?")?);
    let names: Vec<String> = asked.collect();
    std::fs::create_dir_all(&folder)?;
    let mut list = std::fs::File::create(folder.join("pictures.jsonl"))?;
    let wanted = |id: &String| names.is_empty() || names.contains(id);
    for case in cases().iter().filter(|case| wanted(&case.id())) {
        let drawn = drawn(case);
        let (width, height) = (drawn.size.0 as u32, drawn.size.1 as u32);
        let picture = Picture::new(width, height, &drawn.bytes)?;
        let (rows, columns) = (drawn.rows as u32, drawn.columns as u32);
        let flat = rectify(&picture, &drawn.corners, rows, columns)?;
        std::fs::write(folder.join(format!("{}.rgba", case.id())), &drawn.bytes)?;
        let line = serde_json::json!({
            "case": case.id(),
            "width": drawn.size.0,
            "height": drawn.size.1,
            "corners": drawn.corners,
            "rows": drawn.rows,
            "columns": drawn.columns,
            "cell_px": flat.cell_px,
            "seedlings": drawn.seedlings,
        });
        writeln!(list, "{line}")?;
    }
    Ok(())
}
