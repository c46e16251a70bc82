//! `trimloft serve`: a folder of definitions as a page in the browser.

use super::args::ServeArgs;
use super::{Failure, meaning, report};
use std::net::{IpAddr, Ipv4Addr};
use trimloft::serve::{Config, Server};

pub(super) fn run(args: &ServeArgs) -> Result<(), Failure> {
    let server = Server::bind(Config {
        folder: args.folder.clone(),
        listen: args.listen.unwrap_or(IpAddr::V4(Ipv4Addr::LOCALHOST)),
        port: args.port,
        hosts: args.hosts.clone(),
        shapes: meaning::library(&args.families)?,
        tools: meaning::shop(&args.tools)?,
    })
    .map_err(Failure::falls_short)?;
    report::print(&format!("{}\n", server.link()))?;
    match server.code() {
        Some(code) => report::tell(format_args!(
            "{code}\nscan it with a phone of the same network; the link is a key: who has it, reads and \
             writes the folder, and it crosses the network unencrypted\n"
        )),
        None => report::tell("for this machine only; others with `--listen`\n"),
    }
    server.run().map_err(Failure::falls_short)
}
