//! `hibernacle serve`: the screens in a browser on this machine.

use std::net::{Ipv4Addr, SocketAddr};
use std::path::Path;
use std::sync::Arc;

use hibernacle_contract::wording::FluentArgs;
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_gateway::{FolderUi, Gateway, GatewayError};

use crate::layout::paragraph;
use crate::session::{Session, print};

/// Page that every build of the screens has.
const FIRST_PAGE: &str = "index.html";

pub(crate) fn serve(session: Session, port: u16, ui: Option<&Path>) -> Result<(), Failure> {
    let wording = session.plain();
    let address = SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    let context = Arc::new(session.context);
    let bound = match ui {
        Some(folder) if !folder.join(FIRST_PAGE).is_file() => {
            let mut figures = FluentArgs::new();
            figures.set("page", FIRST_PAGE);
            return Err(Failure::new(ErrorCode::NotFound, wording.message("cli-serve-no-ui", &figures))
                .at(folder.display().to_string(), None));
        }
        Some(folder) => Gateway::bind(address, context, FolderUi::new(folder)),
        #[cfg(feature = "embedded-ui")]
        None => Gateway::bind(address, context, hibernacle_gateway::EmbeddedUi),
        #[cfg(not(feature = "embedded-ui"))]
        None => return Err(Failure::new(ErrorCode::NotFound, wording.text("cli-serve-which-ui"))),
    };
    let gateway = bound.map_err(refused)?;
    print(&format!("{}\n{}", gateway.url(), paragraph(&wording.text("cli-serving"), "")))?;
    gateway.run().map_err(refused)
}

#[expect(clippy::needless_pass_by_value, reason = "used with map_err")]
fn refused(error: GatewayError) -> Failure {
    Failure::new(ErrorCode::Refused, error.to_string())
}
