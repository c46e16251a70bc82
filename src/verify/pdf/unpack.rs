//! Streams unpacked, and never beyond a bound.

use super::guard::LARGEST_UNPACKED;
use crate::verify::error::VerifyError;
use flate2::read::ZlibDecoder;
use hayro_syntax::Filter;
use hayro_syntax::object::{Dict, Stream};
use std::io::Read;

/// How much more may be unpacked and read of one file.
#[derive(Debug)]
pub(super) struct Budget {
    bytes: u64,
}

impl Budget {
    pub(super) fn new() -> Self {
        Self {
            bytes: LARGEST_UNPACKED,
        }
    }

    /// A stream's bytes. Every reading counts, so that content which shows itself comes to an end.
    pub(super) fn unpack(&mut self, stream: &Stream<'_>) -> Result<Vec<u8>, VerifyError> {
        let swells = VerifyError::Swells {
            at_most: LARGEST_UNPACKED,
        };
        let plain = stream.dict().get::<Dict<'_>>("DecodeParms").is_none();
        let bytes = match stream.filters().as_slice() {
            [Filter::FlateDecode] if plain => {
                let raw = stream.raw_data();
                let mut bytes = Vec::with_capacity(4 * raw.len());
                let read = ZlibDecoder::new(raw.as_ref())
                    .take(self.bytes + 1)
                    .read_to_end(&mut bytes);
                if read.is_err() {
                    // What came before the damage may look whole.
                    return Err(VerifyError::Pdf("a stream of it is damaged"));
                }
                bytes
            }
            _ => stream
                .decoded_data()
                .map_err(|_| VerifyError::Pdf("a stream of it is damaged"))?
                .into_owned(),
        };
        // Empty content still costs a visit.
        self.bytes = self
            .bytes
            .checked_sub(bytes.len() as u64 + 64)
            .ok_or(swells)?;
        Ok(bytes)
    }
}
