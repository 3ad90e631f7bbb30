//! The site put together from the real `public/` and `style/` and a module of
//! a few bytes.

use super::*;

struct Scratch(PathBuf);

impl Scratch {
    fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("stemtide-{name}-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        Self(folder)
    }

    fn module(&self, wasm: &[u8]) -> Modules {
        let of = |name: &str| {
            let js = self.0.join(format!("{name}.js"));
            let wasm_path = self.0.join(format!("{name}_bg.wasm"));
            let glue = format!("import '../assets'; new URL('{name}_bg.wasm', import.meta.url);");
            fs::write(&js, glue).unwrap();
            fs::write(&wasm_path, wasm).unwrap();
            Bundle {
                dir: self.0.clone(),
                name: name.into(),
                js,
                wasm: wasm_path,
            }
        };
        Modules {
            app: of("app"),
            worker: of("worker"),
        }
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        // A left-over folder in the temporary place harms nothing.
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn text_of(site: &Site, path: &str) -> String {
    String::from_utf8(site.get(path).unwrap().to_vec()).unwrap()
}

/// Values of `name="..."` in a page.
fn attributes<'a>(page: &'a str, name: &str) -> Vec<&'a str> {
    let start = format!(" {name}=\"");
    page.match_indices(&start)
        .map(|(at, found)| {
            let value = &page[at + found.len()..];
            &value[..value.find('"').unwrap()]
        })
        .collect()
}

#[test]
fn the_page_names_only_files_of_the_site_by_relative_address() {
    let scratch = Scratch::new("links");
    let (site, _) = assemble(&workspace_root(), &scratch.module(b"\0asm")).unwrap();
    let page = text_of(&site, "index.html");
    let mut links = attributes(&page, "src");
    links.extend(attributes(&page, "href"));
    links.retain(|link| !link.starts_with('#') && *link != "./");
    assert!(links.len() >= 7, "{links:?}");
    for link in links {
        let path = link.strip_prefix("./").expect(link);
        assert!(site.get(path).is_some(), "{link}");
    }
    assert_eq!(site.get("index.html"), site.get("404.html"));
}

#[test]
fn the_manifest_names_only_files_of_the_site() {
    let scratch = Scratch::new("manifest");
    let (site, _) = assemble(&workspace_root(), &scratch.module(b"\0asm")).unwrap();
    let manifest: serde_json::Value =
        serde_json::from_str(&text_of(&site, "manifest.webmanifest")).unwrap();
    assert_eq!(manifest["start_url"], "./");
    assert_eq!(manifest["scope"], "./");
    let icons = manifest["icons"].as_array().unwrap();
    for icon in icons {
        let path = icon["src"].as_str().unwrap().strip_prefix("./").unwrap();
        assert!(site.get(path).is_some(), "{path}");
    }
    for sizes in ["192x192", "512x512"] {
        assert!(icons.iter().any(|icon| icon["sizes"] == sizes), "{sizes}");
    }
    assert!(icons.iter().any(|icon| icon["purpose"] == "maskable"));
}

#[test]
fn the_page_holds_its_policy_and_nothing_inline() {
    let scratch = Scratch::new("policy");
    let (site, build) = assemble(&workspace_root(), &scratch.module(b"\0asm")).unwrap();
    let page = text_of(&site, "index.html");
    assert!(page.contains(&format!("content=\"{POLICY}\"")));
    assert!(page.contains(&format!("<meta name=\"build\" content=\"{build}\">")));
    assert!(!page.contains("<style"));
    assert!(attributes(&page, "style").is_empty());
    assert!(!page.contains("{{"));
    for script in page.split("<script").skip(1) {
        assert!(script.contains("src="), "a script without a file");
        assert!(script.contains("></script>"), "a script with a body");
    }
    for handler in ["onclick", "onload", "onerror"] {
        assert!(attributes(&page, handler).is_empty());
    }
}

#[test]
fn the_worker_keeps_everything_the_page_can_ask_for() {
    let scratch = Scratch::new("worker");
    let (site, build) = assemble(&workspace_root(), &scratch.module(b"\0asm")).unwrap();
    let worker = text_of(&site, "sw.js");
    assert!(worker.contains(&format!("const BUILD = \"{build}\";")));
    let aside = ["index.html", "404.html", "sw.js", "sw-retire.js", SCHEMA];
    for path in site.paths() {
        let listed = worker.contains(&format!("[\"{path}\",\""));
        assert_eq!(listed, !aside.contains(&path), "{path}");
    }
    for path in [DEMO, "manifest.webmanifest"] {
        let sum = site::sum(site.get(path).unwrap());
        assert!(worker.contains(&format!("[\"{path}\",\"")) && worker.contains(&sum));
    }
}

#[test]
fn the_schema_is_published_as_it_is() {
    let scratch = Scratch::new("schema");
    let root = workspace_root();
    let (site, _) = assemble(&root, &scratch.module(b"\0asm")).unwrap();
    let schema: serde_json::Value = serde_json::from_str(&text_of(&site, SCHEMA)).unwrap();
    let format = &schema["properties"]["format"]["const"];
    assert_eq!(format, season::file::FORMAT);
    assert_eq!(
        site.get(SCHEMA),
        Some(&*read(&root.join(SCHEMA_SOURCE)).unwrap())
    );
}

#[test]
fn the_same_sources_give_the_same_site_and_another_byte_another_build() {
    let scratch = Scratch::new("again");
    let root = workspace_root();
    let (first, build) = assemble(&root, &scratch.module(b"\0asm")).unwrap();
    let (again, build_again) = assemble(&root, &scratch.module(b"\0asm")).unwrap();
    assert_eq!(first, again);
    assert_eq!(build, build_again);
    let (_, other) = assemble(&root, &scratch.module(b"\0asn")).unwrap();
    assert_ne!(build, other);
}

#[test]
fn scripts_that_packages_bring_are_published_and_found() {
    let scratch = Scratch::new("snippets");
    let module = scratch.module(b"\0asm");
    let snippets = scratch.0.join("snippets").join("some-1a2b");
    fs::create_dir_all(&snippets).unwrap();
    fs::write(snippets.join("inline0.js"), "export const a = 1;").unwrap();
    fs::write(
        &module.app.js,
        "import { a } from './snippets/some-1a2b/inline0.js';",
    )
    .unwrap();
    let (site, _) = assemble(&workspace_root(), &module).unwrap();
    let glue = text_of(&site, &site.find_hashed(ASSETS, "app", "js").unwrap());
    let named = glue.split('\'').nth(1).unwrap().strip_prefix("./").unwrap();
    assert!(site.get(&format!("{ASSETS}/{named}")).is_some(), "{named}");
}
