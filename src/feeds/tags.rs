//! The tags of ONIX for Books 3 that are read here: reference names, and short tags that stand for them.
//!
//! Source: EDItEUR, ONIX for Books 3.1, format specification, where each element has both.

/// Each short tag with the reference name for which it stands, in the order of the letters.
const SHORT: [(&str, &str); 39] = [
    ("ONIXmessage", "ONIXMessage"),
    ("a001", "RecordReference"),
    ("a002", "NotificationType"),
    ("audiencerange", "AudienceRange"),
    ("b012", "ProductForm"),
    ("b030", "TitlePrefix"),
    ("b031", "TitleWithoutPrefix"),
    ("b074", "AudienceRangeQualifier"),
    ("b075", "AudienceRangePrecision"),
    ("b076", "AudienceRangeValue"),
    ("b202", "TitleType"),
    ("b203", "TitleText"),
    ("b221", "ProductIDType"),
    ("b244", "IDValue"),
    ("b252", "LanguageCode"),
    ("b253", "LanguageRole"),
    ("c094", "Measurement"),
    ("c095", "MeasureUnitCode"),
    ("collateraldetail", "CollateralDetail"),
    ("collection", "Collection"),
    ("contentdetail", "ContentDetail"),
    ("d104", "Text"),
    ("d107", "TextAuthor"),
    ("descriptivedetail", "DescriptiveDetail"),
    ("header", "Header"),
    ("language", "Language"),
    ("measure", "Measure"),
    ("product", "Product"),
    ("productidentifier", "ProductIdentifier"),
    ("productpart", "ProductPart"),
    ("relatedmaterial", "RelatedMaterial"),
    ("textcontent", "TextContent"),
    ("titledetail", "TitleDetail"),
    ("titleelement", "TitleElement"),
    ("x315", "MeasureType"),
    ("x409", "TitleElementLevel"),
    ("x426", "TextType"),
    ("x427", "ContentAudience"),
    ("x428", "SourceTitle"),
];

/// The reference name for which a short tag stands; any other tag is its own name.
pub(super) fn reference_name(tag: &str) -> &str {
    SHORT.binary_search_by_key(&tag, |(short, _)| short).map_or(tag, |at| SHORT[at].1)
}

#[cfg(test)]
mod tests {
    use super::{SHORT, reference_name};

    #[test]
    fn every_short_tag_is_found_and_other_tags_are_their_own_names() {
        assert!(SHORT.is_sorted_by_key(|(short, _)| *short));
        assert!(SHORT.iter().all(|(short, long)| reference_name(short) == *long));
        assert_eq!(reference_name("em"), "em");
    }
}
