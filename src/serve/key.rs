//! The key that opens a folder which is served beyond this machine.
//!
//! It stands in the folder, so that the link stays good when the server is started again and
//! several servers of one folder take the same. Whoever removes the file `.trimloft/key` has a new
//! one made, and all old links are void.

use crate::base::words::hex;
use crate::output::{make_folder, write_whole};
use crate::store::{Hash, Store};
use std::fs;
use std::io;

/// Random bytes in a key: nobody guesses 128 bits.
const BYTES: usize = 16;

/// A key, in 32 hexadecimal digits.
#[derive(Clone)]
pub(super) struct Key(String);

impl Key {
    /// The key of a folder, made where there is none yet.
    pub(super) fn of(store: &Store) -> io::Result<Self> {
        let path = store.hidden().join("key");
        if let Ok(kept) = fs::read_to_string(&path)
            && let Some(key) = Self::parse(kept.trim())
        {
            return Ok(key);
        }
        let mut bytes = [0; BYTES];
        getrandom::fill(&mut bytes).map_err(io::Error::other)?;
        let digits = hex(&bytes);
        make_folder(&store.hidden()).map_err(io::Error::other)?;
        write_whole(&path, digits.as_bytes()).map_err(io::Error::other)?;
        only_for_its_owner(&path)?;
        Ok(Self(digits))
    }

    fn parse(digits: &str) -> Option<Self> {
        let sound =
            digits.len() == 2 * BYTES && digits.bytes().all(|byte| byte.is_ascii_hexdigit());
        sound.then(|| Self(digits.into()))
    }

    /// As it stands in the link.
    pub(super) fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether it is this one, told by hashes, whose comparison gives nothing of the key away by
    /// its time.
    pub(super) fn is(&self, given: &str) -> bool {
        Hash::of(self.0.as_bytes()) == Hash::of(given.as_bytes())
    }

    /// Name of the cookie that holds it: each folder has its own, so that a browser may know several
    /// servers of one address.
    pub(super) fn cookie(&self) -> String {
        format!("trimloft-{:.8}", Hash::of(self.0.as_bytes()).to_string())
    }
}

#[cfg(unix)]
fn only_for_its_owner(path: &std::path::Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(0o600))
}

#[cfg(not(unix))]
fn only_for_its_owner(_: &std::path::Path) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_keeps_its_key_and_two_folders_have_two() {
        let folders = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
        let [one, other] = folders.each_ref().map(|folder| {
            let store = Store::open(folder.path()).unwrap();
            let key = Key::of(&store).unwrap();
            assert!(key.is(Key::of(&store).unwrap().as_str()));
            key
        });
        assert!(!one.is(other.as_str()) && one.cookie() != other.cookie());
        assert!(!one.is("") && !one.is(&one.as_str()[1..]));
    }
}
