//! A small server for one's own machine. It answers as a plain static host
//! does, so that what works here works anywhere.

use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};

use axum::Router;
use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::middleware::{self, Next};
use axum::response::Response;
use axum::routing::any;
use tokio::net::TcpListener;
use tower_http::services::ServeDir;

use crate::dist::{ASSETS, POLICY};
use crate::error::Error;

/// Serves `dir` on 127.0.0.1 until Ctrl-C, printing the address once it
/// answers. Port 0 takes any free one.
///
/// # Errors
/// [`Error::PortTaken`] where the port is in use, [`Error::Server`] otherwise.
pub fn serve(dir: &Path, port: u16) -> Result<(), Error> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .map_err(|source| Error::Server { source })?;
    runtime.block_on(async {
        let listener = listen(port).await?;
        let address = listener
            .local_addr()
            .map_err(|source| Error::Server { source })?;
        println!("Stemtide is at http://{address}/ (Ctrl-C stops it).");
        axum::serve(listener, router(dir))
            .with_graceful_shutdown(async {
                // Without a signal to wait for, the server simply goes on.
                if tokio::signal::ctrl_c().await.is_err() {
                    std::future::pending::<()>().await;
                }
            })
            .await
            .map_err(|source| Error::Server { source })
    })
}

/// Opens the port on the loopback address only.
async fn listen(port: u16) -> Result<TcpListener, Error> {
    let address = SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    TcpListener::bind(address)
        .await
        .map_err(|source| match source.kind() {
            io::ErrorKind::AddrInUse => Error::PortTaken { port },
            _ => Error::Server { source },
        })
}

/// The files of `dir` with the headers a host should give them.
pub fn router(dir: &Path) -> Router {
    let missing = any(not_found).with_state(dir.join("404.html"));
    Router::new()
        .fallback_service(ServeDir::new(dir).fallback(missing))
        .layer(middleware::from_fn(add_headers))
}

/// What a static host answers: its page for the missing, with the status that
/// says so. A missing file gets a bare answer, never a page in its place.
async fn not_found(State(page): State<PathBuf>, request: Request) -> Response {
    let last = request.uri().path().rsplit('/').next().unwrap_or_default();
    let content = if last.contains('.') {
        None
    } else {
        tokio::fs::read(&page).await.ok()
    };
    let kind = match content {
        Some(_) => "text/html; charset=utf-8",
        None => "text/plain; charset=utf-8",
    };
    let mut response = Response::new(content.map_or_else(|| "Not found.".into(), Body::from));
    *response.status_mut() = StatusCode::NOT_FOUND;
    response
        .headers_mut()
        .insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
    response
}

async fn add_headers(request: Request, next: Next) -> Response {
    let hashed = request.uri().path().contains(&format!("/{ASSETS}/"));
    let mut response = next.run(request).await;
    // What has its content's hash in its name can never change.
    let keep = if hashed && response.status().is_success() {
        "public, max-age=31536000, immutable"
    } else {
        "no-cache"
    };
    for (name, value) in [
        (header::CACHE_CONTROL, keep),
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    ] {
        response
            .headers_mut()
            .insert(name, HeaderValue::from_static(value));
    }
    response
}

#[cfg(test)]
mod tests {
    use std::fs;

    use tokio::io::{AsyncReadExt, AsyncWriteExt};
    use tokio::net::TcpStream;

    use super::*;

    /// One answer as it comes over the wire, headers in lower case.
    async fn ask(address: SocketAddr, path: &str) -> String {
        let mut stream = TcpStream::connect(address).await.unwrap();
        let request =
            format!("GET {path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
        stream.write_all(request.as_bytes()).await.unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).await.unwrap();
        String::from_utf8_lossy(&answer).to_lowercase()
    }

    fn within<F: Future<Output = ()>>(act: impl FnOnce(SocketAddr) -> F) {
        let dir = std::env::temp_dir().join(format!(
            "stemtide-serve-{}-{:?}",
            std::process::id(),
            std::thread::current().id()
        ));
        fs::create_dir_all(dir.join("assets")).unwrap();
        for (path, content) in [
            ("index.html", "<p>home"),
            ("404.html", "<p>home"),
            ("sw.js", "//"),
            ("manifest.webmanifest", "{}"),
            ("assets/app-0123456789ab.wasm", "asm"),
        ] {
            fs::write(dir.join(path), content).unwrap();
        }
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .unwrap();
        runtime.block_on(async {
            let listener = listen(0).await.unwrap();
            let address = listener.local_addr().unwrap();
            tokio::spawn(async move { axum::serve(listener, router(&dir)).await });
            act(address).await;
        });
    }

    #[test]
    fn files_have_their_types_and_keeping_times() {
        within(|address| async move {
            for (path, kind, keep) in [
                ("/", "text/html", "no-cache"),
                ("/sw.js", "text/javascript", "no-cache"),
                (
                    "/manifest.webmanifest",
                    "application/manifest+json",
                    "no-cache",
                ),
                (
                    "/assets/app-0123456789ab.wasm",
                    "application/wasm",
                    "public, max-age=31536000, immutable",
                ),
            ] {
                let answer = ask(address, path).await;
                assert!(answer.starts_with("http/1.1 200"), "{path}: {answer}");
                assert!(
                    answer.contains(&format!("content-type: {kind}")),
                    "{answer}"
                );
                assert!(
                    answer.contains(&format!("cache-control: {keep}\r\n")),
                    "{answer}"
                );
                let policy = format!("content-security-policy: {POLICY}\r\n");
                assert!(answer.contains(&policy), "{path}: {answer}");
            }
        });
    }

    #[test]
    fn a_missing_file_is_never_the_page_and_never_kept() {
        within(|address| async move {
            for path in [
                "/assets/gone-0123456789ab.wasm",
                "/gone.js",
                "/../Cargo.toml",
            ] {
                let answer = ask(address, path).await;
                assert!(answer.starts_with("http/1.1 404"), "{path}: {answer}");
                assert!(answer.contains("cache-control: no-cache"), "{answer}");
                assert!(!answer.contains("<p>home"), "{path}: {answer}");
            }
        });
    }

    #[test]
    fn a_place_in_the_app_gets_the_page_and_a_folder_no_list() {
        within(|address| async move {
            let place = ask(address, "/bench").await;
            assert!(place.starts_with("http/1.1 404"), "{place}");
            assert!(place.contains("<p>home"), "{place}");
            let folder = ask(address, "/assets/").await;
            assert!(folder.starts_with("http/1.1 404"), "{folder}");
            assert!(!folder.contains("wasm\""), "{folder}");
        });
    }

    #[test]
    fn a_port_in_use_is_said_plainly() {
        within(|address| async move {
            let error = listen(address.port()).await.unwrap_err();
            let sentence = error.to_string();
            assert!(
                sentence.contains(&format!("Port {}", address.port())),
                "{sentence}"
            );
            assert!(sentence.contains("--port"), "{sentence}");
        });
    }
}
