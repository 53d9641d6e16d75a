//! The files of the user interface.

use std::borrow::Cow;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Component, Path, PathBuf};

/// A file of the user interface.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asset {
    /// Its bytes.
    pub bytes: Cow<'static, [u8]>,
    /// Its type as HTTP names it.
    pub content_type: String,
    /// Changes when the bytes do.
    pub etag: String,
}

impl Asset {
    fn new(path: &str, bytes: Cow<'static, [u8]>) -> Self {
        let mut hasher = DefaultHasher::new();
        bytes.hash(&mut hasher);
        let kind = mime_guess::from_path(path).first_or_octet_stream();
        let charset =
            if kind.type_() == "text" || kind.subtype() == "javascript" { "; charset=utf-8" } else { "" };
        Self {
            bytes,
            content_type: format!("{kind}{charset}"),
            etag: format!("\"{:016x}\"", hasher.finish()),
        }
    }
}

/// Where the files of the user interface come from.
pub trait UiAssets: Send + Sync {
    /// The file at a path from the top of the user interface (`assets/main.js`), if there is one.
    fn get(&self, path: &str) -> Option<Asset>;
}

/// Files in a folder, read anew for each request.
#[derive(Debug, Clone)]
pub struct FolderUi {
    folder: PathBuf,
}

impl FolderUi {
    /// Files of a folder that holds an `index.html`.
    pub fn new(folder: impl Into<PathBuf>) -> Self {
        Self { folder: folder.into() }
    }
}

impl UiAssets for FolderUi {
    fn get(&self, path: &str) -> Option<Asset> {
        // On Windows a backslash or a colon would leave the folder without a `..`.
        let stays_inside = !path.contains(['\\', ':', '\0'])
            && Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
        if path.is_empty() || !stays_inside {
            return None;
        }
        let bytes = std::fs::read(self.folder.join(path)).ok()?;
        Some(Asset::new(path, Cow::Owned(bytes)))
    }
}

/// Files that are part of the program.
#[cfg(feature = "embedded-ui")]
#[derive(Debug, Clone, Copy, Default)]
pub struct EmbeddedUi;

#[cfg(feature = "embedded-ui")]
#[derive(rust_embed::RustEmbed)]
#[folder = "../../../ui/dist"]
struct Files;

#[cfg(feature = "embedded-ui")]
impl UiAssets for EmbeddedUi {
    fn get(&self, path: &str) -> Option<Asset> {
        Some(Asset::new(path, Files::get(path)?.data))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_gives_its_files_and_nothing_outside() {
        let top = tempfile::tempdir().unwrap();
        std::fs::create_dir_all(top.path().join("ui/assets")).unwrap();
        std::fs::write(top.path().join("secret.txt"), "outside").unwrap();
        std::fs::write(top.path().join("ui/assets/main.js"), "1").unwrap();
        let ui = FolderUi::new(top.path().join("ui"));
        assert_eq!(ui.get("assets/main.js").unwrap().content_type, "text/javascript; charset=utf-8");
        let absolute = top.path().join("secret.txt").display().to_string();
        for path in
            ["../secret.txt", "assets/../../secret.txt", "..\\secret.txt", &absolute, "", "assets", "none.js"]
        {
            assert_eq!(ui.get(path), None, "{path}");
        }
    }

    #[test]
    fn types_are_those_that_a_strict_browser_asks_for() {
        let kind = |path| Asset::new(path, Cow::Borrowed(b"")).content_type;
        assert_eq!(kind("index.html"), "text/html; charset=utf-8");
        assert_eq!(kind("a.css"), "text/css; charset=utf-8");
        assert_eq!(kind("icon.svg"), "image/svg+xml");
        assert_eq!(kind("font.woff2"), "font/woff2");
        assert_eq!(kind("app.webmanifest"), "application/manifest+json");
        assert_eq!(kind("unknown"), "application/octet-stream");
    }

    #[test]
    fn the_tag_follows_the_bytes() {
        let tag = |bytes: &'static [u8]| Asset::new("a.js", Cow::Borrowed(bytes)).etag;
        assert_eq!(tag(b"1"), tag(b"1"));
        assert_ne!(tag(b"1"), tag(b"2"));
    }
}
