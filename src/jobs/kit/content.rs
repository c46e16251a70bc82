//! What a pattern is made from, as one hash: where it is the same, so is the pattern.

use crate::base::fixed;
use crate::base::words::hex;
use crate::input::ShopSpec;
use crate::input::families::Library;
use crate::layout::{PageOrientation, Setup};
use sha2::{Digest, Sha256};

/// Goes first into every hash; to be changed whenever something else goes into it.
const KIND: &str = "trimloft pattern 5";

/// SHA-256 of bytes, as `sha256sum` prints it.
pub(super) fn hash(bytes: &[u8]) -> String {
    hex(Sha256::digest(bytes).as_slice())
}

/// Parts hashed one after the other; each with its length, so that no two lists are alike.
#[derive(Default)]
pub(super) struct Parts(Sha256);

impl Parts {
    pub(super) fn add(&mut self, part: &[u8]) {
        self.0.update((part.len() as u64).to_le_bytes());
        self.0.update(part);
    }

    pub(super) fn hash(self) -> String {
        hex(self.0.finalize().as_slice())
    }
}

/// The hash of a pattern's definition, the user's own shapes that it may use, the tools of a named
/// shop, the kit's number, the sheets asked for, and the version that draws it.
pub(super) fn of_pattern(
    definition: &str,
    shapes: &Library,
    shop: Option<&ShopSpec>,
    setup: &Setup,
    share: bool,
) -> String {
    let mut parts = Parts::default();
    for part in [
        KIND,
        &setup.kit,
        env!("CARGO_PKG_VERSION"),
        &sheets_in_words(setup, share),
    ] {
        parts.add(part.as_bytes());
    }
    for diameter in shop.iter().flat_map(|shop| &shop.tools) {
        parts.add(&diameter.to_le_bytes());
    }
    parts.add(definition.as_bytes());
    // A definition without backslashes writes a shape's name as it is; one with them may hide it.
    let may_hide = definition.contains('\\');
    for (name, text) in shapes.own_texts() {
        if may_hide || definition.contains(name) {
            parts.add(name.as_bytes());
            parts.add(text.as_bytes());
        }
    }
    parts.hash()
}

/// Everything about the sheets that is chosen for a whole kit.
pub(super) fn sheets_in_words(setup: &Setup, share: bool) -> String {
    let orientation = match setup.orientation {
        PageOrientation::Landscape => "landscape",
        PageOrientation::Portrait | PageOrientation::Either => "portrait",
    };
    format!(
        "{} {orientation}, margin {} mm, overlap {} mm{}",
        setup.paper.name(),
        fixed(setup.margin, 3),
        fixed(setup.overlap, 3),
        if share {
            ", small patterns share sheets"
        } else {
            ""
        }
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::Source;
    use crate::layout::Paper;

    #[test]
    fn agrees_with_published_values() {
        // FIPS 180-2, appendix B.1 and B.2 (read second-hand).
        assert_eq!(
            hash(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert_eq!(
            hash(b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"
        );
    }

    #[test]
    fn hangs_on_definition_shapes_and_sheets_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let shape = include_str!("../../../shapes/notch.toml");
        let own = |name: &str, more: &str| {
            let text = shape.replace("name = \"notch\"", &format!("name = \"{name}\""));
            let file = folder.path().join(format!("{name}.toml"));
            std::fs::write(file, text + more).unwrap();
        };
        let library = || Library::shipped().with_folder(folder.path()).unwrap();
        let a4 = Setup::new(Paper::parse("a4").unwrap());
        let key = |definition: &str, setup: &Setup| {
            of_pattern(definition, &library(), None, setup, false)
        };
        let definition = "shape = \"bay-notch\"";
        own("bay-notch", "");
        own("other", "");
        let first = key(definition, &a4);
        assert_eq!(first.len(), 64);
        own("other", "# changed\n");
        assert_eq!(key(definition, &a4), first);
        own("bay-notch", "# changed\n");
        assert_ne!(key(definition, &a4), first);
        let now = key(definition, &a4);
        assert_ne!(key("shape = \"bay-notch\" ", &a4), now);
        let wide = Setup {
            margin: 7.0,
            ..a4.clone()
        };
        assert_ne!(key(definition, &wide), now);
        assert_ne!(of_pattern(definition, &library(), None, &a4, true), now);
        let shop = |tools: &str| {
            let text = format!("format = 1\nname = \"Bay\"\ntools = {tools}\n");
            let shop = ShopSpec::read(&Source::new("bay.toml", text)).unwrap();
            of_pattern(definition, &library(), Some(&shop), &a4, false)
        };
        assert_ne!(shop("[8]"), now);
        assert_ne!(shop("[8]"), shop("[10]"));
        // A name written with an escape is not found, so every shape counts.
        let hidden = "shape = \"\\u0062ay-notch\"";
        let before = key(hidden, &a4);
        own("bay-notch", "# again\n");
        assert_ne!(key(hidden, &a4), before);
    }
}
