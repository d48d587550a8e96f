//! A ZIP file of stored entries (PKWARE application note 6.3.10, §4.3). No time is written, so the
//! same entries give the same bytes.

/// A ZIP file under way.
#[derive(Default)]
pub(crate) struct Zip {
    bytes: Vec<u8>,
    directory: Vec<u8>,
    entries: u16,
}

/// 1 January 1980, the earliest date the format knows.
const DATE: u16 = 0x21;

impl Zip {
    /// Adds a file.
    pub(crate) fn add(&mut self, name: &str, content: &[u8]) {
        let at = self.bytes.len() as u32;
        let mut head = Vec::new();
        // Version 2.0, no flags, stored, time, date.
        for field in [20_u16, 0, 0, 0, DATE] {
            head.extend(field.to_le_bytes());
        }
        head.extend(crc32fast::hash(content).to_le_bytes());
        head.extend((content.len() as u32).to_le_bytes());
        head.extend((content.len() as u32).to_le_bytes());
        head.extend((name.len() as u16).to_le_bytes());
        head.extend(0_u16.to_le_bytes());
        self.bytes.extend(b"PK\x03\x04");
        self.bytes.extend(&head);
        self.bytes.extend(name.as_bytes());
        self.bytes.extend(content);
        self.directory.extend(b"PK\x01\x02");
        self.directory.extend(20_u16.to_le_bytes());
        self.directory.extend(&head);
        // No comment, disk 0, no attributes.
        self.directory.extend([0; 10]);
        self.directory.extend(at.to_le_bytes());
        self.directory.extend(name.as_bytes());
        self.entries += 1;
    }

    /// Ends the file.
    pub(crate) fn finish(mut self) -> Vec<u8> {
        let at = self.bytes.len() as u32;
        let length = self.directory.len() as u32;
        self.bytes.append(&mut self.directory);
        self.bytes.extend(b"PK\x05\x06");
        self.bytes.extend([0; 4]);
        self.bytes.extend(self.entries.to_le_bytes());
        self.bytes.extend(self.entries.to_le_bytes());
        self.bytes.extend(length.to_le_bytes());
        self.bytes.extend(at.to_le_bytes());
        self.bytes.extend([0; 2]);
        self.bytes
    }
}
