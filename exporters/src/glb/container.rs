//! The binary container (glTF 2.0, section 4.4): a head, a chunk of JSON and a chunk of bytes.

use serde_json::Value;

/// `glTF` as bytes, little-endian.
const MAGIC: u32 = 0x4654_6C67;
const VERSION: u32 = 2;
/// `JSON` and `BIN` with a zero.
const JSON: u32 = 0x4E4F_534A;
const BIN: u32 = 0x004E_4942;

/// A whole file. Chunks end at multiples of four bytes: the JSON is filled up with spaces, the bytes with zeros.
pub(super) fn packed(json: &Value, mut binary: Vec<u8>) -> Vec<u8> {
    let mut text = json.to_string().into_bytes();
    text.resize(text.len().next_multiple_of(4), b' ');
    binary.resize(binary.len().next_multiple_of(4), 0);
    let length = 12 + 8 + text.len() + 8 + binary.len();
    let mut file = Vec::with_capacity(length);
    let word = |file: &mut Vec<u8>, value: u32| file.extend_from_slice(&value.to_le_bytes());
    for value in [MAGIC, VERSION, length as u32, text.len() as u32, JSON] {
        word(&mut file, value);
    }
    file.extend_from_slice(&text);
    word(&mut file, binary.len() as u32);
    word(&mut file, BIN);
    file.extend_from_slice(&binary);
    file
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn chunks_are_filled_up_to_words() {
        let file = packed(&json!({"a": 1}), vec![1, 2, 3, 4, 5]);
        assert_eq!(&file[..4], b"glTF");
        assert_eq!(file[8..12], (file.len() as u32).to_le_bytes());
        assert_eq!(&file[16..20], b"JSON");
        assert_eq!(&file[20..28], br#"{"a":1} "#);
        assert_eq!(&file[28..36], [8, 0, 0, 0, b'B', b'I', b'N', 0]);
        assert_eq!(&file[36..], [1, 2, 3, 4, 5, 0, 0, 0]);
    }
}
