//! What `serve` is told.

use super::shared::{FamiliesArgs, ToolsArgs};
use clap::Args;
use std::net::IpAddr;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(in crate::cli) struct ServeArgs {
    /// Folder of pattern files
    #[arg(default_value = ".")]
    pub(in crate::cli) folder: PathBuf,
    /// Port; 0 takes any free one
    #[arg(long, default_value_t = 7700)]
    pub(in crate::cli) port: u16,
    /// Listen on this address instead of this machine's own: `0.0.0.0` for the whole network
    #[arg(long, value_name = "ADDRESS")]
    pub(in crate::cli) listen: Option<IpAddr>,
    /// A name that browsers call the server by, such as that of a proxy; may be given again
    #[arg(long = "host", value_name = "NAME")]
    pub(in crate::cli) hosts: Vec<String>,
    #[command(flatten)]
    pub(in crate::cli) families: FamiliesArgs,
    #[command(flatten)]
    pub(in crate::cli) tools: ToolsArgs,
}
