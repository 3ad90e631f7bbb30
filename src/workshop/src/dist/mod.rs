//! The published app: plain static files that work under any path of any
//! static host.
//!
//! `index.html`, its copy `404.html`, `manifest.webmanifest`, the demo season,
//! the schema of season files and the two workers keep their names; everything
//! else lies in `assets/` under a name that holds a hash of its content. All
//! addresses are relative. One build id, a hash of all that the app is made of,
//! stands in the page and in the service worker.

mod icons;
mod site;
mod style;
mod template;

pub use site::{Site, content_type, files_below};

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use crate::bundle::{self, Bundle, Profile, Target};
use crate::error::Error;
use crate::paths::workspace_root;

/// What the page may load and do; the page says so itself, and our server says
/// it once more. Only WebAssembly's compilation is let past the ban on eval.
pub const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; \
    style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; \
    manifest-src 'self'; base-uri 'none'; form-action 'none'";

/// Folder of the hashed files.
pub const ASSETS: &str = "assets";

/// Where the app finds its demo season, and what it is a copy of.
const DEMO: &str = "demo/demo-season.json";
const DEMO_SOURCE: &str = "demo-data/demo-season.json";

/// Where others find the schema of season files, and what it is a copy of. The
/// app itself never asks for it, so the worker doesn't keep it.
pub const SCHEMA: &str = "schema/stemtide-log.v1.schema.json";
const SCHEMA_SOURCE: &str = "src/season/schema/stemtide-log.v1.schema.json";

/// What a build made.
#[derive(Clone, Debug)]
pub struct Built {
    /// The folder.
    pub dir: PathBuf,
    /// The build id, 16 hex digits.
    pub build: String,
    /// How many files.
    pub file_count: usize,
    /// Their size together, in bytes.
    pub size_bytes: usize,
}

/// Compiles the app and writes it to `out`, replacing an earlier build there
/// as a whole.
///
/// # Errors
/// Those of [`bundle::build_wasm`]; [`Error::Asset`] for a file of `public/`
/// or `style/` that does not fit; [`Error::File`], and [`Error::Missing`] when
/// `out` holds something that is not an earlier build.
pub fn build(profile: Profile, out: &Path) -> Result<Built, Error> {
    site::check_replaceable(out)?;
    let root = workspace_root();
    let module_dir = root.join("target").join("stemtide").join(match profile {
        Profile::Dev => "dev",
        Profile::Release | Profile::Thread => "release",
    });
    // Left-over scripts of an earlier build would be published with this one.
    if module_dir.exists() {
        fs::remove_dir_all(&module_dir).map_err(Error::file("clear", &module_dir))?;
    }
    let built = |name, profile| {
        bundle::build_wasm(name, Target::Bin(name), profile, &module_dir.join(name))
    };
    let of_thread = match profile {
        Profile::Dev => Profile::Dev,
        Profile::Release | Profile::Thread => Profile::Thread,
    };
    let modules = Modules {
        app: built("app", profile)?,
        worker: built("worker", of_thread)?,
    };
    let (site, build) = assemble(&root, &modules)?;
    site.write(out)?;
    Ok(Built {
        dir: out.to_path_buf(),
        build,
        file_count: site.file_count(),
        size_bytes: site.size_bytes(),
    })
}

/// The two modules of a build: the page's, and that of the planner's thread.
#[derive(Clone, Debug)]
pub struct Modules {
    /// The app.
    pub app: Bundle,
    /// The planner.
    pub worker: Bundle,
}

/// Puts the site together in memory and gives its build id.
///
/// # Errors
/// As [`build`], apart from compiling and writing.
pub fn assemble(root: &Path, modules: &Modules) -> Result<(Site, String), Error> {
    let public = root.join("public");
    let mut site = Site::default();
    let mut names = BTreeMap::new();
    let mut add = |site: &mut Site, logical: &str, content: Vec<u8>| {
        let path = site.add_hashed(ASSETS, logical, content);
        names.insert(format!("asset:{logical}"), path.clone());
        let file = path.rsplit('/').next().unwrap_or_default().to_owned();
        names.insert(format!("file:{logical}"), file);
    };

    for (name, module) in [("app", &modules.app), ("worker", &modules.worker)] {
        add(&mut site, &format!("{name}_bg.wasm"), read(&module.wasm)?);
        let glue = module_script(&mut site, name, module)?;
        add(&mut site, &format!("{name}.js"), glue.into_bytes());
    }
    add(&mut site, "style.css", style::sheet(root)?.into_bytes());
    add(&mut site, "guard.js", read(&public.join("guard.js"))?);
    for icon in icons::all(&public.join("icons"))? {
        add(&mut site, icon.name, icon.content);
    }
    for script in ["planner.js", "boot.js"] {
        let filled = template::fill(script, &text(&public.join(script))?, &names)?;
        let path = site.add_hashed(ASSETS, script, filled.into_bytes());
        let file = path.rsplit('/').next().unwrap_or_default().to_owned();
        names.insert(format!("file:{script}"), file);
    }
    if let Some(path) = site.find_hashed(ASSETS, "boot", "js") {
        names.insert("asset:boot.js".into(), path);
    }

    let manifest = text(&public.join("manifest.webmanifest"))?;
    let manifest = template::fill("manifest.webmanifest", &manifest, &names)?;
    if let Err(error) = serde_json::from_str::<serde_json::Value>(&manifest) {
        return Err(Error::asset("manifest.webmanifest", error));
    }
    site.add("manifest.webmanifest", manifest.into_bytes());

    site.add(DEMO, read(&root.join(DEMO_SOURCE))?);

    names.insert("policy".into(), POLICY.into());
    let sprite = icons::sprite(&public.join("icons"))?;
    let page = text(&public.join("index.html"))?;
    let worker = text(&public.join("sw.js"))?;
    // The id covers the two files that carry it as they are before they do.
    let build = site.fingerprint(&[
        ("index.html", page.as_bytes()),
        ("sw.js", worker.as_bytes()),
        ("sprite", sprite.as_bytes()),
        ("policy", POLICY.as_bytes()),
    ]);
    names.insert("sprite".into(), sprite);
    names.insert("build".into(), build.clone());
    names.insert("files".into(), worker_files(&site)?);

    let page = template::fill("index.html", &page, &names)?;
    let worker = template::fill("sw.js", &worker, &names)?;
    site.add("index.html", page.clone().into_bytes());
    site.add("404.html", page.into_bytes());
    site.add("sw.js", worker.into_bytes());
    site.add("sw-retire.js", read(&public.join("sw-retire.js"))?);
    site.add(SCHEMA, read(&root.join(SCHEMA_SOURCE))?);
    Ok((site, build))
}

/// The module's JavaScript with the names its files are published under, after
/// adding the scripts that packages brought along.
fn module_script(site: &mut Site, name: &str, module: &Bundle) -> Result<String, Error> {
    let mut script = text(&module.js)?;
    if let Some(path) = site.find_hashed(ASSETS, &format!("{name}_bg"), "wasm") {
        let file = path.rsplit('/').next().unwrap_or_default();
        script = script.replace(&format!("{}_bg.wasm", module.name), file);
    }
    let snippets = module.dir.join("snippets");
    if snippets.is_dir() {
        // Scripts import each other by relative name, so that the folder as a
        // whole takes the hash.
        let files = files_below(&snippets)?;
        let folder = format!("snippets-{}", site::hash_of_files(&files));
        for (path, content) in files {
            site.add(&format!("{ASSETS}/{folder}/{path}"), content);
        }
        script = script.replace("./snippets/", &format!("./{folder}/"));
    }
    Ok(script)
}

/// The worker's list: everything but the page (which it keeps under the
/// scope's own address), as `[path, content type]`, and a third, the content's
/// SHA-256, where the name does not tell one build's file from another's.
fn worker_files(site: &Site) -> Result<String, Error> {
    let mut lines = Vec::new();
    for (path, content) in site.files() {
        let Some(kind) = content_type(path) else {
            return Err(Error::asset(
                path,
                "no content type is known for its ending",
            ));
        };
        // A host may have published half of a build: what keeps its name over
        // builds is known by its content.
        let line = if path.starts_with(&format!("{ASSETS}/")) {
            serde_json::json!([path, kind])
        } else {
            serde_json::json!([path, kind, site::sum(content)])
        };
        lines.push(format!("  {line}"));
    }
    Ok(format!("[\n{},\n]", lines.join(",\n")))
}

fn read(path: &Path) -> Result<Vec<u8>, Error> {
    fs::read(path).map_err(Error::file("read", path))
}

fn text(path: &Path) -> Result<String, Error> {
    fs::read_to_string(path).map_err(Error::file("read", path))
}

#[cfg(test)]
mod tests;
