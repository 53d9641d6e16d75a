//! The HTTP twin of the desktop shell: the same commands and the same user interface for a browser.
//!
//! It answers this machine alone, and only pages that it served itself: see [`guard`] for what is refused and
//! why. A command is `POST /api/call/{name}` with its request as JSON; the answer is the reply, or a
//! [`Failure`](hibernacle_contract::Failure) with a fitting status.

mod assets;
mod calls;
pub mod guard;
mod pages;
mod server;

#[cfg(feature = "embedded-ui")]
pub use assets::EmbeddedUi;
pub use assets::{Asset, FolderUi, UiAssets};
pub use server::{Gateway, GatewayError, Running};
