//! What keeps a folder from being served.

use std::fmt;
use std::io;
use std::net::SocketAddr;
use std::path::PathBuf;

/// Why a folder is not served.
#[derive(Debug)]
pub enum ServeError {
    /// The folder can't be opened.
    Folder(PathBuf, io::Error),
    /// The address can't be listened on.
    Address(SocketAddr, io::Error),
    /// The key of the link can't be made or kept.
    Key(io::Error),
    /// The server could not be started, or fell.
    Run(io::Error),
}

impl fmt::Display for ServeError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Folder(folder, cause) => {
                write!(
                    out,
                    "the folder `{}` can't be served: {cause}",
                    folder.display()
                )
            }
            Self::Address(address, cause) if cause.kind() == io::ErrorKind::AddrInUse => write!(
                out,
                "`{address}` is taken by another program; hint: choose another `--port`, or 0 for \
                 any free one"
            ),
            Self::Address(address, cause) => {
                write!(out, "`{address}` can't be listened on: {cause}")
            }
            Self::Key(cause) => write!(out, "the key of the link can't be made or kept: {cause}"),
            Self::Run(cause) => write!(out, "the server can't run: {cause}"),
        }
    }
}

impl std::error::Error for ServeError {}
