//! SHA-256.

use std::fmt::Write;

use sha2::{Digest, Sha256};

/// SHA-256 in hexadecimal.
pub fn sha256(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(64);
    for byte in Sha256::digest(bytes) {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_digest_is_sha_256() {
        // FIPS 180-4 example, "abc": NIST's "SHA256.pdf" of example values.
        assert_eq!(
            sha256(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
