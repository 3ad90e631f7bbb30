//! The app's icons, drawn from their vector originals at build time.

use std::fs;
use std::path::Path;

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};

use crate::error::Error;

/// One icon file.
pub struct Icon {
    /// Its name before the hash.
    pub name: &'static str,
    /// The bytes.
    pub content: Vec<u8>,
}

/// The mark as it is, with its own outline.
const MARK: &str = "stemtide.svg";
/// The mark to the edges, for systems that cut their own outline.
const MASKABLE: &str = "stemtide-maskable.svg";

/// Name, original and side in pixels of each raster icon.
const RASTER: [(&str, &str, u32); 4] = [
    ("icon-192.png", MARK, 192),
    ("icon-512.png", MARK, 512),
    ("icon-maskable.png", MASKABLE, 512),
    ("icon-touch.png", MASKABLE, 180),
];

/// All icons of the page and the manifest.
pub fn all(folder: &Path) -> Result<Vec<Icon>, Error> {
    let mut icons = vec![Icon {
        name: "icon.svg",
        content: read(&folder.join(MARK))?,
    }];
    for (name, original, side) in RASTER {
        icons.push(Icon {
            name,
            content: draw(original, &read(&folder.join(original))?, side)?,
        });
    }
    Ok(icons)
}

/// The line icons, as they stand in the page.
pub fn sprite(folder: &Path) -> Result<String, Error> {
    let path = folder.join("sprite.svg");
    let text = fs::read_to_string(&path).map_err(Error::file("read", &path))?;
    let Some(start) = text.find("<svg") else {
        return Err(Error::asset("sprite.svg", "it holds no <svg>"));
    };
    // The page's policy would drop these without a word.
    if text.contains("style=") || text.contains("<style") || text.contains("<script") {
        return Err(Error::asset(
            "sprite.svg",
            "styles and scripts inside it would be refused by the page's policy",
        ));
    }
    Ok(text[start..].trim_end().to_owned())
}

fn draw(name: &str, svg: &[u8], side: u32) -> Result<Vec<u8>, Error> {
    let tree = Tree::from_data(svg, &Options::default()).map_err(|e| Error::asset(name, e))?;
    let mut pixels =
        Pixmap::new(side, side).ok_or_else(|| Error::asset(name, "its size is nought"))?;
    let size = tree.size();
    let scale = Transform::from_scale(side as f32 / size.width(), side as f32 / size.height());
    resvg::render(&tree, scale, &mut pixels.as_mut());
    pixels.encode_png().map_err(|e| Error::asset(name, e))
}

fn read(path: &Path) -> Result<Vec<u8>, Error> {
    fs::read(path).map_err(Error::file("read", path))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paths::workspace_root;

    #[test]
    fn icons_have_their_sizes_and_are_not_blank() {
        let icons = all(&workspace_root().join("public/icons")).unwrap();
        for (name, _, side) in RASTER {
            let icon = icons.iter().find(|icon| icon.name == name).unwrap();
            let pixels = Pixmap::decode_png(&icon.content).unwrap();
            assert_eq!((pixels.width(), pixels.height()), (side, side), "{name}");
            let first = pixels.pixels()[(side * side / 2) as usize];
            assert!(
                pixels.pixels().iter().any(|p| *p != first),
                "{name} is blank"
            );
        }
    }

    #[test]
    fn the_maskable_icon_has_no_clear_corner() {
        let icons = all(&workspace_root().join("public/icons")).unwrap();
        let icon = icons.iter().find(|icon| icon.name == "icon-maskable.png");
        let pixels = Pixmap::decode_png(&icon.unwrap().content).unwrap();
        assert!(pixels.pixels().iter().all(|p| p.alpha() == 255));
    }
}
