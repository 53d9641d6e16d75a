//! Serves Hibernacle to a browser on this machine.

use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;

use clap::Parser;
use hibernacle_gateway::{FolderUi, Gateway, GatewayError};
use hibernacle_service::{Context, HostClock, data_dir};

/// Port that is tried first, so that a bookmark keeps working.
const USUAL_PORT: u16 = 8970;

/// Serves Hibernacle to a browser on this machine.
#[derive(Parser)]
#[command(version)]
struct Arguments {
    /// Port on the loopback address; without it 8970, or any free one while that is taken.
    #[arg(long)]
    port: Option<u16>,
    /// Folder of the built user interface.
    #[arg(long, required = !cfg!(feature = "embedded-ui"))]
    ui: Option<PathBuf>,
    /// Load the invented season of Larch Bank where there is no data yet.
    #[arg(long)]
    demo: bool,
}

fn main() -> ExitCode {
    match serve(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn serve(arguments: &Arguments) -> Result<(), Box<dyn std::error::Error>> {
    let context = Arc::new(Context::open(&data_dir()?, HostClock::from_environment()?)?);
    if arguments.demo {
        context.load_demo_if_empty()?;
    }
    let gateway = match arguments.port {
        Some(port) => bind(port, &context, arguments)?,
        None => bind(USUAL_PORT, &context, arguments).or_else(|_| bind(0, &context, arguments))?,
    };
    println!("{}", gateway.url());
    println!("Open this address in a browser on this machine. Ctrl-C stops.");
    Ok(gateway.run()?)
}

fn bind(port: u16, context: &Arc<Context>, arguments: &Arguments) -> Result<Gateway, GatewayError> {
    let address = SocketAddr::from((Ipv4Addr::LOCALHOST, port));
    let context = Arc::clone(context);
    match &arguments.ui {
        Some(folder) => Gateway::bind(address, context, FolderUi::new(folder)),
        #[cfg(feature = "embedded-ui")]
        None => Gateway::bind(address, context, hibernacle_gateway::EmbeddedUi),
        #[cfg(not(feature = "embedded-ui"))]
        None => Gateway::bind(address, context, FolderUi::new("ui/dist")),
    }
}
