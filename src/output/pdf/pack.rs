//! Streams packed with Flate (ISO 32000-1, 7.4.4).
//!
//! The library packs at its best level only, which was a quarter of all the time that a pattern
//! takes.

use crate::output::WriteError;
use flate2::{Compress, Compression, FlushCompress, Status};
use lopdf::Stream;

/// How hard packing tries, 1 to 9: as little as it may. Against 2, files are some 12 % longer and a
/// whole pattern takes 8 % less time.
const LEVEL: u32 = 1;

/// What the entry that names the filter takes, bytes: packing must save more.
const FILTER_ENTRY: usize = 19;

/// Packs one stream after the other in one working memory of a third of a megabyte.
pub(super) struct Packer {
    compress: Compress,
}

impl Packer {
    pub(super) fn new() -> Self {
        Self {
            compress: Compress::new(Compression::new(LEVEL), true),
        }
    }

    /// Packs a stream that is not packed yet, where that makes it shorter.
    pub(super) fn stream(&mut self, stream: &mut Stream) -> Result<(), WriteError> {
        if !stream.allows_compression || stream.dict.has(b"Filter") {
            return Ok(());
        }
        let mut packed = Vec::with_capacity(stream.content.len() + FILTER_ENTRY);
        self.compress.reset();
        let status = self
            .compress
            .compress_vec(&stream.content, &mut packed, FlushCompress::Finish)
            .map_err(|cause| WriteError::Pdf(cause.to_string()))?;
        // Where the room given is not enough, packing saves nothing.
        if status == Status::StreamEnd && packed.len() + FILTER_ENTRY < stream.content.len() {
            packed.shrink_to_fit();
            stream.dict.set("Filter", "FlateDecode");
            stream.set_content(packed);
        }
        Ok(())
    }
}
