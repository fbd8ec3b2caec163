//! Packed files: the form in which word processors and spreadsheets keep the parts of a document.
//!
//! Source: .ZIP File Format Specification (APPNOTE) 6.3; the packing itself is RFC 1951.

pub mod checksum;
pub mod zip_reader;
pub mod zip_writer;
