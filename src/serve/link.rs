//! The link to a served folder, in words and for a phone's camera.

use super::key::Key;
use qrcode::QrCode;
use qrcode::render::unicode::Dense1x2;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, UdpSocket};

/// The link: with its key, where there is one.
pub(super) fn link(listening: SocketAddr, key: Option<&Key>) -> String {
    let address = SocketAddr::new(reachable(listening.ip()), listening.port());
    match key {
        Some(key) => format!("http://{address}/?key={}", key.as_str()),
        None => format!("http://{address}/"),
    }
}

/// The link as a picture of half blocks, for a terminal that is dark.
pub(super) fn code(link: &str) -> Option<String> {
    let code = QrCode::new(link).ok()?;
    let mut colours = code.render::<Dense1x2>();
    colours
        .dark_color(Dense1x2::Light)
        .light_color(Dense1x2::Dark);
    Some(colours.build())
}

/// An address that other machines can call: where all are listened on, the one that this machine
/// would speak from.
fn reachable(listening: IpAddr) -> IpAddr {
    if !listening.is_unspecified() {
        return listening;
    }
    // Addresses kept for documentation (RFC 5737, RFC 3849, from memory): nothing is sent.
    let (from, to): (IpAddr, IpAddr) = if listening.is_ipv4() {
        (
            Ipv4Addr::UNSPECIFIED.into(),
            Ipv4Addr::new(192, 0, 2, 1).into(),
        )
    } else {
        let far = Ipv6Addr::new(0x2001, 0xdb8, 0, 0, 0, 0, 0, 1);
        (Ipv6Addr::UNSPECIFIED.into(), far.into())
    };
    let socket = UdpSocket::bind((from, 0)).and_then(|socket| {
        socket.connect((to, 9))?;
        socket.local_addr()
    });
    socket.map_or(listening, |address| address.ip())
}
