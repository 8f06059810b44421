//! JPEG files (ISO/IEC 10918-1, annex B): their segments are walked, and what the camera noted is taken out.

use jigless_model::photograph::{Encoding, Picture};

/// The file with what is shown, and how large it is. Its coded dots stay as they are.
pub(super) fn read(bytes: &[u8]) -> Result<Picture, &'static str> {
    const CUT_SHORT: &str = "it ends too early";
    let mut kept = vec![0xff, 0xd8];
    let mut frame = None;
    let mut rest = &bytes[2..];
    loop {
        let [0xff, marker, after @ ..] = rest else {
            return Err(CUT_SHORT);
        };
        // A marker may stand after any number of fill bytes.
        if *marker == 0xff {
            rest = &rest[1..];
            continue;
        }
        let (length, _) = after.split_first_chunk::<2>().ok_or(CUT_SHORT)?;
        let length = usize::from(u16::from_be_bytes(*length));
        let body = after.get(2..length).ok_or(CUT_SHORT)?;
        match marker {
            // Baseline, extended and progressive, by Huffman codes.
            0xc0..=0xc2 => frame = Some(size(body)?),
            0xc3 | 0xc5..=0xc7 | 0xc9..=0xcb | 0xcd..=0xcf => {
                return Err("it is a kind of JPEG that few programs show");
            }
            0xe1 if is_turned(body) => {
                return Err("the camera only noted that it is to be turned");
            }
            _ => {}
        }
        // Kept of what programs add: how colours are meant (JFIF, ICC, Adobe).
        let is_note = matches!(marker, 0xe0..=0xef | 0xfe);
        if !is_note || matches!(marker, 0xe0 | 0xe2 | 0xee) {
            kept.extend_from_slice(&[0xff, *marker]);
            kept.extend_from_slice(&after[..length]);
        }
        rest = &after[length..];
        if *marker == 0xda {
            break;
        }
    }
    let (width, height, encoding) = frame.ok_or(CUT_SHORT)?;
    // What follows the end of the picture is no picture.
    let end = rest.windows(2).rposition(|pair| pair == [0xff, 0xd9]);
    kept.extend_from_slice(&rest[..end.ok_or(CUT_SHORT)? + 2]);
    Ok(Picture {
        encoding,
        bytes: kept,
        width,
        height,
    })
}

/// What a frame header says: bits, height, width, components.
fn size(frame: &[u8]) -> Result<(u32, u32, Encoding), &'static str> {
    let [bits, h1, h0, w1, w0, components, ..] = *frame else {
        return Err("it has no size");
    };
    if bits != 8 {
        return Err("it has more than 8 bits to a colour");
    }
    let encoding = match components {
        1 => Encoding::GreyJpeg,
        3 => Encoding::ColourJpeg,
        _ => return Err("its colours are those of a printing press"),
    };
    let [height, width] = [[h1, h0], [w1, w0]].map(|pair| u32::from(u16::from_be_bytes(pair)));
    Ok((width, height, encoding))
}

/// Whether the camera's notes (Exif 2.32, tag 0x0112) say that the picture is to be turned or mirrored.
fn is_turned(notes: &[u8]) -> bool {
    let orientation = || {
        let tiff = notes.strip_prefix(b"Exif\0\0")?;
        let little = tiff.starts_with(b"II");
        let pair = |at: usize| {
            let pair: [u8; 2] = tiff.get(at..at.checked_add(2)?)?.try_into().ok()?;
            Some(if little {
                u16::from_le_bytes(pair)
            } else {
                u16::from_be_bytes(pair)
            })
        };
        // An offset of four bytes, in either order; a table of 65536 bytes or more from here is not looked for.
        let at = usize::from(pair(if little { 4 } else { 6 })?);
        let entries = usize::from(pair(at)?);
        (0..entries)
            .map(|entry| at + 2 + 12 * entry)
            .find(|entry| pair(*entry) == Some(0x0112))
            .and_then(|entry| pair(entry + 8))
    };
    orientation().is_some_and(|orientation| orientation != 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn segment(marker: u8, body: &[u8]) -> Vec<u8> {
        let length = u16::try_from(body.len() + 2).unwrap().to_be_bytes();
        [&[0xff, marker], &length[..], body].concat()
    }

    fn file(notes: &[u8], components: u8) -> Vec<u8> {
        let frame = [8, 0, 30, 0, 40, components];
        [
            vec![0xff, 0xd8],
            segment(0xe1, notes),
            segment(0xfe, b"a place"),
            segment(0xc2, &frame),
            segment(0xda, &[1]),
            vec![7, 7, 0xff, 0xd9, 0, 0],
        ]
        .concat()
    }

    #[test]
    fn notes_are_taken_out_and_the_picture_stays() {
        let picture = read(&file(b"Exif\0\0", 3)).unwrap();
        assert_eq!((picture.width, picture.height), (40, 30));
        assert_eq!(picture.encoding, Encoding::ColourJpeg);
        assert!(!picture.bytes.windows(4).any(|some| some == b"Exif"));
        assert!(!picture.bytes.windows(7).any(|some| some == b"a place"));
        assert!(picture.bytes.ends_with(&[7, 7, 0xff, 0xd9]));
    }

    #[test]
    fn what_cannot_be_shown_is_refused() {
        let whole = file(b"", 3);
        for end in 2..whole.len() - 2 {
            assert!(read(&whole[..end]).is_err(), "{end}");
        }
        assert!(read(&file(b"", 4)).is_err());
        let turned = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0";
        assert!(read(&file(turned, 3)).unwrap_err().contains("turned"));
    }
}
