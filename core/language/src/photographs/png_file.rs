//! PNG files (ISO/IEC 15948): decoded to see that they are whole, and kept without what programs noted.

use std::io::Cursor;

use jigless_model::photograph::{Encoding, Picture};

/// What every file begins with.
pub(super) const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";

/// Chunks that say what is seen.
const KEPT: [&[u8; 4]; 8] = [
    b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND", b"gAMA", b"sRGB", b"iCCP",
];

/// The file with what is shown, and how large it is. One of more than so many dots is not decoded.
pub(super) fn read(bytes: &[u8], most_dots: u64) -> Result<Picture, &'static str> {
    const SPOILED: &str = "it is damaged";
    let mut reader = png::Decoder::new(Cursor::new(bytes))
        .read_info()
        .map_err(|_| SPOILED)?;
    let (width, height) = reader.info().size();
    if u64::from(width) * u64::from(height) <= most_dots {
        while reader.next_row().map_err(|_| SPOILED)?.is_some() {}
    }
    let mut kept = SIGNATURE.to_vec();
    let mut rest = &bytes[SIGNATURE.len()..];
    while let Some((length, after)) = rest.split_first_chunk::<4>() {
        // Length, kind, content, check sum.
        let whole = u32::from_be_bytes(*length) as usize + 12;
        let (chunk, next) = rest.split_at_checked(whole).ok_or(SPOILED)?;
        if KEPT.iter().any(|kind| after.starts_with(*kind)) {
            kept.extend_from_slice(chunk);
        }
        rest = next;
    }
    Ok(Picture {
        encoding: Encoding::Png,
        bytes: kept,
        width,
        height,
    })
}
