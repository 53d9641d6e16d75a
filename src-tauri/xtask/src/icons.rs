//! Draws the icons of every platform from the one drawing.

use std::fs::{self, File};
use std::io::Cursor;

use anyhow::{Context, Result};
use icns::{IconFamily, Image};
use ico::{IconDir, IconDirEntry, IconImage, ResourceType};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};

use crate::project;

/// Edges of the pictures that bundles name, in pixels.
const PICTURES: &[u32] = &[32, 128, 256, 512];

/// Edges inside the icon of Windows.
const WINDOWS: &[u32] = &[16, 24, 32, 48, 64, 128, 256];

/// Edges inside the icon of macOS.
const MAC: &[u32] = &[16, 32, 64, 128, 256, 512, 1024];

/// Draws all icons anew; the same drawing gives the same bytes.
///
/// # Errors
/// When the drawing cannot be read or a file cannot be written.
pub(crate) fn draw() -> Result<()> {
    let folder = project::root().join("icons");
    let drawing =
        fs::read_to_string(folder.join("hibernacle.svg")).context("icons/hibernacle.svg cannot be read")?;
    let tree =
        Tree::from_str(&drawing, &Options::default()).context("icons/hibernacle.svg is not a drawing")?;

    for &edge in PICTURES {
        fs::write(folder.join(format!("{edge}.png")), render(&tree, edge)?.encode_png()?)?;
    }

    let mut windows = IconDir::new(ResourceType::Icon);
    for &edge in WINDOWS {
        let picture = IconImage::read_png(Cursor::new(render(&tree, edge)?.encode_png()?))?;
        windows.add_entry(IconDirEntry::encode(&picture)?);
    }
    windows.write(File::create(folder.join("hibernacle.ico"))?)?;

    let mut mac = IconFamily::new();
    for &edge in MAC {
        mac.add_icon(&Image::read_png(Cursor::new(render(&tree, edge)?.encode_png()?))?)?;
    }
    mac.write(File::create(folder.join("hibernacle.icns"))?)?;

    // The browser's tab shows the drawing itself.
    fs::write(project::root().join("ui/public/icon.svg"), drawing)
        .context("ui/public/icon.svg cannot be written")?;
    println!("drew {} pictures, an icon for Windows and one for macOS", PICTURES.len());
    Ok(())
}

fn render(tree: &Tree, edge: u32) -> Result<Pixmap> {
    let mut picture = Pixmap::new(edge, edge).context("an icon needs an edge")?;
    let scale = Transform::from_scale(edge as f32 / tree.size().width(), edge as f32 / tree.size().height());
    resvg::render(tree, scale, &mut picture.as_mut());
    Ok(picture)
}
